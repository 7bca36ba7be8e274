import type { Stretch } from '../facedOutline.ts';
import { BridgedReadings } from './bridgedReadings.ts';
import type { OutlineReadings } from './outlineReadings.ts';

const stretchMm = 0.75;
const shortestRunMm = 0.3;
/** Share of a small outline that must face the other ink for it to be read as a whole. */
const wholeShare = 0.6;
/** Readings that differ by no more, in mm, are alike. */
const rounding = 1e-9;

/** Samples from one to before another, with one reading; past the last sample they go on at the first. */
interface Cut {
  readonly begin: number;
  readonly end: number;
  readonly lengthMm: number;
  overlapMm: number;
}

/** Cuts the readings along outlines into short pieces with one reading each. */
export class StretchCutter {
  /** How many samples the stretches of the last outline hold. */
  heldSamples = 0;
  private readonly reachMm: number;
  private readonly pitchMm: number;
  private readonly bridged: BridgedReadings;
  /** Lengths of the steps of a run on the line half way between the two edges; readings to be put in order. */
  private midlineSteps = new Float64Array(0);
  private ordered = new Float64Array(0);
  private run = 0;

  constructor(reachMm: number, pitchMm: number) {
    this.reachMm = reachMm;
    this.pitchMm = pitchMm;
    this.bridged = new BridgedReadings(this.reachMm, pitchMm);
  }

  /**
   * Cuts an outline. Corners take their neighbours' reading. One so small that corners leave nothing of it is read as a
   * whole, by the smaller half of its readings.
   */
  cut(readings: OutlineReadings): Stretch[] {
    this.heldSamples = 0;
    if (readings.overlapCount === 0) return [];
    this.reserve(readings.length);
    this.bridged.take(readings);
    const stretches = this.cutRuns(readings);
    const { length, closed, overlapCount } = readings;
    if (stretches.length > 0 || !closed || overlapCount < wholeShare * length) return stretches;
    const overlapMm = this.wholeReading(readings);
    if (Number.isNaN(overlapMm)) return [];
    this.bridged.takeWhole(readings, overlapMm);
    return this.cutRuns(readings);
  }

  private reserve(length: number): void {
    if (this.ordered.length >= length) return;
    this.midlineSteps = new Float64Array(2 * length);
    this.ordered = new Float64Array(2 * length);
  }

  private cutRuns(readings: OutlineReadings): Stretch[] {
    const { length, closed } = readings;
    const { filled } = this.bridged;
    const stretches: Stretch[] = [];
    let start = 0;
    if (closed) while (start < length && !Number.isNaN(filled[start])) start++;
    if (start === length) start = 0;
    const end = closed ? start + length : length;
    for (let i = start; i < end; ) {
      let last = i;
      while (last < end && !Number.isNaN(filled[last % length])) last++;
      if (last > i && this.appendRun(readings, i, last, stretches)) {
        this.run++;
        this.heldSamples += last - i;
      }
      i = Math.max(last, i + 1);
    }
    return stretches;
  }

  private appendRun(readings: OutlineReadings, from: number, to: number, stretches: Stretch[]): boolean {
    const runMm = this.takeMidlineSteps(readings, from, to);
    const isWhole = readings.closed && to - from === readings.length;
    if (!isWhole && runMm < Math.max(shortestRunMm, 8 * this.pitchMm)) return false;
    const cuts = this.cutRun(readings.length, from, to, runMm);
    fillFromNeighbours(cuts);
    for (const cut of cuts) {
      if (Number.isNaN(cut.overlapMm)) {
        for (let i = cut.begin; i < cut.end; i++) {
          this.ordered[i - cut.begin] = this.bridged.filled[i % readings.length];
        }
        cut.overlapMm = middleMean(this.ordered, cut.end - cut.begin);
      }
      stretches.push(stretchOf(readings, cut, this.run));
    }
    return true;
  }

  private cutRun(length: number, from: number, to: number, runMm: number): Cut[] {
    const { midlineSteps, ordered } = this;
    const count = Math.max(1, Math.round(runMm / stretchMm));
    const cuts: Cut[] = [];
    let here = from;
    let walkedMm = 0;
    for (let k = 1; k <= count; k++) {
      const begin = here;
      const beginMm = walkedMm;
      let found = 0;
      while (here < to && (k === count || walkedMm < (runMm * k) / count)) {
        walkedMm += midlineSteps[here - from];
        const reading = this.bridged.trusted[here % length];
        if (!Number.isNaN(reading)) ordered[found++] = reading;
        here++;
      }
      if (here === begin) continue;
      const isEnough = found >= 3 && 4 * found >= here - begin;
      const overlapMm = isEnough ? middleMean(ordered, found) : Number.NaN;
      cuts.push({ begin, end: here, lengthMm: walkedMm - beginMm, overlapMm });
    }
    return cuts;
  }

  /** Takes the lengths of the steps of a run on the line half way between the two edges; answers their sum. */
  private takeMidlineSteps(readings: OutlineReadings, from: number, to: number): number {
    const { length, closed, stepMm, normalX, normalY } = readings;
    let runMm = 0;
    for (let k = from; k < to; k++) {
      const i = k % length;
      const next = i + 1 < length ? i + 1 : closed ? 0 : i;
      const cross = normalX[i] * normalY[next] - normalY[i] * normalX[next];
      const dot = normalX[i] * normalX[next] + normalY[i] * normalY[next];
      const turn = Math.atan2(cross, dot);
      const midlineMm = Math.max(0, stepMm[i] - (turn * this.bridged.filled[i]) / 2);
      this.midlineSteps[k - from] = midlineMm;
      runMm += midlineMm;
    }
    return runMm;
  }

  /** One reading for all of a small outline: the middle of the smaller half; NaN when even that half is not alike. */
  private wholeReading({ overlapMm, length }: OutlineReadings): number {
    const readings = overlapMm.subarray(0, length).filter((reading) => !Number.isNaN(reading));
    const most = readings.map(Math.abs).sort()[readings.length >> 1] + rounding;
    const smaller = readings.filter((reading) => Math.abs(reading) <= most);
    const middleMm = middleMean(smaller, smaller.length);
    const spreadMm = smaller[smaller.length - 1] - smaller[0];
    return spreadMm > Math.max(2 * this.pitchMm, 0.3 * Math.abs(middleMm)) ? Number.NaN : middleMm;
  }
}

/** A stretch that is nearly all corner takes the reading of the one before it in its run, else of the one after. */
function fillFromNeighbours(cuts: readonly Cut[]): void {
  for (let k = 1; k < cuts.length; k++) {
    if (Number.isNaN(cuts[k].overlapMm)) cuts[k].overlapMm = cuts[k - 1].overlapMm;
  }
  for (let k = cuts.length - 2; k >= 0; k--) {
    if (Number.isNaN(cuts[k].overlapMm)) cuts[k].overlapMm = cuts[k + 1].overlapMm;
  }
}

/** Mean of the middle half of the first `count` readings, which are put in order for it. */
function middleMean(readings: Float64Array, count: number): number {
  readings.subarray(0, count).sort();
  const from = count >> 2;
  let sum = 0;
  for (let i = from; i < count - from; i++) sum += readings[i];
  return sum / (count - 2 * from);
}

function stretchOf(readings: OutlineReadings, { begin, end, lengthMm, overlapMm }: Cut, run: number): Stretch {
  const { length, xMm, yMm, normalX, normalY } = readings;
  let leftMm = Infinity;
  let topMm = Infinity;
  let rightMm = -Infinity;
  let bottomMm = -Infinity;
  for (let k = begin; k < end; k++) {
    const i = k % length;
    const farX = xMm[i] - overlapMm * normalX[i];
    const farY = yMm[i] - overlapMm * normalY[i];
    leftMm = Math.min(leftMm, xMm[i], farX);
    rightMm = Math.max(rightMm, xMm[i], farX);
    topMm = Math.min(topMm, yMm[i], farY);
    bottomMm = Math.max(bottomMm, yMm[i], farY);
  }
  const middle = ((begin + end) >> 1) % length;
  return {
    overlapMm,
    lengthMm,
    xMm: xMm[middle] - (overlapMm / 2) * normalX[middle],
    yMm: yMm[middle] - (overlapMm / 2) * normalY[middle],
    leftMm,
    topMm,
    rightMm,
    bottomMm,
    run,
  };
}
