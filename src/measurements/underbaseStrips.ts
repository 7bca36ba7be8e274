import { type BoxMm, containsBox, grownBox, unionOfBoxes } from '../geometry/box.ts';
import type { Plate } from '../plates/plate.ts';
import type { StripReadings } from '../raster/facedOutline.ts';
import { InkField } from '../raster/inkField.ts';
import type { BareStrip } from './overlap.ts';

/** The choke bares every sharp corner; only what is longer is a strip. Common practice, no source for the figure. */
const shortestMm = 1.5;
/** A strip is at least so many times as long as wide. */
const leastSlenderness = 2;
const mostStrips = 500;
/** So many of the longest sides are put together to strips. */
const mostSides = 2000;

/** One side of a strip, or both where they meet at its end. */
interface Side {
  readonly boxMm: BoxMm;
  readonly xMm: number;
  readonly yMm: number;
  readonly widthMm: number;
  /** Each side counts for half of the strip's length. */
  readonly lengthMm: number;
}

/** Gathers, along outlines read for strips, the strips of colour that have no base below from edge to edge. */
export class StripFinder {
  private readonly sides: Side[] = [];
  private readonly pitchMm: number;

  constructor(pitchMm: number) {
    this.pitchMm = pitchMm;
  }

  take(readings: StripReadings): void {
    const { length, closed, stripMm } = readings;
    let start = 0;
    if (closed) while (start < length && !Number.isNaN(stripMm[start])) start++;
    if (start === length) start = 0;
    const end = closed ? start + length : length;
    for (let i = start; i < end; i++) {
      if (Number.isNaN(stripMm[i % length])) continue;
      const from = i;
      while (i < end && !Number.isNaN(stripMm[i % length])) i++;
      this.takeSide(readings, from, i);
    }
  }

  /** The strips found, longest first, at most 500. */
  strips(tops: readonly Plate[]): BareStrip[] {
    const fields = tops.map((plate) => ({ id: plate.id, ink: new InkField(plate) }));
    return this.joinedSides()
      .filter(({ lengthMm, widthMm }) => lengthMm >= Math.max(shortestMm, leastSlenderness * widthMm))
      .sort((p, q) => q.lengthMm - p.lengthMm || p.yMm - q.yMm || p.xMm - q.xMm)
      .slice(0, mostStrips)
      .map((side) => ({
        ...side,
        plateIds: fields.filter(({ ink }) => ink.at(side.xMm, side.yMm) === 1).map(({ id }) => id),
      }));
  }

  private takeSide(
    { length, xMm, yMm, normalX, normalY, stepMm, stripMm }: StripReadings,
    from: number,
    to: number,
  ): void {
    let lengthMm = 0;
    let leftMm = Infinity;
    let topMm = Infinity;
    let rightMm = -Infinity;
    let bottomMm = -Infinity;
    const widths = new Float64Array(to - from);
    for (let k = from; k < to; k++) {
      const i = k % length;
      lengthMm += stepMm[i] / 2;
      widths[k - from] = stripMm[i];
      leftMm = Math.min(leftMm, xMm[i]);
      topMm = Math.min(topMm, yMm[i]);
      rightMm = Math.max(rightMm, xMm[i]);
      bottomMm = Math.max(bottomMm, yMm[i]);
    }
    const middle = Math.floor((from + to) / 2) % length;
    const half = stripMm[middle] / 2;
    this.sides.push({
      boxMm: { xMm: leftMm, yMm: topMm, widthMm: rightMm - leftMm, heightMm: bottomMm - topMm },
      xMm: xMm[middle] - half * normalX[middle],
      yMm: yMm[middle] - half * normalY[middle],
      widthMm: widths.sort()[widths.length >> 1],
      lengthMm,
    });
  }

  /** Two sides that lie across from each other are one strip. */
  private joinedSides(): Side[] {
    const open = this.sides.sort((p, q) => q.lengthMm - p.lengthMm).slice(0, mostSides);
    const joined: Side[] = [];
    for (const side of open) {
      const at = joined.findIndex((other) => this.areAcross(other, side));
      if (at < 0) joined.push(side);
      else {
        const other = joined[at];
        joined[at] = {
          ...other,
          boxMm: unionOfBoxes(other.boxMm, side.boxMm),
          lengthMm: other.lengthMm + side.lengthMm,
        };
      }
    }
    return joined;
  }

  private areAcross(a: Side, b: Side): boolean {
    if (Math.abs(a.widthMm - b.widthMm) > 2 * this.pitchMm + 0.3 * a.widthMm) return false;
    return containsBox(grownBox(a.boxMm, a.widthMm + 2 * this.pitchMm), b.boxMm);
  }
}
