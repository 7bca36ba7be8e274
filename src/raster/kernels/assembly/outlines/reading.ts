import { other, own } from './field';

/** Whether other plates print all across a gap that begins at a point (mm), so that it is none. */
// @ts-ignore: decorator
@external("covers", "cover")
declare function cover(x: f64, y: f64, acrossX: f64, acrossY: f64): bool;

/** First look beside an outline: three quarters of a step, in 128ths. */
const beside: i64 = 96;

let reachMm: f64 = 0;
let seekStrips: bool = false;
let hasCovers: bool = false;
/** Cells of 8 x 8 px of the other plane from which an edge of it can be within reach. */
let near: usize = 0;
let nearWordsPerRow: i32 = 0;

/** Width of the strip of own ink at the last point read that lies on the other ink from edge to edge; NaN: none. */
export let stripMm: f64 = NaN;

export function setReading(reach: f64, strips: bool, covers: bool, nearCells: usize, wordsPerRow: i32): void {
  reachMm = reach;
  seekStrips = strips;
  hasCovers = covers;
  near = nearCells;
  nearWordsPerRow = wordsPerRow;
}

/**
 * Goes across the edge at a point along its outward normal to the other ink's facing edge; answers the overlap in mm,
 * negative for a gap, NaN where there is no facing edge within reach.
 * Inwards both inks must print all the way, outwards neither may: otherwise one merely lies over the other.
 */
export function read(x: f64, y: f64, normalX: f64, normalY: f64): f64 {
  stripMm = NaN;
  // A step of about one pixel along the normal, whatever the two pitches.
  const perStepX = normalX / own.pitchXMm;
  const perStepY = normalY / own.pitchYMm;
  const step = 1 / Math.sqrt(perStepX * perStepX + perStepY * perStepY);
  other.stand(x, y, step * normalX, step * normalY);
  if (!seekStrips && !isNear()) return NaN;
  const outside = other.at(beside);
  const inside = other.at(-beside);
  if (outside != inside) return outside == 1 ? -mm(other.inkBegins(-beside, beside), step) : NaN;
  // On the other ink: inwards to where it ends; on clear film: outwards to where it begins.
  const direction: i64 = outside == 1 ? -1 : 1;
  const wanted = 1 - outside;
  const last = <i32>(reachMm / step + 0.25);
  const found = other.firstStep(wanted, direction, last);
  if (found == 0 && !seekStrips) return NaN;
  own.stand(x, y, step * normalX, step * normalY);
  const stopped = own.firstStep(wanted, direction, found == 0 ? last : found - 1);
  if (stopped != 0 && outside == 1) stripMm = -mm(own.inkBegins(-reached(stopped), 128 - reached(stopped)), step);
  if (found == 0 || stopped != 0) return NaN;
  if (outside == 0) {
    const gap = mm(other.inkBegins(reached(found) - 128, reached(found)), step);
    return gap > reachMm || (hasCovers && cover(x, y, gap * normalX, gap * normalY)) ? NaN : -gap;
  }
  const inkBegins = other.inkBegins(-reached(found), 128 - reached(found));
  const depth = -mm(inkBegins, step);
  // Ink that ends where the other ends lies over it with a flush edge.
  return depth <= reachMm && own.at(inkBegins - 128) == 1 ? depth : NaN;
}

/** How far so many steps after the first look are, in 128ths of a step. */
// @ts-ignore: decorator
@inline
function reached(steps: i32): i64 {
  return beside + 128 * <i64>steps;
}

// @ts-ignore: decorator
@inline
function mm(steps128: i64, step: f64): f64 {
  return (<f64>steps128 * step) / 128;
}

function isNear(): bool {
  const column = <i32>(other.x >> 32);
  const row = <i32>(other.y >> 32);
  if (other.isOff(column, row)) return true;
  const word = load<u32>(near + (<usize>((row >> 3) * nearWordsPerRow + (column >> 8)) << 2));
  return ((word >> ((column >> 3) & 31)) & 1) == 1;
}
