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
/** Edges that lean more than this against each other (rise over run) cross; they do not run along one another. */
const steepestSlope = 0.4;
const slopeSamples = 7;
const fewestBeside = 3;
/** A break this short without a corner is noise of the pixel steps. */
const noiseSamples = 3;

/**
 * Cuts the readings along one outline into stretches. Corners take their neighbours' reading. An outline so small that
 * corners leave nothing of it is read as a whole, by the smaller half of its readings.
 */
export function cutStretches(profile: Profile, pitchMm: number, reachMm: number, firstRun: number): Stretch[] {
  const found = cutRuns(profile, trustedReadings(profile), pitchMm, reachMm, firstRun);
  if (found.length > 0 || !profile.closed) return found;
  const readings = profile.overlapMm.filter((v) => !Number.isNaN(v));
  if (readings.length < wholeShare * profile.length) return [];
  const sizes = Array.from(readings, Math.abs).sort((a, b) => a - b);
  const most = sizes[sizes.length >> 1];
  const lower = Array.from(readings.filter((v) => Math.abs(v) <= most));
  const overlapMm = middleMean(lower);
  const spreadMm = Math.abs(lower[lower.length - 1] - lower[0]);
  if (spreadMm > Math.max(2 * pitchMm, 0.3 * Math.abs(overlapMm))) return [];
  const whole = new Float64Array(profile.length).fill(overlapMm);
  return cutRuns(profile, whole, pitchMm, reachMm, firstRun);
}

function cutRuns(
  profile: Profile,
  trusted: Float64Array,
  pitchMm: number,
  reachMm: number,
  firstRun: number,
): Stretch[] {
  const { length } = profile;
  const value = bridged(profile, trusted, reachMm, pitchMm);
  const stretches: Stretch[] = [];
  let start = 0;
  if (profile.closed) {
    while (start < length && !Number.isNaN(value[start])) start++;
    if (start === length) {
      appendRun(profile, trusted, value, 0, length, pitchMm, firstRun, stretches);
      return stretches;
    }
  }
  const end = profile.closed ? start + length : length;
  let run = firstRun;
  for (let i = start; i < end; ) {
    if (Number.isNaN(value[i % length])) {
      i++;
      continue;
    }
    let last = i;
    while (last < end && !Number.isNaN(value[last % length])) last++;
    if (appendRun(profile, trusted, value, i, last, pitchMm, run, stretches)) run++;
    i = last;
  }
  return stretches;
}

/** The readings less those at corners and those where the edges cross instead of running alongside. */
function trustedReadings(profile: Profile): Float64Array {
  const { length, closed, overlapMm, corner, stepMm } = profile;
  const usable = new Float64Array(length);
  for (let i = 0; i < length; i++) usable[i] = corner[i] === 1 ? Number.NaN : overlapMm[i];
  const trusted = Float64Array.from(usable);
  for (let i = 0; i < length; i++) {
    if (Number.isNaN(usable[i])) continue;
    const before = besideMean(usable, i, -1, closed);
    const after = besideMean(usable, i, 1, closed);
    if (before.count < fewestBeside && after.count < fewestBeside) {
      trusted[i] = Number.NaN;
    } else if (before.count < fewestBeside || after.count < fewestBeside) {
      // The end of a run: lean on the one side there is.
      const side = before.count < fewestBeside ? after : before;
      const rise = Math.abs(side.mean - usable[i]);
      if (rise > steepestSlope * side.samplesAway * stepMm[i] + stepMm[i]) trusted[i] = Number.NaN;
    } else {
      const rise = Math.abs(after.mean - before.mean);
      if (rise > steepestSlope * (before.samplesAway + after.samplesAway) * stepMm[i]) trusted[i] = Number.NaN;
    }
  }
  return trusted;
}

/** Mean of the readings on one side of a sample up to the first break, and how far off their middle lies. */
function besideMean(
  usable: Float64Array,
  i: number,
  direction: 1 | -1,
  closed: boolean,
): { count: number; mean: number; samplesAway: number } {
  const { length } = usable;
  let sum = 0;
  let count = 0;
  for (let k = 1; k <= slopeSamples; k++) {
    const at = closed ? (i + direction * k + length) % length : i + direction * k;
    if (at < 0 || at >= length || Number.isNaN(usable[at])) break;
    sum += usable[at];
    count++;
  }
  return { count, mean: count === 0 ? Number.NaN : sum / count, samplesAway: (count + 1) / 2 };
}

/**
 * Fills corners and pixel-step breaks between two readings that are alike with values between them, and lets a run go
 * on into the corner it ends at as far as the readings there agree.
 */
function bridged(profile: Profile, trusted: Float64Array, reachMm: number, pitchMm: number): Float64Array {
  const { length, closed, corner, stepMm } = profile;
  const out = Float64Array.from(trusted);
  let first = 0;
  while (first < length && Number.isNaN(trusted[first])) first++;
  if (first === length) return out;
  const end = closed ? first + length : length;
  let last = first;
  for (let i = first + 1; i <= end; i++) {
    if (!closed && i === length) break;
    if (Number.isNaN(trusted[i % length])) continue;
    const gapSamples = i - last - 1;
    if (gapSamples > 0) {
      let gapMm = 0;
      let hasCorner = false;
      for (let k = last + 1; k < i; k++) {
        gapMm += stepMm[k % length];
        if (corner[k % length] === 1) hasCorner = true;
      }
      const from = trusted[last % length];
      const to = trusted[i % length];
      const size = Math.max(Math.abs(from), Math.abs(to));
      const widestMm = hasCorner ? 2 * Math.min(size, reachMm) + 16 * pitchMm : 0;
      if (areAlike(from, to, pitchMm) && (gapSamples <= noiseSamples || gapMm <= widestMm)) {
        for (let k = 1; k <= gapSamples; k++) out[(last + k) % length] = from + ((to - from) * k) / (gapSamples + 1);
      }
    }
    last = i;
  }
  extendIntoCorners(profile, out, pitchMm, 1);
  extendIntoCorners(profile, out, pitchMm, -1);
  return out;
}

function areAlike(a: number, b: number, pitchMm: number): boolean {
  return Math.abs(a - b) <= Math.max(2 * pitchMm, 0.3 * Math.max(Math.abs(a), Math.abs(b)));
}

function extendIntoCorners(profile: Profile, values: Float64Array, pitchMm: number, direction: 1 | -1): void {
  const { length, closed, corner, overlapMm } = profile;
  for (let k = 0; k < 2 * length; k++) {
    const here = (direction === 1 ? k : 2 * length - 1 - k) % length;
    const next = here + direction;
    if (!closed && (next < 0 || next >= length)) continue;
    const i = (next + length) % length;
    if (Number.isNaN(values[here]) || !Number.isNaN(values[i]) || corner[i] === 0) continue;
    if (!Number.isNaN(overlapMm[i]) && areAlike(values[here], overlapMm[i], pitchMm)) values[i] = values[here];
  }
}

function appendRun(
  profile: Profile,
  trusted: Float64Array,
  value: Float64Array,
  from: number,
  to: number,
  pitchMm: number,
  run: number,
  stretches: Stretch[],
): boolean {
  const { length } = profile;
  let runMm = 0;
  for (let i = from; i < to; i++) runMm += stepOnMidline(profile, value, i % length);
  const whole = profile.closed && to - from === length;
  if (!whole && runMm < Math.max(shortestRunMm, 8 * pitchMm)) return false;
  const count = Math.max(1, Math.round(runMm / stretchMm));
  const cuts: { begin: number; end: number; lengthMm: number; overlapMm: number }[] = [];
  let at = from;
  let walkedMm = 0;
  for (let k = 1; k <= count; k++) {
    const begin = at;
    const beginMm = walkedMm;
    const readings: number[] = [];
    while (at < to && (k === count || walkedMm < (runMm * k) / count)) {
      const i = at % length;
      walkedMm += stepOnMidline(profile, value, i);
      if (!Number.isNaN(trusted[i])) readings.push(trusted[i]);
      at++;
    }
    if (at === begin) continue;
    const enough = readings.length >= Math.max(3, (at - begin) / 4);
    cuts.push({
      begin,
      end: at,
      lengthMm: walkedMm - beginMm,
      overlapMm: enough ? middleMean(readings) : Number.NaN,
    });
  }
  fillFromNeighbours(cuts);
  for (const cut of cuts) {
    if (Number.isNaN(cut.overlapMm)) {
      const bridgedReadings: number[] = [];
      for (let i = cut.begin; i < cut.end; i++) bridgedReadings.push(value[i % length]);
      cut.overlapMm = middleMean(bridgedReadings);
    }
    stretches.push(stretchOf(profile, cut.begin, cut.end, cut.overlapMm, cut.lengthMm, run));
  }
  return true;
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

/** Length of a step on the line half way between the two edges. */
function stepOnMidline(profile: Profile, value: Float64Array, i: number): number {
  return Math.max(0, profile.stepMm[i] - (profile.turn[i] * value[i]) / 2);
}

/** Mean of the middle half. */
function middleMean(readings: number[]): number {
  readings.sort((a, b) => a - b);
  const from = Math.floor(readings.length / 4);
  const to = readings.length - from;
  let sum = 0;
  for (let i = from; i < to; i++) sum += readings[i];
  return sum / (to - from);
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
    for (const across of [0, -overlapMm]) {
      const x = xMm[i] + across * normalX[i];
      const y = yMm[i] + across * normalY[i];
      if (x < leftMm) leftMm = x;
      if (x > rightMm) rightMm = x;
      if (y < topMm) topMm = y;
      if (y > bottomMm) bottomMm = y;
    }
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
