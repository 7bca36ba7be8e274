import { other, own } from './field';

/** First look beside an outline, in steps of about a pixel. */
const nearSteps: f64 = 0.75;

let reachMm: f64 = 0;
let seekStrips: bool = false;
/** Cells of the other plane from which an edge of it can be within reach, and how many there are to a mm. */
let near: usize = 0;
let nearWordsPerRow: i32 = 0;
let nearWidth: i32 = 0;
let nearHeight: i32 = 0;
let nearPerMmX: f64 = 0;
let nearPerMmY: f64 = 0;

/** Width of the strip of own ink at the last point read that lies on the other ink from edge to edge; NaN: none. */
export let stripMm: f64 = NaN;

export function setReading(
  reach: f64,
  strips: bool,
  nearCells: usize,
  wordsPerRow: i32,
  width: i32,
  height: i32,
  perMmX: f64,
  perMmY: f64,
): void {
  reachMm = reach;
  seekStrips = strips;
  near = nearCells;
  nearWordsPerRow = wordsPerRow;
  nearWidth = width;
  nearHeight = height;
  nearPerMmX = perMmX;
  nearPerMmY = perMmY;
}

/**
 * Goes across the edge at a point along its outward normal to the other ink's facing edge; answers the overlap in mm,
 * negative for a gap, NaN where there is no facing edge within reach.
 * Inwards both inks must print all the way, outwards neither may: otherwise one merely lies over the other.
 */
export function read(x: f64, y: f64, normalX: f64, normalY: f64): f64 {
  stripMm = NaN;
  if (!seekStrips && !isNear(x, y)) return NaN;
  // A step of about one pixel along the normal, whatever the two pitches.
  const perStepX = normalX / own.pitchXMm;
  const perStepY = normalY / own.pitchYMm;
  const step = 1 / Math.sqrt(perStepX * perStepX + perStepY * perStepY);
  const beside = nearSteps * step;
  const outside = other.at(x + beside * normalX, y + beside * normalY);
  const inside = other.at(x - beside * normalX, y - beside * normalY);
  if (outside != inside) return outside == 1 ? -other.inkBegins(x, y, normalX, normalY, -beside, beside) : NaN;
  // On the other ink: inwards to where it ends; on clear film: outwards to where it begins.
  const way = outside == 1 ? -step : step;
  const wanted = 1 - outside;
  const stepX = way * normalX;
  const stepY = way * normalY;
  const last = <i32>Math.floor(reachMm / step + 1 - nearSteps);
  const found = other.firstStep(wanted, x, y, stepX, stepY, nearSteps, last);
  if (found == 0 && !seekStrips) return NaN;
  const end = found == 0 ? last : found - 1;
  const stopped = own.firstStep(wanted, x, y, stepX, stepY, nearSteps, end);
  if (stopped != 0 && outside == 1) {
    const far = nearSteps + <f64>stopped;
    stripMm = -own.inkBegins(x, y, normalX, normalY, -far * step, (1 - far) * step);
  }
  if (found == 0 || stopped != 0) return NaN;
  const far = nearSteps + <f64>found;
  if (outside == 0) {
    const gap = other.inkBegins(x, y, normalX, normalY, (far - 1) * step, far * step);
    return gap > reachMm ? NaN : -gap;
  }
  const depth = -other.inkBegins(x, y, normalX, normalY, -far * step, (1 - far) * step);
  // Ink that ends where the other ends lies over it with a flush edge.
  const beyond = depth + step;
  return depth <= reachMm && own.at(x - beyond * normalX, y - beyond * normalY) == 1 ? depth : NaN;
}

function isNear(x: f64, y: f64): bool {
  const column = <i32>Math.floor(x * nearPerMmX);
  const row = <i32>Math.floor(y * nearPerMmY);
  if (<u32>column >= <u32>nearWidth || <u32>row >= <u32>nearHeight) return true;
  return ((load<u32>(near + (<usize>(row * nearWordsPerRow + (column >> 5)) << 2)) >> (column & 31)) & 1) == 1;
}
