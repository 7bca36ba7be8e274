import type { BitPlane } from '../raster/bitPlane.ts';
import { coarsePitchMm, type PixelGrid } from '../raster/pixelGrid.ts';
import { cellPx, widenedCells } from './overlapCells.ts';
import { type EdgedPlane, type GriddedPlane, InkField } from './overlapInk.ts';

/** First look beside an outline, in steps of about a pixel. */
const nearSteps = 0.75;
/** How far beyond the reach, in pixels of either plane, an edge may lie and yet count for a look. */
const roundingPx = 4;

export interface CrossingOptions {
  readonly reachMm: number;
  /** Planes whose ink fills a gap between the two. */
  readonly covers: readonly GriddedPlane[];
  /** The clear film of the other plane takes the part of its ink. */
  readonly invertOther: boolean;
  /** Look also for strips of the first plane that lie wholly on the other. */
  readonly seekStrips: boolean;
}

/** Reads across the outline of one plane to the facing edge of another. */
export class Crossing {
  /** Width of the strip of own ink at the last point read that lies on the other ink from edge to edge; NaN: none. */
  stripMm = Number.NaN;
  private readonly ownInk: InkField;
  private readonly otherInk: InkField;
  private readonly ownCells: BitPlane;
  private readonly otherCells: BitPlane;
  private readonly covers: readonly InkField[];
  private readonly grid: PixelGrid;
  private readonly reachMm: number;
  /** Cells of the other plane from which an edge of it can be within reach. */
  private readonly near: BitPlane;
  private readonly cellsPerMmX: number;
  private readonly cellsPerMmY: number;

  private readonly seekStrips: boolean;

  constructor(own: EdgedPlane, other: EdgedPlane, options: CrossingOptions) {
    this.ownInk = new InkField(own);
    this.otherInk = new InkField(other, options.invertOther);
    this.ownCells = own.cells;
    this.otherCells = other.cells;
    this.covers = options.covers.map((plane) => new InkField(plane));
    this.grid = own.grid;
    this.reachMm = options.reachMm;
    this.seekStrips = options.seekStrips;
    const finestMm = Math.min(other.grid.pitchXMm, other.grid.pitchYMm);
    const furthestPx = (options.reachMm + roundingPx * coarsePitchMm(own.grid)) / finestMm + roundingPx;
    this.near = widenedCells(other.cells, Math.ceil(furthestPx / cellPx));
    this.cellsPerMmX = 1 / (cellPx * other.grid.pitchXMm);
    this.cellsPerMmY = 1 / (cellPx * other.grid.pitchYMm);
  }

  /**
   * Goes across the edge at a point along its outward normal to the other ink's facing edge; answers the overlap in mm,
   * negative for a gap, NaN where there is no facing edge within reach.
   * Inwards both inks must print all the way, outwards neither may: otherwise one merely lies over the other.
   */
  read(x: number, y: number, normalX: number, normalY: number): number {
    this.stripMm = Number.NaN;
    if (!this.seekStrips && !this.isNear(x, y)) return Number.NaN;
    const { otherInk, ownInk, reachMm, grid } = this;
    // A step of about one pixel along the normal, whatever the two pitches.
    const perStepX = normalX / grid.pitchXMm;
    const perStepY = normalY / grid.pitchYMm;
    const step = 1 / Math.sqrt(perStepX * perStepX + perStepY * perStepY);
    const near = nearSteps * step;
    const outside = otherInk.at(x + near * normalX, y + near * normalY);
    const inside = otherInk.at(x - near * normalX, y - near * normalY);
    if (outside !== inside) {
      return outside === 1 ? -inkBegins(otherInk, x, y, normalX, normalY, -near, near) : Number.NaN;
    }
    // On the other ink: inwards to where it ends; on clear film: outwards to where it begins.
    const way = outside === 1 ? -step : step;
    const wanted = 1 - outside;
    const stepX = way * normalX;
    const stepY = way * normalY;
    const last = Math.floor(reachMm / step + 1 - nearSteps);
    const found = otherInk.firstStep(wanted, x, y, stepX, stepY, nearSteps, last, this.otherCells);
    if (found === 0 && !this.seekStrips) return Number.NaN;
    const end = found === 0 ? last : found - 1;
    const stopped = ownInk.firstStep(wanted, x, y, stepX, stepY, nearSteps, end, this.ownCells);
    if (stopped !== 0 && outside === 1) {
      const far = nearSteps + stopped;
      this.stripMm = -inkBegins(ownInk, x, y, normalX, normalY, -far * step, (1 - far) * step);
    }
    if (found === 0 || stopped !== 0) return Number.NaN;
    const far = nearSteps + found;
    if (outside === 0) {
      const gap = inkBegins(otherInk, x, y, normalX, normalY, (far - 1) * step, far * step);
      return gap > reachMm || this.isCovered(x, y, normalX, normalY, gap) ? Number.NaN : -gap;
    }
    const depth = -inkBegins(otherInk, x, y, normalX, normalY, -far * step, (1 - far) * step);
    // Ink that ends where the other ends lies over it with a flush edge.
    const beyond = depth + step;
    return depth <= reachMm && ownInk.at(x - beyond * normalX, y - beyond * normalY) === 1 ? depth : Number.NaN;
  }

  private isNear(x: number, y: number): boolean {
    const { near } = this;
    const column = Math.floor(x * this.cellsPerMmX);
    const row = Math.floor(y * this.cellsPerMmY);
    if (column < 0 || row < 0 || column >= near.widthPx || row >= near.heightPx) return true;
    return ((near.words[row * near.wordsPerRow + (column >> 5)] >>> (column & 31)) & 1) === 1;
  }

  /** Whether other plates print all across a gap, so that it is none. */
  private isCovered(x: number, y: number, normalX: number, normalY: number, gapMm: number): boolean {
    const { covers } = this;
    if (covers.length === 0) return false;
    for (let share = 0.2; share < 1; share += 0.3) {
      const px = x + share * gapMm * normalX;
      const py = y + share * gapMm * normalY;
      let isInked = false;
      for (let k = 0; k < covers.length && !isInked; k++) isInked = covers[k].at(px, py) === 1;
      if (!isInked) return false;
    }
    return true;
  }
}

/** Where ink begins between `from` (clear) and `to` (ink) along the normal, to a 32nd of that span. */
function inkBegins(
  field: InkField,
  x: number,
  y: number,
  normalX: number,
  normalY: number,
  from: number,
  to: number,
): number {
  let clear = from;
  let ink = to;
  for (let i = 0; i < 5; i++) {
    const middle = (clear + ink) / 2;
    if (field.at(x + middle * normalX, y + middle * normalY) === 1) ink = middle;
    else clear = middle;
  }
  return (clear + ink) / 2;
}
