import type { OutlineReadings } from './outlineReadings.ts';

/** Edges that lean more than this against each other (rise over run) cross; they do not run along one another. */
const steepestSlope = 0.4;
const slopeSamples = 7;
const fewestBeside = 3;
/** A break this short without a corner is noise of the pixel steps. */
const noiseSamples = 3;

/** Which readings along an outline count, and what fills the breaks between them. The arrays are used again. */
export class BridgedReadings {
  /** The readings less those at corners and those where the edges cross instead of running alongside. */
  trusted = new Float64Array(0);
  /** The same with short breaks and corners filled. */
  filled = new Float64Array(0);
  private usable = new Float64Array(0);
  private readonly reachMm: number;
  private readonly pitchMm: number;
  private besideCount = 0;
  private besideMean = 0;

  constructor(reachMm: number, pitchMm: number) {
    this.reachMm = reachMm;
    this.pitchMm = pitchMm;
  }

  take(readings: OutlineReadings): void {
    this.reserve(readings.length);
    this.trust(readings);
    this.filled.set(this.trusted.subarray(0, readings.length));
    this.bridge(readings);
    this.extendIntoCorners(readings, 1);
    this.extendIntoCorners(readings, -1);
  }

  /** One reading for all of an outline. */
  takeWhole({ length }: OutlineReadings, overlapMm: number): void {
    this.trusted.fill(overlapMm, 0, length);
    this.filled.fill(overlapMm, 0, length);
  }

  private reserve(length: number): void {
    if (this.usable.length >= length) return;
    this.trusted = new Float64Array(2 * length);
    this.filled = new Float64Array(2 * length);
    this.usable = new Float64Array(2 * length);
  }

  private trust({ length, closed, overlapMm, corner, stepMm }: OutlineReadings): void {
    const { usable, trusted } = this;
    for (let i = 0; i < length; i++) usable[i] = corner[i] === 1 ? Number.NaN : overlapMm[i];
    for (let i = 0; i < length; i++) {
      const reading = usable[i];
      trusted[i] = reading;
      if (!Number.isNaN(reading) && this.isSteep(length, closed, i, stepMm[i])) trusted[i] = Number.NaN;
    }
  }

  private isSteep(length: number, closed: boolean, i: number, stepMm: number): boolean {
    this.lookBeside(length, closed, i, -1);
    const before = this.besideCount;
    const meanBefore = this.besideMean;
    this.lookBeside(length, closed, i, 1);
    const after = this.besideCount;
    const meanAfter = this.besideMean;
    if (before < fewestBeside && after < fewestBeside) return true;
    if (before < fewestBeside || after < fewestBeside) {
      // The end of a run: lean on the one side there is.
      const rise = Math.abs((before < fewestBeside ? meanAfter : meanBefore) - this.usable[i]);
      const samplesAway = (Math.max(before, after) + 1) / 2;
      return rise > steepestSlope * samplesAway * stepMm + stepMm;
    }
    return Math.abs(meanAfter - meanBefore) > steepestSlope * ((before + after + 2) / 2) * stepMm;
  }

  /** Counts the readings on one side of a sample up to the first break, at most seven, and takes their mean. */
  private lookBeside(length: number, closed: boolean, i: number, direction: 1 | -1): void {
    let sum = 0;
    let count = 0;
    let beside = i;
    while (count < slopeSamples) {
      beside += direction;
      if (beside < 0 || beside >= length) {
        if (!closed) break;
        beside = beside < 0 ? length - 1 : 0;
      }
      const reading = this.usable[beside];
      if (Number.isNaN(reading)) break;
      sum += reading;
      count++;
    }
    this.besideCount = count;
    this.besideMean = sum / count;
  }

  /** Fills corners and pixel-step breaks between two readings that are alike with values between them. */
  private bridge(readings: OutlineReadings): void {
    const { length, closed } = readings;
    const { trusted } = this;
    let first = 0;
    while (first < length && Number.isNaN(trusted[first])) first++;
    if (first === length) return;
    const end = closed ? first + length : length - 1;
    let last = first;
    for (let i = first + 1; i <= end; i++) {
      if (Number.isNaN(trusted[i % length])) continue;
      if (i - last > 1) this.fillBreak(readings, last, i);
      last = i;
    }
  }

  private fillBreak({ length, corner, stepMm }: OutlineReadings, last: number, next: number): void {
    const from = this.trusted[last % length];
    const to = this.trusted[next % length];
    if (!areAlike(from, to, this.pitchMm)) return;
    const gapSamples = next - last - 1;
    let gapMm = 0;
    let hasCorner = false;
    for (let k = last + 1; k < next; k++) {
      gapMm += stepMm[k % length];
      if (corner[k % length] === 1) hasCorner = true;
    }
    const size = Math.max(Math.abs(from), Math.abs(to));
    const widestMm = hasCorner ? 2 * Math.min(size, this.reachMm) + 16 * this.pitchMm : 0;
    if (gapSamples > noiseSamples && gapMm > widestMm) return;
    for (let k = 1; k <= gapSamples; k++) {
      this.filled[(last + k) % length] = from + ((to - from) * k) / (gapSamples + 1);
    }
  }

  /** Lets a run go on into the corner it ends at as far as the readings there agree. */
  private extendIntoCorners({ length, closed, corner, overlapMm }: OutlineReadings, direction: 1 | -1): void {
    const { filled, pitchMm } = this;
    const turns = closed ? 2 * length : length - 1;
    let here = direction === 1 ? 0 : length - 1;
    for (let k = 0; k < turns; k++) {
      let next = here + direction;
      if (next < 0 || next >= length) next = next < 0 ? length - 1 : 0;
      // Nothing that is NaN is alike.
      if (corner[next] === 1 && Number.isNaN(filled[next]) && areAlike(filled[here], overlapMm[next], pitchMm)) {
        filled[next] = filled[here];
      }
      here = next;
    }
  }
}

function areAlike(a: number, b: number, pitchMm: number): boolean {
  return Math.abs(a - b) <= Math.max(2 * pitchMm, 0.3 * Math.max(Math.abs(a), Math.abs(b)));
}
