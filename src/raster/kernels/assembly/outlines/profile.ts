import { own } from './field';
import { reserve } from './outlines';
import { read, setReading, stripMm } from './reading';

/** Outlines of fewer pixel sides are specks. */
export const shortestOutline: i32 = 12;
const smoothSides: i32 = 4;
const chordSides: i32 = 6;
const cornerMarginSides: i32 = 5;
/** The square of the cosine of 40 degrees. */
const squaredCornerCosine: f64 = 0.7660444431189781 * 0.7660444431189781;
/** Outlines of fewer pixel sides than this shrink noticeably when smoothed. */
const smallOutline: i32 = 240;

let header: usize = 0;
/** 1: a tile that one of the boxes touches; nothing is read in a box (left, top, right, bottom, mm). */
let boxTiles: usize = 0;
let boxes: usize = 0;
let boxCount: i32 = 0;

export function setProfile(
  headerAt: usize,
  boxTileFlags: usize,
  boxesAt: usize,
  countOfBoxes: i32,
  reachMm: f64,
  seekStrips: bool,
  near: usize,
  nearWordsPerRow: i32,
  nearWidth: i32,
  nearHeight: i32,
  nearPerMmX: f64,
  nearPerMmY: f64,
): void {
  header = headerAt;
  boxTiles = boxTileFlags;
  boxes = boxesAt;
  boxCount = countOfBoxes;
  setReading(reachMm, seekStrips, near, nearWordsPerRow, nearWidth, nearHeight, nearPerMmX, nearPerMmY);
}

/**
 * Smooths an outline (twice the column and row of each side's middle), marks its corners and takes a reading at every
 * second side. Header: samples, readings, strips, closed, then the addresses of x and y of every side (mm), and of each
 * sample's outward normal (x, y), step to the next (mm), corner (a byte), overlap and strip (mm).
 */
export function profile(sides: usize, n: i32, closed: bool): void {
  const samples = n >> 1;
  const xs = (sides + (<usize>n << 3) + 15) & ~15;
  const ys = xs + (<usize>n << 3);
  const normalX = ys + (<usize>n << 3);
  const normalY = normalX + (<usize>samples << 3);
  const steps = normalY + (<usize>samples << 3);
  const overlaps = steps + (<usize>samples << 3);
  const strips = overlaps + (<usize>samples << 3);
  const corners = strips + (<usize>samples << 3);
  const sampleCorners = corners + n;
  reserve(sampleCorners + samples);
  smooth(sides, n, closed, own.pitchXMm, xs);
  smooth(sides + 4, n, closed, own.pitchYMm, ys);
  if (closed && n < smallOutline) undoShrinking(xs, ys, n);
  markCorners(xs, ys, n, closed, corners);
  let readings = 0;
  let stripCount = 0;
  for (let s = 0; s < samples; s++) {
    const i = s << 1;
    const before = sideAt(i - smoothSides, n, closed);
    const after = sideAt(i + smoothSides, n, closed);
    const x = at(xs, i);
    const y = at(ys, i);
    const dx = at(xs, after) - at(xs, before);
    const dy = at(ys, after) - at(ys, before);
    const length = Math.sqrt(dx * dx + dy * dy);
    const chord = length == 0 ? 1 : length;
    const nx = dy / chord;
    const ny = -dx / chord;
    const next = s == samples - 1 ? (closed ? 0 : n - 1) : i + 2;
    const stepX = at(xs, next) - x;
    const stepY = at(ys, next) - y;
    const offset = <usize>s << 3;
    store<f64>(normalX + offset, nx);
    store<f64>(normalY + offset, ny);
    store<f64>(steps + offset, Math.sqrt(stepX * stepX + stepY * stepY));
    store<u8>(sampleCorners + s, load<u8>(corners + i));
    const counts = countsAt(x, y);
    const overlap = counts ? read(x, y, nx, ny) : NaN;
    const strip = counts ? stripMm : NaN;
    store<f64>(overlaps + offset, overlap);
    store<f64>(strips + offset, strip);
    if (overlap == overlap) readings++;
    if (strip == strip) stripCount++;
  }
  store<i32>(header, samples);
  store<i32>(header, readings, 4);
  store<i32>(header, stripCount, 8);
  store<i32>(header, closed ? 1 : 0, 12);
  store<usize>(header, xs, 16);
  store<usize>(header, ys, 20);
  store<usize>(header, normalX, 24);
  store<usize>(header, normalY, 28);
  store<usize>(header, steps, 32);
  store<usize>(header, sampleCorners, 36);
  store<usize>(header, overlaps, 40);
  store<usize>(header, strips, 44);
}

// @ts-ignore: decorator
@inline
function at(values: usize, i: i32): f64 {
  return load<f64>(values + (<usize>i << 3));
}

// @ts-ignore: decorator
@inline
function half(sides: usize, i: i32): f64 {
  return 0.5 * <f64>load<i32>(sides + (<usize>i << 3));
}

function sideAt(i: i32, n: i32, closed: bool): i32 {
  if (i < 0) return closed ? i + n : 0;
  return i < n ? i : closed ? i - n : n - 1;
}

/** Running mean over `2·smoothSides + 1` sides (shorter at the ends of an open piece), in mm. */
function smooth(sides: usize, n: i32, closed: bool, scale: f64, out: usize): void {
  const width: f64 = <f64>(2 * smoothSides + 1);
  let sum: f64 = 0;
  const from = closed ? -smoothSides : 0;
  for (let i = from; i <= from + 2 * smoothSides; i++) sum += half(sides, i < 0 ? i + n : i);
  const first = closed ? 0 : smoothSides;
  const end = closed ? n : n - smoothSides;
  for (let i = first; i < end; i++) {
    store<f64>(out + (<usize>i << 3), (sum * scale) / width);
    const coming = i + smoothSides + 1;
    const leaving = i - smoothSides;
    sum += half(sides, coming < n ? coming : coming - n) - half(sides, leaving < 0 ? leaving + n : leaving);
  }
  if (closed) return;
  for (let reach = 0; reach < smoothSides; reach++) {
    const last = n - 1 - reach;
    store<f64>(out + (<usize>reach << 3), (sumAround(sides, reach, reach) * scale) / <f64>(2 * reach + 1));
    store<f64>(out + (<usize>last << 3), (sumAround(sides, last, reach) * scale) / <f64>(2 * reach + 1));
  }
}

function sumAround(sides: usize, middle: i32, reach: i32): f64 {
  let sum: f64 = 0;
  for (let i = middle - reach; i <= middle + reach; i++) sum += half(sides, i);
  return sum;
}

/**
 * A running mean over an arc of half length h draws a circle of radius R in by h²/6R: grows a small outline back by
 * that, about its middle, with the R of a circle as long.
 */
function undoShrinking(xs: usize, ys: usize, n: i32): void {
  let lengthMm: f64 = 0;
  let middleX: f64 = 0;
  let middleY: f64 = 0;
  for (let i = 0; i < n; i++) {
    const next = i + 1 < n ? i + 1 : 0;
    const dx = at(xs, next) - at(xs, i);
    const dy = at(ys, next) - at(ys, i);
    lengthMm += Math.sqrt(dx * dx + dy * dy);
    middleX += at(xs, i) / <f64>n;
    middleY += at(ys, i) / <f64>n;
  }
  const radiusMm = lengthMm / (2 * Math.PI);
  const halfArcMm = ((<f64>smoothSides + 0.5) * lengthMm) / <f64>n;
  const grow = 1 + (halfArcMm * halfArcMm) / (6 * radiusMm * radiusMm);
  for (let i = 0; i < n; i++) {
    const place = <usize>i << 3;
    store<f64>(xs + place, middleX + grow * (load<f64>(xs + place) - middleX));
    store<f64>(ys + place, middleY + grow * (load<f64>(ys + place) - middleY));
  }
}

/** Marks the sides at which the outline turns by more than 40° from chord to chord, and those beside them. */
function markCorners(xs: usize, ys: usize, n: i32, closed: bool, corners: usize): void {
  memory.fill(corners, 0, n);
  const end = closed ? n : n - chordSides;
  for (let i = closed ? 0 : chordSides; i < end; i++) {
    const before = i < chordSides ? i - chordSides + n : i - chordSides;
    const after = i + chordSides < n ? i + chordSides : i + chordSides - n;
    const ax = at(xs, i) - at(xs, before);
    const ay = at(ys, i) - at(ys, before);
    const bx = at(xs, after) - at(xs, i);
    const by = at(ys, after) - at(ys, i);
    const dot = ax * bx + ay * by;
    if (dot >= 0 && dot * dot >= squaredCornerCosine * (ax * ax + ay * ay) * (bx * bx + by * by)) continue;
    for (let j = i - cornerMarginSides; j <= i + cornerMarginSides; j++) store<u8>(corners + sideAt(j, n, closed), 1);
  }
}

/** False where an outline must not be measured: in a box, or where art is cut by the border of the film. */
function countsAt(x: f64, y: f64): bool {
  const column = <i32>Math.floor(x * own.perMmX);
  const row = <i32>Math.floor(y * own.perMmY);
  if (column < 1 || row < 1 || column >= own.widthPx - 1 || row >= own.heightPx - 1) return false;
  if (boxCount == 0 || load<u8>(boxTiles + (row >> 5) * own.wordsPerRow + (column >> 5)) == 0) return true;
  for (let k = 0; k < boxCount; k++) {
    const box = boxes + (<usize>k << 5);
    if (x >= load<f64>(box) && y >= load<f64>(box, 8) && x <= load<f64>(box, 16) && y <= load<f64>(box, 24)) return false;
  }
  return true;
}
