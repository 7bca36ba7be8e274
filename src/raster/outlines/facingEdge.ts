import { cellsWithinReach } from '../cellGrid.ts';
import type { EdgedPlane } from '../griddedPlane.ts';
import type { Cover, OutlineSearch } from '../planePair.ts';
import { widenedCells } from './edgeCellsPlain.ts';
import { StepField } from './stepField.ts';

/** First look beside an outline: three quarters of a step, in 128ths. */
const beside = 96;

/** Reads across the outline of one plane to the facing edge of another. */
export class FacingEdge {
  /** Width of the strip of own ink at the last point read that lies on the other ink from edge to edge; NaN: none. */
  stripMm = Number.NaN;
  private readonly own: StepField;
  private readonly other: StepField;
  /** Cells of the other plane from which an edge of it can be within reach. */
  private readonly near: Uint32Array;
  private readonly pitchXMm: number;
  private readonly pitchYMm: number;
  private readonly reachMm: number;
  private readonly seekStrips: boolean;
  private readonly cover: Cover | null;

  constructor(own: EdgedPlane, other: EdgedPlane, { reachMm, invertOther, seekStrips, cover }: OutlineSearch) {
    this.own = new StepField(own, false);
    this.other = new StepField(other, invertOther);
    this.near = widenedCells(other.cells, cellsWithinReach(reachMm, own.grid, other.grid)).words;
    this.pitchXMm = own.grid.pitchXMm;
    this.pitchYMm = own.grid.pitchYMm;
    this.reachMm = reachMm;
    this.seekStrips = seekStrips;
    this.cover = cover;
  }

  /**
   * Goes across the edge at a point along its outward normal to the other ink's facing edge; answers the overlap in mm,
   * negative for a gap, NaN where there is no facing edge within reach.
   * Inwards both inks must print all the way, outwards neither may: otherwise one merely lies over the other.
   */
  overlapMm(x: number, y: number, normalX: number, normalY: number): number {
    this.stripMm = Number.NaN;
    const { own, other, reachMm, seekStrips, cover } = this;
    // A step of about one pixel along the normal, whatever the two pitches.
    const perStepX = normalX / this.pitchXMm;
    const perStepY = normalY / this.pitchYMm;
    const step = 1 / Math.sqrt(perStepX * perStepX + perStepY * perStepY);
    other.stand(x, y, step * normalX, step * normalY);
    if (!seekStrips && !other.isMarked(this.near)) return Number.NaN;
    const outside = other.at(beside);
    const inside = other.at(-beside);
    if (outside !== inside) return outside === 1 ? -mmOf(other.inkBegins(-beside, beside), step) : Number.NaN;
    // On the other ink: inwards to where it ends; on clear film: outwards to where it begins.
    const direction = outside === 1 ? -1 : 1;
    const wanted = 1 - outside;
    const last = Math.trunc(reachMm / step + 0.25);
    const found = other.firstStep(wanted, direction, last);
    if (found === 0 && !seekStrips) return Number.NaN;
    own.stand(x, y, step * normalX, step * normalY);
    const stopped = own.firstStep(wanted, direction, found === 0 ? last : found - 1);
    if (stopped !== 0 && outside === 1) {
      this.stripMm = -mmOf(own.inkBegins(-reached(stopped), 128 - reached(stopped)), step);
    }
    if (found === 0 || stopped !== 0) return Number.NaN;
    if (outside === 0) {
      const gapMm = mmOf(other.inkBegins(reached(found) - 128, reached(found)), step);
      return gapMm > reachMm || cover?.(x, y, gapMm * normalX, gapMm * normalY) ? Number.NaN : -gapMm;
    }
    const inkBegins = other.inkBegins(-reached(found), 128 - reached(found));
    const depthMm = -mmOf(inkBegins, step);
    // Ink that ends where the other ends lies over it with a flush edge.
    return depthMm <= reachMm && own.at(inkBegins - 128) === 1 ? depthMm : Number.NaN;
  }
}

/** How far so many steps after the first look are, in 128ths of a step. */
function reached(steps: number): number {
  return beside + 128 * steps;
}

function mmOf(steps128: number, stepMm: number): number {
  return (steps128 * stepMm) / 128;
}
