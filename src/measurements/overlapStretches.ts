import { BridgedReadings } from './overlapBridges.ts';
import type { Profile } from './overlapProfile.ts';

/** A short piece of common boundary with one reading for all of it. */
export interface Stretch {
  readonly overlapMm: number;
  readonly lengthMm: number;
  /** Middle of the stretch, half way between the two edges. */
  readonly xMm: number;
  readonly yMm: number;
  readonly leftMm: number;
  readonly topMm: number;
  readonly rightMm: number;
  readonly bottomMm: number;
  /** Stretches of one unbroken piece of boundary follow one another and share this number. */
  readonly run: number;
}

const stretchMm = 0.75;
const shortestRunMm = 0.3;
/** Share of a small outline that must face the other ink for it to be read as a whole. */
const wholeShare = 0.6;

/** Cuts the readings along outlines into stretches, all gathered in one list. Corners take their neighbours' reading. */
export class StretchCutter {
  readonly stretches: Stretch[] = [];
  private readonly pitchMm: number;
  private readonly reachMm: number;
  private readonly readings = new BridgedReadings();
  private midlineStepMm = new Float64Array(0);
  private sorted = new Float64Array(0);
  private run = 0;

  constructor(pitchMm: number, reachMm: number) {
    this.pitchMm = pitchMm;
    this.reachMm = reachMm;
  }

  /**
   * Adds the stretches of one outline and answers how many of its samples they hold. An outline so small that corners
   * leave nothing of it is read as a whole, by the smaller half of its readings.
   */
  cut(profile: Profile): number {
    if (profile.readingCount === 0) return 0;
    this.readings.take(profile, this.reachMm, this.pitchMm);
    const samples = this.cutRuns(profile);
    if (samples > 0 || !profile.closed || profile.readingCount < wholeShare * profile.length) return samples;
    const overlapMm = wholeReading(profile, this.pitchMm);
    if (overlapMm === null) return 0;
    this.readings.takeWhole(profile, overlapMm);
    return this.cutRuns(profile);
  }

  private cutRuns(profile: Profile): number {
    const { length, closed } = profile;
    const { value } = this.readings;
    let samples = 0;
    let start = 0;
    if (closed) while (start < length && !Number.isNaN(value[start])) start++;
    if (start === length) start = 0;
    const end = closed ? start + length : length;
    for (let i = start; i < end; ) {
      if (Number.isNaN(value[i % length])) {
        i++;
        continue;
      }
      let last = i;
      while (last < end && !Number.isNaN(value[last % length])) last++;
      if (this.appendRun(profile, i, last)) {
        this.run++;
        samples += last - i;
      }
      i = last;
    }
    return samples;
  }

  private appendRun(profile: Profile, from: number, to: number): boolean {
    const { length, closed } = profile;
    const { trusted, value } = this.readings;
    const runMm = this.takeMidlineSteps(profile, from, to);
    const whole = closed && to - from === length;
    if (!whole && runMm < Math.max(shortestRunMm, 8 * this.pitchMm)) return false;
    const { sorted } = this;
    const count = Math.max(1, Math.round(runMm / stretchMm));
    const cuts: { begin: number; end: number; lengthMm: number; overlapMm: number }[] = [];
    let at = from;
    let walkedMm = 0;
    for (let k = 1; k <= count; k++) {
      const begin = at;
      const beginMm = walkedMm;
      let readings = 0;
      while (at < to && (k === count || walkedMm < (runMm * k) / count)) {
        const i = at % length;
        walkedMm += this.midlineStepMm[at - from];
        if (!Number.isNaN(trusted[i])) sorted[readings++] = trusted[i];
        at++;
      }
      if (at === begin) continue;
      const enough = readings >= Math.max(3, (at - begin) / 4);
      cuts.push({
        begin,
        end: at,
        lengthMm: walkedMm - beginMm,
        overlapMm: enough ? middleMean(sorted, readings) : Number.NaN,
      });
    }
    fillFromNeighbours(cuts);
    for (const cut of cuts) {
      if (Number.isNaN(cut.overlapMm)) {
        for (let i = cut.begin; i < cut.end; i++) sorted[i - cut.begin] = value[i % length];
        cut.overlapMm = middleMean(sorted, cut.end - cut.begin);
      }
      this.stretches.push(stretchOf(profile, cut.begin, cut.end, cut.overlapMm, cut.lengthMm, this.run));
    }
    return true;
  }

  /** Lengths of the steps of a run on the line half way between the two edges; answers their sum. */
  private takeMidlineSteps({ length, closed, stepMm, normalX, normalY }: Profile, from: number, to: number): number {
    const { value } = this.readings;
    if (this.midlineStepMm.length < to - from) {
      this.midlineStepMm = new Float64Array(2 * (to - from));
      this.sorted = new Float64Array(2 * (to - from));
    }
    let runMm = 0;
    for (let at = from; at < to; at++) {
      const i = at < length ? at : at - length;
      const next = i + 1 < length ? i + 1 : closed ? 0 : i;
      const cross = normalX[i] * normalY[next] - normalY[i] * normalX[next];
      const dot = normalX[i] * normalX[next] + normalY[i] * normalY[next];
      const turn = Math.atan2(cross, dot);
      const midlineMm = Math.max(0, stepMm[i] - (turn * value[i]) / 2);
      this.midlineStepMm[at - from] = midlineMm;
      runMm += midlineMm;
    }
    return runMm;
  }
}

/** One reading for all of a small outline: the middle of the smaller half; null when even that half is not alike. */
function wholeReading({ overlapMm, length }: Profile, pitchMm: number): number | null {
  const readings = overlapMm.subarray(0, length).filter((v) => !Number.isNaN(v));
  const most = readings.map(Math.abs).sort()[readings.length >> 1];
  const lower = readings.filter((v) => Math.abs(v) <= most).sort();
  const middleMm = middleMean(lower, lower.length);
  const spreadMm = Math.abs(lower[lower.length - 1] - lower[0]);
  return spreadMm > Math.max(2 * pitchMm, 0.3 * Math.abs(middleMm)) ? null : middleMm;
}

/** A stretch that is nearly all corner takes the reading of the one before it in its run, else of the one after. */
function fillFromNeighbours(cuts: { overlapMm: number }[]): void {
  for (let i = 1; i < cuts.length; i++) {
    if (Number.isNaN(cuts[i].overlapMm)) cuts[i].overlapMm = cuts[i - 1].overlapMm;
  }
  for (let i = cuts.length - 2; i >= 0; i--) {
    if (Number.isNaN(cuts[i].overlapMm)) cuts[i].overlapMm = cuts[i + 1].overlapMm;
  }
}

/** Mean of the middle half of the first `count` readings, which are sorted for it. */
function middleMean(readings: Float64Array, count: number): number {
  if (count > 40) readings.subarray(0, count).sort();
  else {
    for (let i = 1; i < count; i++) {
      const reading = readings[i];
      let at = i;
      for (; at > 0 && readings[at - 1] > reading; at--) readings[at] = readings[at - 1];
      readings[at] = reading;
    }
  }
  const from = Math.floor(count / 4);
  let sum = 0;
  for (let i = from; i < count - from; i++) sum += readings[i];
  return sum / (count - 2 * from);
}

function stretchOf(
  profile: Profile,
  begin: number,
  end: number,
  overlapMm: number,
  lengthMm: number,
  run: number,
): Stretch {
  const { length, xMm, yMm, normalX, normalY } = profile;
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
  const middle = Math.floor((begin + end) / 2) % length;
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
