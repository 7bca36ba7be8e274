import { type NearEdge, nearestOn } from '../geometry/rings.ts';
import { type ExactArt, numberToleranceMm } from './exactArt.ts';
import type { ExactRun } from './exactRun.ts';
import { black, clear } from './exactSection.ts';
import type { NarrowestWidth } from './exactStretch.ts';

const mostRounds = 60;
/** Two sides that come nearer by no more from one round to the next are as near as they come. */
const closeMm = 1e-7;

/**
 * The least way between the two sides of a run where they come nearest each other, as at a corner that points at an
 * edge: from a point of one side to the nearest of the other and back, until that gets no shorter. Null when it leads
 * further away than `withinMm`, or when what lies on the way is not all of the run's state.
 */
export function neckAt(
  art: ExactArt,
  run: ExactRun,
  state: typeof clear | typeof black,
  withinMm: number,
): NarrowestWidth | null {
  const around = art.around(run.xMm, run.yMm, 2 * withinMm);
  if (around === null) return null;
  const edges = around.edgesNear(run.xMm, run.yMm, withinMm);
  const ahead = edges.filter(({ dx, dy }) => dx * run.dx + dy * run.dy > 0);
  const back = edges.filter(({ dx, dy }) => dx * run.dx + dy * run.dy <= 0);
  if (ahead.length === 0 || back.length === 0) return null;
  let from = nearestOf(back, run.xMm, run.yMm);
  let to = nearestOf(ahead, ...from);
  let lengthMm = Infinity;
  for (let round = 0; ; round++) {
    const nextMm = Math.hypot(to[0] - from[0], to[1] - from[1]);
    if (lengthMm - nextMm < closeMm) break;
    if (round === mostRounds) return null;
    lengthMm = nextMm;
    from = nearestOf(back, ...to);
    to = nearestOf(ahead, ...from);
  }
  const [xMm, yMm] = [(from[0] + to[0]) / 2, (from[1] + to[1]) / 2];
  if (lengthMm <= numberToleranceMm || Math.hypot(xMm - run.xMm, yMm - run.yMm) > withinMm) return null;
  const [dx, dy] = [(to[0] - from[0]) / lengthMm, (to[1] - from[1]) / lengthMm];
  const seen = around.sectionAlong({ xMm, yMm, dx, dy, reachMm: lengthMm }).runOf(state, 0);
  if (seen === null) return null;
  const opposite = state === black ? clear : black;
  for (const end of [seen.from, seen.to]) {
    const missMm = Math.abs(Math.abs(end.atMm) - lengthMm / 2);
    if (end.beyond !== opposite || missMm > numberToleranceMm + end.toleranceMm) return null;
  }
  const toleranceMm = seen.from.toleranceMm + seen.to.toleranceMm;
  return { widthMm: lengthMm, plusMinusMm: numberToleranceMm + toleranceMm };
}

function nearestOf(edges: readonly NearEdge[], x: number, y: number): readonly [number, number] {
  let best: readonly [number, number] = nearestOn(edges[0].ends, x, y);
  for (const { ends } of edges) {
    const place = nearestOn(ends, x, y);
    if (Math.hypot(place[0] - x, place[1] - y) < Math.hypot(best[0] - x, best[1] - y)) best = place;
  }
  return best;
}
