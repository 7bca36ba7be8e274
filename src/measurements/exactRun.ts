import type { EdgeDirection, NearEdge } from '../geometry/rings.ts';
import { type ExactArt, flatteningMm } from './exactArt.ts';
import { black, clear, type Run, unknown } from './exactSection.ts';
import type { Surroundings } from './exactSurroundings.ts';

/** The width of black or of clear film at a point, exactly. */
export interface ExactRun {
  readonly lengthMm: number;
  /** Its middle. */
  readonly xMm: number;
  readonly yMm: number;
  /** Direction across, of length 1. */
  readonly dx: number;
  readonly dy: number;
  readonly toleranceMm: number;
  /** The sides it lies between are straight and run alike: how far their directions part, in radians; else null. */
  readonly partingRad: number | null;
  /** The topmost layer in it; null for bare film. */
  readonly layer: number | null;
  /** Way from the middle to the nearest edge whichever way it lies: half the width, but less near an end. */
  readonly clearanceMm: number;
}

/** Why there is no width at a point. */
export type NoWidth = 'broad' | 'unknown' | null;

/** At first directions that differ by less are one, then near the best of them those that differ by less still. */
const coarseSine = Math.sin(0.17);
const fineSine = Math.sin(0.02);
const mostDirections = 12;
/** A point is in the middle when the ways to both sides differ by no more than this share of the width. */
const middleShare = 0.02;
/** A section this much aslant on either side tells which way is square to both edges. */
const tiltRad = 0.02;

/**
 * The width of what an ink is at a point, black or clear: the shortest section square to an edge near by. `broad` when
 * it is wider than `reachMm`; `unknown` when something not exactly known may lie at an edge; null when the state is not
 * met within `slackMm` of the point.
 */
export function runAt(
  art: ExactArt,
  xMm: number,
  yMm: number,
  state: typeof clear | typeof black,
  reachMm: number,
  slackMm: number,
): ExactRun | NoWidth {
  const around = art.around(xMm, yMm, 1.5 * reachMm);
  if (around === null) return 'unknown';
  let run = shortestAt(around, xMm, yMm, state, reachMm, slackMm);
  if (run === null || typeof run === 'string') return run;
  let middle = { xMm, yMm };
  if (Math.abs(run.run.from.atMm + run.run.to.atMm) > middleShare * lengthOf(run.run)) {
    middle = middleOf(run, xMm, yMm);
    run = shortestAt(around, middle.xMm, middle.yMm, state, reachMm, 0);
    if (run === null || typeof run === 'string') return run;
  }
  const lengthMm = lengthOf(run.run);
  return {
    lengthMm,
    ...middleOf(run, middle.xMm, middle.yMm),
    dx: run.dx,
    dy: run.dy,
    toleranceMm: run.run.from.toleranceMm + run.run.to.toleranceMm,
    partingRad: run.run.from.toleranceMm + run.run.to.toleranceMm === 0 ? parting(run.run) : null,
    layer: run.run.layer < 0 ? null : run.run.layer,
    clearanceMm: run.clearanceMm,
  };
}

interface Found {
  readonly run: Run;
  readonly dx: number;
  readonly dy: number;
  readonly clearanceMm: number;
}

function lengthOf({ from, to }: Run): number {
  return to.atMm - from.atMm;
}

function middleOf({ run, dx, dy }: Found, xMm: number, yMm: number): { xMm: number; yMm: number } {
  const t = (run.from.atMm + run.to.atMm) / 2;
  return { xMm: xMm + t * dx, yMm: yMm + t * dy };
}

/** The section is square to two straight edges that run alike: no other is shorter. */
function isParallel(run: Run): boolean {
  return run.from.toleranceMm + run.to.toleranceMm === 0 && parting(run) < 1e-6;
}

function parting({ from, to }: Run): number {
  const sine = from.edge!.dx * to.edge!.dy - from.edge!.dy * to.edge!.dx;
  return Math.asin(Math.min(1, Math.abs(sine)));
}

function shortestAt(
  around: Surroundings,
  xMm: number,
  yMm: number,
  state: typeof clear | typeof black,
  reachMm: number,
  slackMm: number,
): Found | NoWidth {
  const opposite = state === black ? clear : black;
  let best: Found | null = null;
  let clearanceMm = Infinity;
  let isMet = false;
  /** The least a width can be that is not exactly known. */
  let doubtfulMm = Infinity;
  const look = (dx: number, dy: number): number | null => {
    const section = around.sectionAlong({ xMm, yMm, dx, dy, reachMm });
    const run = section.runOf(state, slackMm);
    if (run === null) {
      if (section.runOf(unknown, slackMm) !== null) doubtfulMm = 0;
      return null;
    }
    isMet = true;
    const lengthMm = lengthOf(run);
    for (const end of [run.from, run.to]) {
      if (end.beyond === opposite) clearanceMm = Math.min(clearanceMm, Math.abs(end.atMm));
    }
    if (run.from.beyond === opposite && run.to.beyond === opposite) {
      if (best === null || lengthMm < lengthOf(best.run)) best = { run, dx, dy, clearanceMm };
      return lengthMm;
    }
    if (run.from.beyond === unknown || run.to.beyond === unknown) doubtfulMm = Math.min(doubtfulMm, lengthMm);
    return null;
  };
  const edges = around.edgesNear(xMm, yMm, reachMm);
  if (edges.length === 0) look(1, 0);
  const bestMm = () => (best === null ? Infinity : lengthOf((best as Found).run));
  for (const edge of apart(edges, coarseSine, null)) if (edge.awayMm < bestMm()) look(edge.dx, edge.dy);
  if (best === null && doubtfulMm < Infinity) return 'unknown';
  if (best === null) return isMet ? 'broad' : null;
  if (!isParallel((best as Found).run)) {
    for (const edge of apart(edges, fineSine, best)) if (edge.awayMm < bestMm()) look(edge.dx, edge.dy);
    const { dx, dy } = best as Found;
    const lengthMm = bestMm();
    // Edges that part, or curves taken apart: the shortest way lies a little aslant, where three lengths put it.
    const ahead = look(...turned(dx, dy, tiltRad));
    const back = look(...turned(dx, dy, -tiltRad));
    if (ahead !== null && back !== null) {
      const bend = ahead + back - 2 * lengthMm;
      const turn = bend > 0 ? (tiltRad * (back - ahead)) / (2 * bend) : 0;
      if (turn !== 0 && Math.abs(turn) <= 2 * tiltRad) look(...turned(dx, dy, turn));
    }
  }
  return doubtfulMm < bestMm() + flatteningMm ? 'unknown' : { ...(best as Found), clearanceMm };
}

/** Edges in directions that differ, the first ones first; with `beside` those near that direction and not in it. */
function apart(edges: readonly NearEdge[], leastSine: number, beside: EdgeDirection | null): NearEdge[] {
  const sine = (a: EdgeDirection, b: EdgeDirection) => Math.abs(a.dx * b.dy - a.dy * b.dx);
  const kept: NearEdge[] = [];
  for (const edge of edges) {
    if (kept.length === mostDirections) break;
    if (beside !== null && (sine(edge, beside) > coarseSine || sine(edge, beside) <= leastSine)) continue;
    if (kept.every((other) => sine(other, edge) > leastSine)) kept.push(edge);
  }
  return kept;
}

function turned(dx: number, dy: number, byRad: number): [number, number] {
  const cos = Math.cos(byRad);
  const sin = Math.sin(byRad);
  return [dx * cos - dy * sin, dx * sin + dy * cos];
}
