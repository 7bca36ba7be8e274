/*
 * Cuts the readings along an outline into short pieces with one reading each.
 */
import { bridgeReadings, filled, layBridges, takeWhole, trusted, wrapped } from './bridges';
import { at, isNone, put, reserve, roomFor } from './memory';
import { normalX, normalY, overlaps, readings, samples, samplesEnd, steps, xs, ys } from './samples';

const stretchMm: f64 = 0.75;
const shortestRunMm: f64 = 0.3;
/** Share of a small outline that must face the other ink for it to be read as a whole. */
const wholeShare: f64 = 0.6;
/** Readings that differ by no more, in mm, are alike. */
const rounding: f64 = 1e-9;
/** Numbers to a stretch: overlap, length, the middle between the edges (x, y), its box, and its run. */
const stretchNumbers: i32 = 9;

let pitchMm: f64 = 0;
let reachMm: f64 = 0;
let run: i32 = 0;
/** Lengths of the steps of a run on the line half way between the two edges; readings put in order. */
let midlineSteps: usize = 0;
let ordered: usize = 0;
export let stretches: usize = 0;
export let stretchCount: i32 = 0;
/** How many samples the stretches hold. */
export let heldSamples: i32 = 0;

export function setStretches(pitch: f64, reach: f64): void {
  pitchMm = pitch;
  reachMm = reach;
  run = 0;
}

/**
 * Cuts the outline at hand. Corners take their neighbours' reading. One so small that corners leave nothing of it is
 * read as a whole, by the smaller half of its readings.
 */
export function cutStretches(closed: bool): void {
  stretchCount = 0;
  heldSamples = 0;
  if (readings == 0) return;
  midlineSteps = layBridges((samplesEnd + 15) & ~15);
  ordered = midlineSteps + roomFor(samples);
  stretches = ordered + roomFor(samples);
  reserve(stretches);
  bridgeReadings(closed, reachMm, pitchMm);
  cutRuns(closed);
  if (stretchCount > 0 || !closed || <f64>readings < wholeShare * <f64>samples) return;
  const overlapMm = wholeReading();
  if (isNone(overlapMm)) return;
  takeWhole(overlapMm);
  cutRuns(closed);
}

function cutRuns(closed: bool): void {
  let start = 0;
  if (closed) while (start < samples && !isNone(at(filled, start))) start++;
  if (start == samples) start = 0;
  const end = closed ? start + samples : samples;
  for (let i = start; i < end; ) {
    if (isNone(at(filled, wrapped(i)))) {
      i++;
      continue;
    }
    let last = i;
    while (last < end && !isNone(at(filled, wrapped(last)))) last++;
    if (appendRun(closed, i, last)) {
      run++;
      heldSamples += last - i;
    }
    i = last;
  }
}

function appendRun(closed: bool, from: i32, to: i32): bool {
  const runMm = takeMidlineSteps(closed, from, to);
  const whole = closed && to - from == samples;
  if (!whole && runMm < Math.max(shortestRunMm, 8 * pitchMm)) return false;
  const count = max(1, <i32>Math.round(runMm / stretchMm));
  const first = stretchCount;
  let here = from;
  let walkedMm: f64 = 0;
  for (let k = 1; k <= count; k++) {
    const begin = here;
    const beginMm = walkedMm;
    let found = 0;
    while (here < to && (k == count || walkedMm < (runMm * <f64>k) / <f64>count)) {
      walkedMm += at(midlineSteps, here - from);
      const reading = at(trusted, wrapped(here));
      if (!isNone(reading)) put(ordered, found++, reading);
      here++;
    }
    if (here == begin) continue;
    const isEnough = found >= 3 && 4 * found >= here - begin;
    appendStretch(begin, here, isEnough ? middleMean(found) : NaN, walkedMm - beginMm);
  }
  fillFromNeighbours(first);
  for (let k = first; k < stretchCount; k++) finish(stretches + roomFor(k * stretchNumbers));
  return true;
}

/** Begins a stretch: its reading, its length, and for the time being its first and end sample. */
function appendStretch(begin: i32, end: i32, overlapMm: f64, lengthMm: f64): void {
  const place = stretches + roomFor(stretchCount * stretchNumbers);
  reserve(place + roomFor(stretchNumbers));
  store<f64>(place, overlapMm);
  store<f64>(place, lengthMm, 8);
  store<f64>(place, <f64>begin, 16);
  store<f64>(place, <f64>end, 24);
  store<f64>(place, <f64>run, 64);
  stretchCount++;
}

/** A stretch that is nearly all corner takes the reading of the one before it in its run, else of the one after. */
function fillFromNeighbours(first: i32): void {
  const stride = roomFor(stretchNumbers);
  for (let k = first + 1; k < stretchCount; k++) {
    const place = stretches + <usize>k * stride;
    if (isNone(load<f64>(place))) store<f64>(place, load<f64>(place - stride));
  }
  for (let k = stretchCount - 2; k >= first; k--) {
    const place = stretches + <usize>k * stride;
    if (isNone(load<f64>(place))) store<f64>(place, load<f64>(place + stride));
  }
}

/** Puts the middle and the box of a stretch in the place of its first and end sample. */
function finish(place: usize): void {
  const begin = <i32>load<f64>(place, 16);
  const end = <i32>load<f64>(place, 24);
  let overlapMm = load<f64>(place);
  if (isNone(overlapMm)) {
    for (let i = begin; i < end; i++) put(ordered, i - begin, at(filled, wrapped(i)));
    overlapMm = middleMean(end - begin);
    store<f64>(place, overlapMm);
  }
  let left = Infinity;
  let top = Infinity;
  let right = -Infinity;
  let bottom = -Infinity;
  for (let k = begin; k < end; k++) {
    const i = wrapped(k);
    const x = at(xs, i << 1);
    const y = at(ys, i << 1);
    const farX = x - overlapMm * at(normalX, i);
    const farY = y - overlapMm * at(normalY, i);
    left = Math.min(left, Math.min(x, farX));
    right = Math.max(right, Math.max(x, farX));
    top = Math.min(top, Math.min(y, farY));
    bottom = Math.max(bottom, Math.max(y, farY));
  }
  const middle = wrapped((begin + end) >> 1);
  store<f64>(place, at(xs, middle << 1) - (overlapMm / 2) * at(normalX, middle), 16);
  store<f64>(place, at(ys, middle << 1) - (overlapMm / 2) * at(normalY, middle), 24);
  store<f64>(place, left, 32);
  store<f64>(place, top, 40);
  store<f64>(place, right, 48);
  store<f64>(place, bottom, 56);
}

/** Takes the lengths of the steps of a run on the line half way between the two edges; answers their sum. */
function takeMidlineSteps(closed: bool, from: i32, to: i32): f64 {
  let runMm: f64 = 0;
  for (let k = from; k < to; k++) {
    const i = wrapped(k);
    const next = i + 1 < samples ? i + 1 : closed ? 0 : i;
    const cross = at(normalX, i) * at(normalY, next) - at(normalY, i) * at(normalX, next);
    const dot = at(normalX, i) * at(normalX, next) + at(normalY, i) * at(normalY, next);
    const turn = Math.atan2(cross, dot);
    const midlineMm = Math.max(0, at(steps, i) - (turn * at(filled, i)) / 2);
    put(midlineSteps, k - from, midlineMm);
    runMm += midlineMm;
  }
  return runMm;
}

/** One reading for all of a small outline: the middle of the smaller half; NaN when even that half is not alike. */
function wholeReading(): f64 {
  let count = 0;
  for (let i = 0; i < samples; i++) {
    const reading = at(overlaps, i);
    if (!isNone(reading)) put(ordered, count++, Math.abs(reading));
  }
  putInOrder(count);
  const most = at(ordered, count >> 1) + rounding;
  count = 0;
  for (let i = 0; i < samples; i++) {
    const reading = at(overlaps, i);
    if (Math.abs(reading) <= most) put(ordered, count++, reading);
  }
  const middleMm = middleMean(count);
  const spreadMm = at(ordered, count - 1) - at(ordered, 0);
  return spreadMm > Math.max(2 * pitchMm, 0.3 * Math.abs(middleMm)) ? NaN : middleMm;
}

/** Mean of the middle half of the readings in `ordered`, which are put in order for it. */
function middleMean(count: i32): f64 {
  putInOrder(count);
  const from = count >> 2;
  let sum: f64 = 0;
  for (let i = from; i < count - from; i++) sum += at(ordered, i);
  return sum / <f64>(count - 2 * from);
}

/** Shell's sort (1959): quick enough for the few readings of a stretch and not slow for those of a whole outline. */
function putInOrder(count: i32): void {
  for (let gap = startingGap(count); gap > 0; gap = gap / 3) {
    for (let i = gap; i < count; i++) {
      const reading = at(ordered, i);
      let place = i;
      for (; place >= gap && at(ordered, place - gap) > reading; place -= gap) {
        put(ordered, place, at(ordered, place - gap));
      }
      put(ordered, place, reading);
    }
  }
}

function startingGap(count: i32): i32 {
  let gap = 1;
  while (3 * gap + 1 < count) gap = 3 * gap + 1;
  return gap;
}
