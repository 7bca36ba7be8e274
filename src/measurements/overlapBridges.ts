import type { Profile } from './overlapProfile.ts';

/** Edges that lean more than this against each other (rise over run) cross; they do not run along one another. */
const steepestSlope = 0.4;
const slopeSamples = 7;
const fewestBeside = 3;
/** A break this short without a corner is noise of the pixel steps. */
const noiseSamples = 3;

/** The readings along an outline that count, with the breaks filled that are none. The arrays are used again. */
export class BridgedReadings {
  /** The readings less those at corners and those where the edges cross instead of running alongside. */
  trusted = new Float64Array(0);
  /** The same with short breaks and corners filled. */
  value = new Float64Array(0);
  private usable = new Float64Array(0);
  private besideCount = 0;
  private besideMean = 0;

  take(profile: Profile, reachMm: number, pitchMm: number): void {
    this.reserve(profile.length);
    this.trust(profile);
    this.value.set(this.trusted.subarray(0, profile.length));
    this.bridge(profile, reachMm, pitchMm);
    this.extendIntoCorners(profile, pitchMm, 1);
    this.extendIntoCorners(profile, pitchMm, -1);
  }

  /** One reading for all of an outline. */
  takeWhole(profile: Profile, overlapMm: number): void {
    this.reserve(profile.length);
    this.trusted.fill(overlapMm, 0, profile.length);
    this.value.fill(overlapMm, 0, profile.length);
  }

  private reserve(length: number): void {
    if (this.usable.length >= length) return;
    this.trusted = new Float64Array(2 * length);
    this.value = new Float64Array(2 * length);
    this.usable = new Float64Array(2 * length);
  }

  private trust({ length, closed, overlapMm, corner, stepMm }: Profile): void {
    const { usable, trusted } = this;
    for (let i = 0; i < length; i++) usable[i] = corner[i] === 1 ? Number.NaN : overlapMm[i];
    for (let i = 0; i < length; i++) {
      const reading = usable[i];
      trusted[i] = reading;
      if (Number.isNaN(reading)) continue;
      this.lookBeside(length, closed, i, -1);
      const before = this.besideCount;
      const meanBefore = this.besideMean;
      this.lookBeside(length, closed, i, 1);
      const after = this.besideCount;
      const meanAfter = this.besideMean;
      let isSteep: boolean;
      if (before < fewestBeside && after < fewestBeside) isSteep = true;
      else if (before < fewestBeside || after < fewestBeside) {
        // The end of a run: lean on the one side there is.
        const rise = Math.abs((before < fewestBeside ? meanAfter : meanBefore) - reading);
        const samplesAway = (Math.max(before, after) + 1) / 2;
        isSteep = rise > steepestSlope * samplesAway * stepMm[i] + stepMm[i];
      } else {
        const rise = Math.abs(meanAfter - meanBefore);
        isSteep = rise > steepestSlope * ((before + 1) / 2 + (after + 1) / 2) * stepMm[i];
      }
      if (isSteep) trusted[i] = Number.NaN;
    }
  }

  /** Counts the readings on one side of a sample up to the first break, at most seven, and takes their mean. */
  private lookBeside(length: number, closed: boolean, i: number, direction: 1 | -1): void {
    const { usable } = this;
    let sum = 0;
    let count = 0;
    let at = i;
    while (count < slopeSamples) {
      at += direction;
      if (at < 0 || at >= length) {
        if (!closed) break;
        at = at < 0 ? length - 1 : 0;
      }
      const reading = usable[at];
      if (Number.isNaN(reading)) break;
      sum += reading;
      count++;
    }
    this.besideCount = count;
    this.besideMean = sum / count;
  }

  /** Fills corners and pixel-step breaks between two readings that are alike with values between them. */
  private bridge({ length, closed, corner, stepMm }: Profile, reachMm: number, pitchMm: number): void {
    const { trusted, value } = this;
    let first = 0;
    while (first < length && Number.isNaN(trusted[first])) first++;
    if (first === length) return;
    const end = closed ? first + length : length - 1;
    let last = first;
    for (let i = first + 1; i <= end; i++) {
      const to = trusted[i < length ? i : i - length];
      if (Number.isNaN(to)) continue;
      const gapSamples = i - last - 1;
      const from = trusted[last < length ? last : last - length];
      if (gapSamples > 0 && areAlike(from, to, pitchMm)) {
        let gapMm = 0;
        let hasCorner = false;
        for (let k = last + 1; k < i; k++) {
          gapMm += stepMm[k % length];
          if (corner[k % length] === 1) hasCorner = true;
        }
        const size = Math.max(Math.abs(from), Math.abs(to));
        const widestMm = hasCorner ? 2 * Math.min(size, reachMm) + 16 * pitchMm : 0;
        if (gapSamples <= noiseSamples || gapMm <= widestMm) {
          for (let k = 1; k <= gapSamples; k++)
            value[(last + k) % length] = from + ((to - from) * k) / (gapSamples + 1);
        }
      }
      last = i;
    }
  }

  /** Lets a run go on into the corner it ends at as far as the readings there agree. */
  private extendIntoCorners(profile: Profile, pitchMm: number, direction: 1 | -1): void {
    const { length, closed, corner, overlapMm } = profile;
    const { value } = this;
    const turns = closed ? 2 * length : length - 1;
    let here = direction === 1 ? 0 : length - 1;
    for (let k = 0; k < turns; k++) {
      let next = here + direction;
      if (next < 0 || next >= length) next = next < 0 ? length - 1 : 0;
      if (corner[next] === 1 && Number.isNaN(value[next]) && !Number.isNaN(value[here])) {
        if (!Number.isNaN(overlapMm[next]) && areAlike(value[here], overlapMm[next], pitchMm))
          value[next] = value[here];
      }
      here = next;
    }
  }
}

export function areAlike(a: number, b: number, pitchMm: number): boolean {
  return Math.abs(a - b) <= Math.max(2 * pitchMm, 0.3 * Math.max(Math.abs(a), Math.abs(b)));
}
