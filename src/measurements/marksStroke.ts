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
  const { along, across, alongScale, acrossScale } = view;
  const widest = Math.max(3, (widestShare * Math.max(along * alongScale, across * acrossScale)) / acrossScale);
  runs.read(view, step, widest);
  const from = busiestBand(across, Math.max(4, 0.045 * along));
  if (from === null) return null;
  const { places, middles, widths, chosen } = runs;
  let count = 0;
  for (let i = 0; i < runs.count; i++) if (middles[i] >= from.low && middles[i] <= from.high) chosen[count++] = i;
  for (let pass = 0; pass < 6; pass++) {
    const line = fitLine(count);
    if (line === null) return null;
    const weight = runs.medianWidth(count, widest);
    const reach = pass < 2 ? Math.max(2, 0.02 * along) : 1.6;
    const unequal = Math.max(pass < 2 ? 3 : 1.6, 0.15 * weight);
    let next = 0;
    let isSame = pass > 2;
    for (let i = 0; i < runs.count; i++) {
      const off = middles[i] - line.offset - line.slope * places[i];
      if (Math.abs(off) > reach || Math.abs(widths[i] - weight) > unequal) continue;
      if (next >= count || chosen[next] !== i) isSame = false;
      chosen[next++] = i;
    }
    // Those that fit this line give it once more.
    if (isSame && next === count) break;
    count = next;
  }
  const line = fitLine(count);
  if (line === null || count * step < fewestSeenShare * along) return null;
  if (Math.abs((line.slope * acrossScale) / alongScale) > steepestSlope) return null;
  let sum = 0;
  for (let k = 0; k < count; k++) sum += widths[chosen[k]];
  return {
    ...line,
    weightPx: sum / count,
    first: Math.floor(places[chosen[0]]),
    last: Math.floor(places[chosen[count - 1]]),
    seen: count,
  };
}

/** Runs of ink across a window, and those chosen of them; one of these serves all windows. */
class InkRuns {
  count = 0;
  places = new Float64Array(1024);
  middles = new Float64Array(1024);
  widths = new Int32Array(1024);
  /** Indices of runs, in order. */
  chosen = new Int32Array(1024);
  #ofWidth = new Int32Array(64);

  /** Takes the runs no wider than that of every `step`-th line. */
  read({ ink, along, across, alongStride, acrossStride }: StrokeView, step: number, widest: number): void {
    this.count = 0;
    const end = across * acrossStride;
    for (let a = 0; a < along; a += step) {
      this.#makeRoom(this.count + across);
      const base = a * alongStride;
      for (let at = 0, c = 0; at < end; at += acrossStride, c++) {
        if (ink[base + at] === 0) continue;
        const start = c;
        for (; at < end && ink[base + at] === 1; at += acrossStride) c++;
        if (c - start > widest) continue;
        this.places[this.count] = a + 0.5;
        this.middles[this.count] = (start + c) / 2;
        this.widths[this.count++] = c - start;
      }
    }
  }

  #makeRoom(count: number): void {
    if (count <= this.places.length) return;
    const size = 2 * count;
    const larger = <T extends Float64Array | Int32Array>(of: T, into: T): T => {
      into.set(of);
      return into;
    };
    this.places = larger(this.places, new Float64Array(size));
    this.middles = larger(this.middles, new Float64Array(size));
    this.widths = larger(this.widths, new Int32Array(size));
    this.chosen = new Int32Array(size);
  }

  /** The middle one of the widths of so many runs chosen, the upper of two. */
  medianWidth(count: number, widest: number): number {
    if (this.#ofWidth.length <= widest) this.#ofWidth = new Int32Array(2 * Math.ceil(widest));
    const ofWidth = this.#ofWidth.fill(0, 0, Math.floor(widest) + 1);
    for (let k = 0; k < count; k++) ofWidth[this.widths[this.chosen[k]]]++;
    let width = 0;
    for (let left = (count >> 1) + 1 - ofWidth[0]; left > 0; left -= ofWidth[width]) width++;
    return width;
  }
}

const runs = new InkRuns();

function busiestBand(across: number, bandPx: number): { low: number; high: number } | null {
  const { places, middles } = runs;
  const counts = new Int32Array(across + 1);
  const lastPlace = new Float64Array(across + 1).fill(-1);
  for (let i = 0; i < runs.count; i++) {
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

/** The line through the middles of so many runs chosen. */
function fitLine(count: number): { offset: number; slope: number } | null {
  if (count < 4) return null;
  const { places, middles, chosen } = runs;
  let meanPlace = 0;
  let meanMiddle = 0;
  for (let k = 0; k < count; k++) {
    meanPlace += places[chosen[k]];
    meanMiddle += middles[chosen[k]];
  }
  meanPlace /= count;
  meanMiddle /= count;
  let spread = 0;
  let together = 0;
  for (let k = 0; k < count; k++) {
    const off = places[chosen[k]] - meanPlace;
    spread += off * off;
    together += off * (middles[chosen[k]] - meanMiddle);
  }
  const slope = spread === 0 ? 0 : together / spread;
  return { offset: meanMiddle - slope * meanPlace, slope };
}
