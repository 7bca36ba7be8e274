/**
 * A straight stroke that runs nearly along one axis of a window. Along the stroke `a` counts pixels, across it `c`; its
 * middle lies at c = offset + slope · a, in pixel-edge coordinates (a pixel's middle at +0.5).
 */
export interface Stroke {
  readonly offset: number;
  readonly slope: number;
  readonly weightPx: number;
  /** First and last pixel along it that show it alone, ends included. */
  readonly first: number;
  readonly last: number;
  /** How many pixels along it show it alone. */
  readonly seen: number;
}

const widestShare = 0.13;
const steepestSlope = Math.tan((2.5 * Math.PI) / 180);
const fewestSeenShare = 0.2;

/** A window as read by a stroke: pixels along and across it, where they lie, and their sides in any one unit. */
export interface StrokeView {
  readonly ink: Uint8Array;
  readonly along: number;
  readonly across: number;
  readonly alongStride: number;
  readonly acrossStride: number;
  readonly alongScale: number;
  readonly acrossScale: number;
}

/** The stroke that the most lines across the window agree on, or null; every `step`-th line is looked at. */
export function findStroke(view: StrokeView, step = 1): Stroke | null {
  const { ink, along, across, alongStride, acrossStride, alongScale, acrossScale } = view;
  const widest = Math.max(3, (widestShare * Math.max(along * alongScale, across * acrossScale)) / acrossScale);
  const places: number[] = [];
  const middles: number[] = [];
  const widths: number[] = [];
  for (let a = 0; a < along; a += step) {
    const base = a * alongStride;
    for (let c = 0; c < across; ) {
      if (ink[base + c * acrossStride] === 0) {
        c++;
        continue;
      }
      const start = c;
      while (c < across && ink[base + c * acrossStride] === 1) c++;
      if (c - start > widest) continue;
      places.push(a + 0.5);
      middles.push((start + c) / 2);
      widths.push(c - start);
    }
  }
  const from = busiestBand(places, middles, across, Math.max(4, 0.045 * along));
  if (from === null) return null;
  let chosen: number[] = [];
  for (let i = 0; i < places.length; i++) if (middles[i] >= from.low && middles[i] <= from.high) chosen.push(i);
  for (let pass = 0; pass < 6; pass++) {
    const line = fitLine(places, middles, chosen);
    if (line === null) return null;
    const weight = medianOf(chosen.map((i) => widths[i]));
    const reach = pass < 2 ? Math.max(2, 0.02 * along) : 1.6;
    const unequal = Math.max(pass < 2 ? 3 : 1.6, 0.15 * weight);
    const next: number[] = [];
    for (let i = 0; i < places.length; i++) {
      const off = middles[i] - line.offset - line.slope * places[i];
      if (Math.abs(off) <= reach && Math.abs(widths[i] - weight) <= unequal) next.push(i);
    }
    chosen = next;
  }
  const line = fitLine(places, middles, chosen);
  if (line === null || chosen.length * step < fewestSeenShare * along) return null;
  if (Math.abs((line.slope * acrossScale) / alongScale) > steepestSlope) return null;
  let sum = 0;
  for (const i of chosen) sum += widths[i];
  return {
    ...line,
    weightPx: sum / chosen.length,
    first: Math.floor(places[chosen[0]]),
    last: Math.floor(places[chosen[chosen.length - 1]]),
    seen: chosen.length,
  };
}

function busiestBand(
  places: readonly number[],
  middles: readonly number[],
  across: number,
  bandPx: number,
): { low: number; high: number } | null {
  const counts = new Int32Array(across + 1);
  const lastPlace = new Float64Array(across + 1).fill(-1);
  for (let i = 0; i < places.length; i++) {
    const bin = Math.floor(middles[i]);
    if (lastPlace[bin] !== places[i]) counts[bin]++;
    lastPlace[bin] = places[i];
  }
  const span = Math.ceil(bandPx);
  let sum = 0;
  let best = 0;
  let bestHigh = -1;
  for (let bin = 0; bin <= across; bin++) {
    sum += counts[bin];
    if (bin >= span) sum -= counts[bin - span];
    if (sum > best) {
      best = sum;
      bestHigh = bin;
    }
  }
  return best === 0 ? null : { low: bestHigh - span + 1, high: bestHigh + 1 };
}

function fitLine(
  places: readonly number[],
  middles: readonly number[],
  chosen: readonly number[],
): { offset: number; slope: number } | null {
  const n = chosen.length;
  if (n < 4) return null;
  let meanPlace = 0;
  let meanMiddle = 0;
  for (const i of chosen) {
    meanPlace += places[i] / n;
    meanMiddle += middles[i] / n;
  }
  let spread = 0;
  let together = 0;
  for (const i of chosen) {
    spread += (places[i] - meanPlace) ** 2;
    together += (places[i] - meanPlace) * (middles[i] - meanMiddle);
  }
  const slope = spread === 0 ? 0 : together / spread;
  return { offset: meanMiddle - slope * meanPlace, slope };
}

function medianOf(values: number[]): number {
  return values.sort((a, b) => a - b)[values.length >> 1];
}
