/*
 * The outline at hand: its sides smoothed, and a reading at every second of them.
 */
import { own } from './field';
import { at, isNone, put, reserve, roomFor } from './memory';
import { read, stripMm } from './reading';
import { markCorners, sideAt, smooth, smoothSides, undoShrinking } from './smoothing';

/** Outlines of fewer pixel sides than this shrink noticeably when smoothed. */
const smallOutline: i32 = 240;
const coarseStride: i32 = 4;

/** 1: a tile that one of the boxes touches; nothing is read in a box (left, top, right, bottom, mm). */
let boxTiles: usize = 0;
let boxes: usize = 0;
let boxCount: i32 = 0;

/** Places of the sides in mm, and which of them are at a corner (a byte each). */
export let xs: usize = 0;
export let ys: usize = 0;
let corners: usize = 0;
/** Of every sample, which is every second side, the outward normal and the step to the next. */
export let normalX: usize = 0;
export let normalY: usize = 0;
export let steps: usize = 0;
/** The readings: overlaps in mm, gaps negative; widths of strips that lie wholly on the other ink. NaN: none. */
export let overlaps: usize = 0;
export let strips: usize = 0;
export let samples: i32 = 0;
export let readings: i32 = 0;
export let stripCount: i32 = 0;
/** First byte behind the lists. */
export let samplesEnd: usize = 0;

export function setSamples(boxTileFlags: usize, boxesAt: usize, countOfBoxes: i32): void {
  boxTiles = boxTileFlags;
  boxes = boxesAt;
  boxCount = countOfBoxes;
}

/** Takes an outline of `n` sides: twice the column and row of each one's middle. The lists lie behind it. */
export function takeOutline(sides: usize, n: i32, closed: bool): void {
  layOut((sides + roomFor(n) + 15) & ~15, n);
  smooth(sides, n, closed, own.pitchXMm, xs);
  smooth(sides + 4, n, closed, own.pitchYMm, ys);
  if (closed && n < smallOutline) undoShrinking(xs, ys, n);
  markCorners(xs, ys, n, closed, corners);
  takeSamples(n, closed);
  takeReadings(closed);
}

// @ts-ignore: decorator
@inline
export function isCorner(s: i32): bool {
  return load<u8>(corners + (s << 1)) == 1;
}

/** Area within the outline, closed: positive where the ink lies inside it, negative for an opening in the ink. */
export function enclosedMm2(): f64 {
  let twice: f64 = 0;
  for (let s = 0; s < samples; s++) {
    const next = s + 1 < samples ? s + 1 : 0;
    twice += at(xs, s << 1) * at(ys, next << 1) - at(xs, next << 1) * at(ys, s << 1);
  }
  return twice / 2;
}

function layOut(from: usize, n: i32): void {
  samples = n >> 1;
  xs = from;
  ys = xs + roomFor(n);
  normalX = ys + roomFor(n);
  normalY = normalX + roomFor(samples);
  steps = normalY + roomFor(samples);
  overlaps = steps + roomFor(samples);
  strips = overlaps + roomFor(samples);
  corners = strips + roomFor(samples);
  samplesEnd = corners + n;
  reserve(samplesEnd);
}

function takeSamples(n: i32, closed: bool): void {
  for (let s = 0; s < samples; s++) {
    const i = s << 1;
    const before = sideAt(i - smoothSides, n, closed);
    const after = sideAt(i + smoothSides, n, closed);
    const dx = at(xs, after) - at(xs, before);
    const dy = at(ys, after) - at(ys, before);
    const length = Math.sqrt(dx * dx + dy * dy);
    const chord = length == 0 ? 1 : length;
    const next = s == samples - 1 ? (closed ? 0 : n - 1) : i + 2;
    const stepX = at(xs, next) - at(xs, i);
    const stepY = at(ys, next) - at(ys, i);
    put(normalX, s, dy / chord);
    put(normalY, s, -dx / chord);
    put(steps, s, Math.sqrt(stepX * stepX + stepY * stepY));
  }
}

/**
 * Takes every fourth reading first, and of those between only what stands beside one: fewer than four readings in a
 * row are no boundary.
 */
function takeReadings(closed: bool): void {
  readings = 0;
  stripCount = 0;
  for (let s = 0; s < samples; s += coarseStride) takeReading(s);
  for (let s = 0; s < samples; s += coarseStride) {
    const next = s + coarseStride;
    const beside = isFaced(s) || (next < samples ? isFaced(next) : closed && isFaced(0));
    for (let between = s + 1; between < min(next, samples); between++) {
      if (beside) takeReading(between);
      else leaveOut(between);
    }
  }
}

function takeReading(s: i32): void {
  const x = at(xs, s << 1);
  const y = at(ys, s << 1);
  if (!countsAt(x, y)) {
    leaveOut(s);
    return;
  }
  const overlap = read(x, y, at(normalX, s), at(normalY, s));
  put(overlaps, s, overlap);
  put(strips, s, stripMm);
  if (!isNone(overlap)) readings++;
  if (!isNone(stripMm)) stripCount++;
}

function leaveOut(s: i32): void {
  put(overlaps, s, NaN);
  put(strips, s, NaN);
}

function isFaced(s: i32): bool {
  return !isNone(at(overlaps, s)) || !isNone(at(strips, s));
}

/** False where an outline must not be measured: in a box, or where art is cut by the border of the film. */
function countsAt(x: f64, y: f64): bool {
  const column = <i32>Math.floor(x / own.pitchXMm);
  const row = <i32>Math.floor(y / own.pitchYMm);
  if (column < 1 || row < 1 || column >= own.widthPx - 1 || row >= own.heightPx - 1) return false;
  if (boxCount == 0 || load<u8>(boxTiles + (row >> 5) * own.wordsPerRow + (column >> 5)) == 0) return true;
  for (let k = 0; k < boxCount; k++) {
    const box = boxes + (<usize>k << 5);
    const isAcross = x >= load<f64>(box) && x <= load<f64>(box, 16);
    if (isAcross && y >= load<f64>(box, 8) && y <= load<f64>(box, 24)) return false;
  }
  return true;
}
