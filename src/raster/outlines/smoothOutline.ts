/** Sides on either side of one that count for its place, and for its direction. */
export const smoothSides = 4;
const chordSides = 6;
const cornerMarginSides = 5;
const cosineOf40Deg = 0.7660444431189781;
const squaredCornerCosine = cosineOf40Deg * cosineOf40Deg;

/** The place in a list of `n` sides of one that may lie past either end. */
export function sideAt(i: number, n: number, closed: boolean): number {
  if (i < 0) return closed ? i + n : 0;
  return i < n ? i : closed ? i - n : n - 1;
}

/**
 * Running mean over `2·smoothSides + 1` sides (shorter at the ends of an open piece).
 *
 * @param places of `n` sides along columns or rows, in pixels
 * @param out the same, smoothed, in mm
 */
export function smooth(places: Float64Array, n: number, closed: boolean, pitchMm: number, out: Float64Array): void {
  const width = 2 * smoothSides + 1;
  let sum = 0;
  const from = closed ? -smoothSides : 0;
  for (let i = from; i < from + width; i++) sum += places[i < 0 ? i + n : i];
  const end = closed ? n : n - smoothSides;
  for (let i = closed ? 0 : smoothSides; i < end; i++) {
    out[i] = (sum * pitchMm) / width;
    const coming = i + smoothSides + 1;
    const leaving = i - smoothSides;
    sum += places[coming < n ? coming : coming - n] - places[leaving < 0 ? leaving + n : leaving];
  }
  if (closed) return;
  for (let reach = 0; reach < smoothSides; reach++) {
    const last = n - 1 - reach;
    out[reach] = (sumAround(places, reach, reach) * pitchMm) / (2 * reach + 1);
    out[last] = (sumAround(places, last, reach) * pitchMm) / (2 * reach + 1);
  }
}

function sumAround(places: Float64Array, middle: number, reach: number): number {
  let sum = 0;
  for (let i = middle - reach; i <= middle + reach; i++) sum += places[i];
  return sum;
}

/**
 * A running mean over an arc of half length h draws a circle of radius R in by h²/6R: grows a small outline back by
 * that, about its middle, with the R of a circle as long.
 */
export function undoShrinking(xs: Float64Array, ys: Float64Array, n: number): void {
  let lengthMm = 0;
  let middleX = 0;
  let middleY = 0;
  for (let i = 0; i < n; i++) {
    const next = i + 1 < n ? i + 1 : 0;
    const dx = xs[next] - xs[i];
    const dy = ys[next] - ys[i];
    lengthMm += Math.sqrt(dx * dx + dy * dy);
    middleX += xs[i] / n;
    middleY += ys[i] / n;
  }
  const radiusMm = lengthMm / (2 * Math.PI);
  const halfArcMm = ((smoothSides + 0.5) * lengthMm) / n;
  const grow = 1 + (halfArcMm * halfArcMm) / (6 * radiusMm * radiusMm);
  for (let i = 0; i < n; i++) {
    xs[i] = middleX + grow * (xs[i] - middleX);
    ys[i] = middleY + grow * (ys[i] - middleY);
  }
}

/** Marks (1) the sides at which the outline turns by more than 40° from chord to chord, and those beside them. */
export function markCorners(xs: Float64Array, ys: Float64Array, n: number, closed: boolean, corners: Uint8Array): void {
  corners.fill(0, 0, n);
  const end = closed ? n : n - chordSides;
  for (let i = closed ? 0 : chordSides; i < end; i++) {
    const before = i < chordSides ? i - chordSides + n : i - chordSides;
    const after = i + chordSides < n ? i + chordSides : i + chordSides - n;
    const ax = xs[i] - xs[before];
    const ay = ys[i] - ys[before];
    const bx = xs[after] - xs[i];
    const by = ys[after] - ys[i];
    const dot = ax * bx + ay * by;
    if (dot >= 0 && dot * dot >= squaredCornerCosine * (ax * ax + ay * ay) * (bx * bx + by * by)) continue;
    for (let j = i - cornerMarginSides; j <= i + cornerMarginSides; j++) corners[sideAt(j, n, closed)] = 1;
  }
}
