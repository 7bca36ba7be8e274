import type { Mark } from './marks.ts';
import { findRing, type Ring } from './marksRing.ts';
import { findStroke, type Stroke } from './marksStroke.ts';
import type { MarkWindow } from './marksWindow.ts';

/** A mark with what is needed to look for it on another plate. */
export interface ShapedMark {
  readonly mark: Mark;
  readonly window: MarkWindow;
  /** Centre in the window, pixel-edge coordinates. */
  readonly column: number;
  readonly row: number;
  readonly ring: Ring | null;
  /** Which way the strokes of a corner or tick go from their meeting: -1, 0 (both ways) or 1, right and down positive. */
  readonly goesRight: number;
  readonly goesDown: number;
}

const squareWithinDeg = 1.5;
const evenArms = 0.08;
const symmetricShare = 0.85;
const explainedShare = 0.95;
const heaviestCross = 0.085;
const heaviestBracket = 0.06;
const heaviestLineMm = 1.2;
/** Four arms show eight changes around the circle, or fewer with black fields between them; a wheel's spokes more. */
const mostTurns = 8;

/** What registration mark a lone piece of ink is, by its shape; null when it is none. */
export function shapeMark(window: MarkWindow): ShapedMark | null {
  const { width, height, ink, aspect } = window;
  const upright = findStroke((a, c) => ink[a * width + c], height, width, aspect, 1);
  if (upright === null) return null;
  const level = findStroke((a, c) => ink[c * width + a], width, height, 1, aspect);
  if (level === null) return null;
  // Lines at right angles have opposite slopes once both are measured in the same unit.
  const lean = Math.atan(upright.slope / aspect) + Math.atan(level.slope * aspect);
  if (Math.abs(lean) > (squareWithinDeg * Math.PI) / 180) return null;
  const row = (level.offset + level.slope * upright.offset) / (1 - level.slope * upright.slope);
  const column = upright.offset + upright.slope * row;
  const armPx = (upright.weightPx + level.weightPx * aspect) / 2;
  const lineWeightMm = (armPx * window.pitchMm) / Math.max(1, aspect);
  if (lineWeightMm > heaviestLineMm) return null;
  const middleX = place(column, width);
  const middleY = place(row, height);
  if (middleX === null || middleY === null) return null;
  const strokes = { upright, level, column, row, armPx, lineWeightMm };
  if (middleX === 0 && middleY === 0) return crossOrTarget(window, strokes);
  return bracketOrTick(window, strokes, middleX, middleY);
}

interface Strokes {
  readonly upright: Stroke;
  readonly level: Stroke;
  readonly column: number;
  readonly row: number;
  readonly armPx: number;
  readonly lineWeightMm: number;
}

/** 0 in the middle of the box, 1 at its start (the rest lies further on), -1 at its end, null elsewhere. */
function place(at: number, size: number): number | null {
  const share = at / size;
  if (Math.abs(share - 0.5) <= evenArms / 2) return 0;
  if (share <= 0.07) return 1;
  return share >= 0.93 ? -1 : null;
}

function crossOrTarget(window: MarkWindow, strokes: Strokes): ShapedMark | null {
  const sizePx = Math.max(window.width, window.height * window.aspect);
  if (symmetry(window, strokes.column, strokes.row) < symmetricShare) return null;
  const explained = inkOnStrokes(window, strokes, 0);
  if (explained >= explainedShare) {
    return strokes.armPx <= heaviestCross * sizePx ? shaped(window, strokes, 'crosshair', null, 0, 0) : null;
  }
  const ring = findRing(window, strokes.column, strokes.row, strokes.armPx);
  if (ring === null || ring.radiusPx < 0.15 * sizePx || ring.scatterPx > 0.6 + 0.002 * ring.radiusPx) return null;
  const apart = Math.hypot(ring.column - strokes.column, (ring.row - strokes.row) * window.aspect);
  if (apart > 2 + 0.02 * sizePx) return null;
  if (inkOnStrokes(window, strokes, ring.radiusPx + strokes.armPx + 2) < 0.9) return null;
  const turns = Math.min(turnsAround(window, ring, 0.5), turnsAround(window, ring, 0.65));
  if (turns > mostTurns) return null;
  return shaped(window, strokes, 'target', ring, 0, 0);
}

function bracketOrTick(window: MarkWindow, strokes: Strokes, goesRight: number, goesDown: number): ShapedMark | null {
  const sizePx = Math.max(window.width, window.height * window.aspect);
  if (strokes.armPx > heaviestBracket * sizePx) return null;
  if (inkOnStrokes(window, strokes, 0) < explainedShare) return null;
  const kind = goesRight !== 0 && goesDown !== 0 ? 'corner' : 'other';
  return shaped(window, strokes, kind, null, goesRight, goesDown);
}

function shaped(
  window: MarkWindow,
  strokes: Strokes,
  kind: Mark['kind'],
  ring: Ring | null,
  goesRight: number,
  goesDown: number,
): ShapedMark {
  const column = ring?.column ?? strokes.column;
  const row = ring?.row ?? strokes.row;
  const pitchXMm = window.pitchMm / Math.max(1, window.aspect);
  const pitchYMm = pitchXMm * window.aspect;
  return {
    mark: {
      kind,
      xMm: (window.left + column) * pitchXMm,
      yMm: (window.top + row) * pitchYMm,
      // A circle averages over edges in all directions; a straight line along the pixels sits where they allow.
      plusMinusMm: (ring !== null ? 0.1 : 0.5) * window.pitchMm,
      lineWeightMm: strokes.lineWeightMm,
      sizeMm: Math.max(window.width * pitchXMm, window.height * pitchYMm),
    },
    window,
    column,
    row,
    ring,
    goesRight,
    goesDown,
  };
}

/** How often ink and clear film change around a circle inside the ring. */
function turnsAround(window: MarkWindow, ring: Ring, share: number): number {
  const radius = share * ring.radiusPx;
  const count = Math.max(360, Math.ceil(4 * Math.PI * radius));
  let turns = 0;
  let before = -1;
  for (let i = 0; i <= count; i++) {
    const angle = (2 * Math.PI * i) / count + 0.4;
    const c = Math.floor(ring.column + radius * Math.cos(angle));
    const r = Math.floor(ring.row + (radius * Math.sin(angle)) / window.aspect);
    const here = c < 0 || r < 0 || c >= window.width || r >= window.height ? 0 : window.ink[r * window.width + c];
    if (before >= 0 && here !== before) turns++;
    before = here;
  }
  return turns;
}

/** Share of the ink that turned half round about a point falls on ink again, to a pixel. */
function symmetry(window: MarkWindow, column: number, row: number): number {
  const { width, height, ink } = window;
  let count = 0;
  let met = 0;
  for (let r = 0; r < height; r++) {
    for (let c = 0; c < width; c++) {
      if (ink[r * width + c] === 0) continue;
      count++;
      const oc = Math.floor(2 * column - c - 0.5);
      const or = Math.floor(2 * row - r - 0.5);
      let found = 0;
      for (let dr = -1; dr <= 1 && found === 0; dr++) {
        const rr = or + dr;
        if (rr < 0 || rr >= height) continue;
        for (let cc = Math.max(0, oc - 1); cc <= Math.min(width - 1, oc + 1); cc++) found |= ink[rr * width + cc];
      }
      met += found;
    }
  }
  return met / count;
}

/** Share of the ink further than `beyondPx` from the centre that lies on the two strokes. */
function inkOnStrokes(window: MarkWindow, strokes: Strokes, beyondPx: number): number {
  const { width, height, ink, aspect } = window;
  const { upright, level } = strokes;
  let count = 0;
  let on = 0;
  for (let r = 0; r < height; r++) {
    for (let c = 0; c < width; c++) {
      if (ink[r * width + c] === 0) continue;
      if (Math.hypot(c + 0.5 - strokes.column, (r + 0.5 - strokes.row) * aspect) < beyondPx) continue;
      count++;
      const offUpright = Math.abs(c + 0.5 - upright.offset - upright.slope * (r + 0.5));
      const offLevel = Math.abs(r + 0.5 - level.offset - level.slope * (c + 0.5));
      if (offUpright <= upright.weightPx / 2 + 1 || offLevel <= level.weightPx / 2 + 1) on++;
    }
  }
  return count === 0 ? 1 : on / count;
}
