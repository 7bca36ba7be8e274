import { type ExactArt, flatteningMm } from './exactArt.ts';
import { black, clear, type Run, unknown } from './exactSection.ts';

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
  /** The object it is of, or for clear film the one that cleared it; null for bare film. */
  readonly objectId: string | null;
  /** Way from the middle to the nearest edge whichever way it lies: half the width, but less near an end. */
  readonly clearanceMm: number;
}

/** Directions that differ by less are one. */
const sameDirectionRad = 0.02;
const mostDirections = 16;
/** A section this much aslant on either side tells which way is square to both edges. */
const tiltRad = 0.02;

/**
 * The width of what an ink is at a point, black or clear: the shortest section square to an edge near by. Null when it
 * is wider than `reachMm`, when something not exactly known may lie at an edge, or when the state is not met within
 * `slackMm` of the point.
 */
export function runAt(
  art: ExactArt,
  xMm: number,
  yMm: number,
  state: typeof clear | typeof black,
  reachMm: number,
  slackMm: number,
): ExactRun | null {
  const first = shortestAt(art, xMm, yMm, state, reachMm, slackMm);
  if (first === null) return null;
  const middle = middleOf(first, xMm, yMm);
  const run = shortestAt(art, middle.xMm, middle.yMm, state, reachMm, 0);
  if (run === null) return null;
  const lengthMm = run.run.to.atMm - run.run.from.atMm;
  const object = run.run.layer < 0 ? null : art.layers[run.run.layer].object;
  return {
    lengthMm,
    ...middleOf(run, middle.xMm, middle.yMm),
    dx: run.dx,
    dy: run.dy,
    toleranceMm: run.run.from.toleranceMm + run.run.to.toleranceMm,
    partingRad: run.run.from.toleranceMm + run.run.to.toleranceMm === 0 ? parting(run.run) : null,
    objectId: object?.id ?? null,
    clearanceMm: run.clearanceMm,
  };
}

interface Found {
  readonly run: Run;
  readonly dx: number;
  readonly dy: number;
  readonly clearanceMm: number;
}

function middleOf({ run, dx, dy }: Found, xMm: number, yMm: number): { xMm: number; yMm: number } {
  const t = (run.from.atMm + run.to.atMm) / 2;
  return { xMm: xMm + t * dx, yMm: yMm + t * dy };
}

function parting({ from, to }: Run): number {
  const sine = from.edge!.dx * to.edge!.dy - from.edge!.dy * to.edge!.dx;
  return Math.asin(Math.min(1, Math.abs(sine)));
}

function shortestAt(
  art: ExactArt,
  xMm: number,
  yMm: number,
  state: typeof clear | typeof black,
  reachMm: number,
  slackMm: number,
): Found | null {
  const opposite = state === black ? clear : black;
  let best: Found | null = null;
  let clearanceMm = Infinity;
  /** The least a width can be that is not exactly known. */
  let doubtfulMm = Infinity;
  const look = (dx: number, dy: number): number | null => {
    const section = art.sectionAlong({ xMm, yMm, dx, dy, reachMm });
    if (section === null) {
      doubtfulMm = 0;
      return null;
    }
    const run = section.runOf(state, slackMm);
    if (run === null) {
      if (section.runOf(unknown, slackMm) !== null) doubtfulMm = 0;
      return null;
    }
    const lengthMm = run.to.atMm - run.from.atMm;
    for (const end of [run.from, run.to]) {
      if (end.beyond === opposite) clearanceMm = Math.min(clearanceMm, Math.abs(end.atMm));
    }
    if (run.from.beyond === opposite && run.to.beyond === opposite) {
      if (best === null || lengthMm < best.run.to.atMm - best.run.from.atMm) best = { run, dx, dy, clearanceMm };
      return lengthMm;
    }
    if (run.from.beyond === unknown || run.to.beyond === unknown) doubtfulMm = Math.min(doubtfulMm, lengthMm);
    return null;
  };
  for (const [dx, dy] of art.directionsNear(xMm, yMm, reachMm, sameDirectionRad, mostDirections)) look(dx, dy);
  if (best === null) return null;
  const { dx, dy, run } = best as Found;
  const lengthMm = run.to.atMm - run.from.atMm;
  // Edges that part, or curves taken apart: the shortest way lies a little aslant, where three lengths put it.
  const ahead = look(...turned(dx, dy, tiltRad));
  const back = look(...turned(dx, dy, -tiltRad));
  if (ahead !== null && back !== null) {
    const bend = ahead + back - 2 * lengthMm;
    const turn = bend > 0 ? (tiltRad * (back - ahead)) / (2 * bend) : 0;
    if (turn !== 0 && Math.abs(turn) <= 2 * tiltRad) look(...turned(dx, dy, turn));
  }
  const found = best as Found;
  const foundMm = found.run.to.atMm - found.run.from.atMm;
  return doubtfulMm < foundMm + flatteningMm ? null : { ...found, clearanceMm };
}

function turned(dx: number, dy: number, byRad: number): [number, number] {
  const cos = Math.cos(byRad);
  const sin = Math.sin(byRad);
  return [dx * cos - dy * sin, dx * sin + dy * cos];
}
