/*
 * Outlines as a row of pixel sides, smoothed; closed when the last side meets the first.
 */
import { at, put } from './memory';

/** Sides on either side of one that count for its place, and for its direction. */
export const smoothSides: i32 = 4;
const chordSides: i32 = 6;
const cornerMarginSides: i32 = 5;
/** The square of the cosine of 40 degrees. */
const squaredCornerCosine: f64 = 0.7660444431189781 * 0.7660444431189781;

// @ts-ignore: decorator
@inline
function half(sides: usize, i: i32): f64 {
  return 0.5 * <f64>load<i32>(sides + (<usize>i << 3));
}

export function sideAt(i: i32, n: i32, closed: bool): i32 {
  if (i < 0) return closed ? i + n : 0;
  return i < n ? i : closed ? i - n : n - 1;
}

/** Running mean over `2·smoothSides + 1` sides (shorter at the ends of an open piece), in mm. */
export function smooth(sides: usize, n: i32, closed: bool, scale: f64, out: usize): void {
  const width: f64 = <f64>(2 * smoothSides + 1);
  let sum: f64 = 0;
  const from = closed ? -smoothSides : 0;
  for (let i = from; i <= from + 2 * smoothSides; i++) sum += half(sides, i < 0 ? i + n : i);
  const first = closed ? 0 : smoothSides;
  const end = closed ? n : n - smoothSides;
  for (let i = first; i < end; i++) {
    put(out, i, (sum * scale) / width);
    const coming = i + smoothSides + 1;
    const leaving = i - smoothSides;
    sum += half(sides, coming < n ? coming : coming - n) - half(sides, leaving < 0 ? leaving + n : leaving);
  }
  if (closed) return;
  for (let reach = 0; reach < smoothSides; reach++) {
    const last = n - 1 - reach;
    put(out, reach, (sumAround(sides, reach, reach) * scale) / <f64>(2 * reach + 1));
    put(out, last, (sumAround(sides, last, reach) * scale) / <f64>(2 * reach + 1));
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
export function undoShrinking(xs: usize, ys: usize, n: i32): void {
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
    put(xs, i, middleX + grow * (at(xs, i) - middleX));
    put(ys, i, middleY + grow * (at(ys, i) - middleY));
  }
}

/** Marks the sides at which the outline turns by more than 40° from chord to chord, and those beside them. */
export function markCorners(xs: usize, ys: usize, n: i32, closed: bool, corners: usize): void {
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
