import type { Mark } from './marks.ts';
import type { Ring } from './marksRing.ts';
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
  /** A single straight stroke, which way it runs; null for everything else. */
  readonly lone: 'upright' | 'level' | null;
}

/** A mark about the middle of its ring when it has one, else about the point given. */
export function shapedMark(
  window: MarkWindow,
  about: { readonly column: number; readonly row: number; readonly lineWeightMm: number },
  kind: Mark['kind'],
  ring: Ring | null,
  goesRight: number,
  goesDown: number,
  lone: ShapedMark['lone'] = null,
): ShapedMark {
  const column = ring?.column ?? about.column;
  const row = ring?.row ?? about.row;
  const pitchXMm = window.pitchMm / Math.max(1, window.aspect);
  const pitchYMm = pitchXMm * window.aspect;
  const { seen, width, height } = window;
  const isCut = seen.toColumn - seen.fromColumn < width || seen.toRow - seen.fromRow < height;
  const bar =
    ring === null ? straightBarPx : ring.seenShare < halfSeen ? halfDiscBarPx : isCut ? cutRingBarPx : ringBarPx;
  return {
    mark: {
      kind,
      xMm: (window.left + column) * pitchXMm,
      yMm: (window.top + row) * pitchYMm,
      plusMinusMm: (bar + 0.1 * window.softPx) * window.pitchMm,
      lineWeightMm: Math.max(0, about.lineWeightMm - window.softPx * pitchXMm),
      sizeMm: Math.max(width * pitchXMm, height * pitchYMm),
      reversed: window.reversed,
      cut: isCut,
      artDistanceMm: null,
    },
    window,
    column,
    row,
    ring,
    goesRight,
    goesDown,
    lone,
  };
}

/**
 * A circle averages over edges in all directions. A straight line along the pixels lies anywhere within the half pixel
 * to either side that draws the same pixels; a little more for the fit.
 */
const ringBarPx = 0.12;
const cutRingBarPx = 0.25;
/** Two opposite quadrants of a disc: the arcs hold the centre along one diagonal, and hardly across it. */
const halfSeen = 0.6;
const halfDiscBarPx = 0.35;
const straightBarPx = 0.55;
