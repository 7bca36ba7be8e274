import type { EdgeFinder } from '../raster/edgeDistance.ts';
import { EdgeTrace } from '../raster/edgeTrace.ts';
import { EdgeCurve, mostReachPx, reachOfBend } from './detailEdgeCurve.ts';
import type { FittedWidth } from './detailFit.ts';

/** A bend from which on the edge inside must bend more than the one outside, and the least radius it then has. */
const leastBend = 0.01;
const leastRadiusPx = 1;
/** Cosine of the angle between both edges, followed round the stretch: they run against each other. */
const leastAgainst = -0.85;
/** Edges that are no parabolas may lie outside all that fit. */
const wider = 1.15;

const ahead = new EdgeTrace();
const behind = new EdgeTrace();

/**
 * Width at a point of a stretch that bends tightly or soon ends: each edge is followed for itself from pixel to pixel,
 * as far as a parabola can be laid along it, and the ways from the point to both are added. Null where one of the edges
 * is too short for that, or they do not lie opposite each other.
 */
export function fitTightWidth(
  finder: EdgeFinder,
  x: number,
  y: number,
  tangentX: number,
  tangentY: number,
  rowPitch: number,
  limitPx: number,
): FittedWidth | null {
  const long = Math.hypot(tangentX, tangentY * rowPitch);
  const acrossX = (tangentY * rowPitch) / long;
  const acrossY = -tangentX / long;
  if (!ahead.follow(finder, x, y, acrossX, acrossY, rowPitch, limitPx)) return null;
  const one = new EdgeCurve(ahead);
  if (!one.lay(mostReachPx)) return null;
  if (!behind.follow(finder, x, y, -acrossX, -acrossY, rowPitch, limitPx)) return null;
  const other = new EdgeCurve(behind);
  if (!other.lay(mostReachPx)) return null;
  // Both ways lie in one line, or one of them leads to the end of the stretch.
  if (one.ux * other.ux + one.uy * other.uy > leastAgainst) return null;
  const [inner, outer] = one.bend > other.bend ? [one, other] : [other, one];
  if (!fitsInside(inner, outer)) return null;
  const first = inner.way();
  const second = first === null ? null : outer.way();
  if (first === null || second === null) return null;
  return { widthPx: first.wayPx + second.wayPx, plusMinusPx: wider * (first.plusMinusPx + second.plusMinusPx) };
}

/** Lays the curve inside a bend over less of its edge where the one outside says that it must bend more tightly. */
function fitsInside(inner: EdgeCurve, outer: EdgeCurve): boolean {
  if (outer.bend > -leastBend) return true;
  const radius = Math.max(leastRadiusPx, -0.5 / outer.bend - inner.value - outer.value);
  const reachPx = reachOfBend(0.5 / radius);
  return inner.reachPx <= 1.3 * reachPx || inner.lay(reachPx);
}
