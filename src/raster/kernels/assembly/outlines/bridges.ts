/*
 * Which readings along an outline count, and what fills the breaks between them that are none.
 */
import { at, isNone, put, roomFor } from './memory';
import { isCorner, overlaps, samples, steps } from './samples';

/** Edges that lean more than this against each other (rise over run) cross; they do not run along one another. */
const steepestSlope: f64 = 0.4;
const slopeSamples: i32 = 7;
const fewestBeside: i32 = 3;
/** A break this short without a corner is noise of the pixel steps. */
const noiseSamples: i32 = 3;

/** The readings less those at corners and those where the edges cross instead of running alongside. */
export let trusted: usize = 0;
/** The same with short breaks and corners filled. */
export let filled: usize = 0;
let usable: usize = 0;
let besideCount: i32 = 0;
let besideMean: f64 = 0;

/** Lays the lists out from an address on and answers the end. */
export function layBridges(from: usize): usize {
  trusted = from;
  filled = trusted + roomFor(samples);
  usable = filled + roomFor(samples);
  return usable + roomFor(samples);
}

/** One reading for all of an outline. */
export function takeWhole(overlapMm: f64): void {
  for (let i = 0; i < samples; i++) {
    put(trusted, i, overlapMm);
    put(filled, i, overlapMm);
  }
}

export function bridgeReadings(closed: bool, reachMm: f64, pitchMm: f64): void {
  trust(closed);
  memory.copy(filled, trusted, roomFor(samples));
  bridge(closed, reachMm, pitchMm);
  extendIntoCorners(closed, pitchMm, 1);
  extendIntoCorners(closed, pitchMm, -1);
}

function trust(closed: bool): void {
  for (let i = 0; i < samples; i++) put(usable, i, isCorner(i) ? NaN : at(overlaps, i));
  for (let i = 0; i < samples; i++) {
    const reading = at(usable, i);
    put(trusted, i, reading);
    if (isNone(reading)) continue;
    lookBeside(closed, i, -1);
    const before = besideCount;
    const meanBefore = besideMean;
    lookBeside(closed, i, 1);
    const after = besideCount;
    const meanAfter = besideMean;
    const step = at(steps, i);
    let isSteep: bool;
    if (before < fewestBeside && after < fewestBeside) isSteep = true;
    else if (before < fewestBeside || after < fewestBeside) {
      // The end of a run: lean on the one side there is.
      const rise = Math.abs((before < fewestBeside ? meanAfter : meanBefore) - reading);
      const samplesAway = <f64>(max(before, after) + 1) / 2;
      isSteep = rise > steepestSlope * samplesAway * step + step;
    } else {
      isSteep = Math.abs(meanAfter - meanBefore) > steepestSlope * (<f64>(before + after + 2) / 2) * step;
    }
    if (isSteep) put(trusted, i, NaN);
  }
}

/** Counts the readings on one side of a sample up to the first break, at most seven, and takes their mean. */
function lookBeside(closed: bool, i: i32, direction: i32): void {
  let sum: f64 = 0;
  let count = 0;
  let beside = i;
  while (count < slopeSamples) {
    beside += direction;
    if (beside < 0 || beside >= samples) {
      if (!closed) break;
      beside = beside < 0 ? samples - 1 : 0;
    }
    const reading = at(usable, beside);
    if (isNone(reading)) break;
    sum += reading;
    count++;
  }
  besideCount = count;
  besideMean = sum / <f64>count;
}

/** Fills corners and pixel-step breaks between two readings that are alike with values between them. */
function bridge(closed: bool, reachMm: f64, pitchMm: f64): void {
  let first = 0;
  while (first < samples && isNone(at(trusted, first))) first++;
  if (first == samples) return;
  const end = closed ? first + samples : samples - 1;
  let last = first;
  for (let i = first + 1; i <= end; i++) {
    const to = at(trusted, wrapped(i));
    if (isNone(to)) continue;
    const from = at(trusted, wrapped(last));
    if (i - last > 1 && areAlike(from, to, pitchMm)) fillBreak(last, i, from, to, reachMm, pitchMm);
    last = i;
  }
}

function fillBreak(last: i32, next: i32, from: f64, to: f64, reachMm: f64, pitchMm: f64): void {
  const gapSamples = next - last - 1;
  let gapMm: f64 = 0;
  let hasCorner = false;
  for (let k = last + 1; k < next; k++) {
    gapMm += at(steps, wrapped(k));
    if (isCorner(wrapped(k))) hasCorner = true;
  }
  const size = Math.max(Math.abs(from), Math.abs(to));
  const widestMm = hasCorner ? 2 * Math.min(size, reachMm) + 16 * pitchMm : 0;
  if (gapSamples > noiseSamples && gapMm > widestMm) return;
  for (let k = 1; k <= gapSamples; k++) {
    put(filled, wrapped(last + k), from + ((to - from) * <f64>k) / <f64>(gapSamples + 1));
  }
}

/** Lets a run go on into the corner it ends at as far as the readings there agree. */
function extendIntoCorners(closed: bool, pitchMm: f64, direction: i32): void {
  const turns = closed ? 2 * samples : samples - 1;
  let here = direction == 1 ? 0 : samples - 1;
  for (let k = 0; k < turns; k++) {
    let next = here + direction;
    if (next < 0 || next >= samples) next = next < 0 ? samples - 1 : 0;
    const reading = at(filled, here);
    if (isCorner(next) && !isNone(reading) && isNone(at(filled, next))) {
      const beyond = at(overlaps, next);
      if (!isNone(beyond) && areAlike(reading, beyond, pitchMm)) put(filled, next, reading);
    }
    here = next;
  }
}

// @ts-ignore: decorator
@inline
export function wrapped(i: i32): i32 {
  return i < samples ? i : i - samples;
}

function areAlike(a: f64, b: f64, pitchMm: f64): bool {
  return Math.abs(a - b) <= Math.max(2 * pitchMm, 0.3 * Math.max(Math.abs(a), Math.abs(b)));
}
