import { findCrossedDisc, isQuartered } from './marksDisc.ts';
import { findRing, type Ring } from './marksRing.ts';
import { type ShapedMark, shapedMark } from './marksShaped.ts';
import { findStroke, type Stroke, type StrokeView } from './marksStroke.ts';
import { shapeTick } from './marksTick.ts';
import { isSeen, type MarkWindow, paddedWindow } from './marksWindow.ts';

const squareWithinDeg = 1.5;
const evenArms = 0.08;
const symmetricShare = 0.85;
const explainedShare = 0.95;
const heaviestCross = 0.11;
const heaviestBracket = 0.11;
const heaviestLineMm = 1.2;
/** Four arms show eight changes around the circle, or fewer with black fields between them; a wheel's spokes more. */
const mostTurns = 8;
/** Share of the directions in which a ring shows, and a disc of which only two quadrants are black. */
const ringSeen = 0.6;
const quarteredSeen = 0.35;
/** As many lines of a window are looked at before it is looked at closely. */
const quickLines = 100;
/** A mark of which the film's edge cuts away more than this is not known by its shape. */
const mostCutShare = 0.45;

/** What registration mark a lone piece of ink is, by its shape; null when it is none. */
export function shapeMark(piece: MarkWindow): ShapedMark | null {
  const window = completed(piece);
  const { width, height, aspect } = window;
  const sizeX = width;
  const sizeY = height * aspect;
  if (Math.max(sizeX, sizeY) > 2.2 * Math.min(sizeX, sizeY)) return shapeTick(window);
  return strokedMark(window) ?? crossedDisc(window);
}

function strokedMark(window: MarkWindow): ShapedMark | null {
  const strokes = strokesOf(window);
  if (strokes === null) return null;
  const { column, row } = strokes;
  const middleX = place(column, window.width);
  const middleY = place(row, window.height);
  if (middleX === null || middleY === null) return null;
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

/** An upright and a level stroke at right angles, and where they meet. */
function strokesOf(window: MarkWindow): Strokes | null {
  const { width, height, ink, aspect } = window;
  const down: StrokeView = {
    ink,
    along: height,
    across: width,
    alongStride: width,
    acrossStride: 1,
    alongScale: aspect,
    acrossScale: 1,
  };
  const across: StrokeView = {
    ink,
    along: width,
    across: height,
    alongStride: 1,
    acrossStride: width,
    alongScale: 1,
    acrossScale: aspect,
  };
  for (const view of [down, across]) {
    const step = Math.floor(view.along / quickLines);
    if (step >= 2 && findStroke(view, step) === null) return null;
  }
  const upright = findStroke(down);
  if (upright === null) return null;
  const level = findStroke(across);
  if (level === null) return null;
  // Lines at right angles have opposite slopes once both are measured in the same unit.
  const lean = Math.atan(upright.slope / aspect) + Math.atan(level.slope * aspect);
  if (Math.abs(lean) > (squareWithinDeg * Math.PI) / 180) return null;
  const row = (level.offset + level.slope * upright.offset) / (1 - level.slope * upright.slope);
  const column = upright.offset + upright.slope * row;
  const armPx = (upright.weightPx + level.weightPx * aspect) / 2;
  const lineWeightMm = (armPx * window.pitchMm) / Math.max(1, aspect);
  if (lineWeightMm > heaviestLineMm) return null;
  return { upright, level, column, row, armPx, lineWeightMm };
}

/** A piece cut by the film's edge with the rest of its box added, as its strokes or else its other side tell. */
function completed(piece: MarkWindow): MarkWindow {
  const { seen, width, height, aspect, edges } = piece;
  const cutSides = [edges.left, edges.top, edges.right, edges.bottom].filter(Boolean).length;
  if (cutSides === 0 || (edges.left && edges.right) || (edges.top && edges.bottom)) return piece;
  const strokes = strokesOf(piece);
  let wantedX = Math.max(width, height * aspect);
  let wantedY = wantedX / aspect;
  if (strokes !== null) {
    wantedX = 2 * Math.max(strokes.column, width - strokes.column);
    wantedY = 2 * Math.max(strokes.row, height - strokes.row);
  } else if (cutSides > 1) return piece;
  const moreX = Math.round(wantedX - width);
  const moreY = Math.round(wantedY - height);
  const isSensible = (more: number, wanted: number) => more <= mostCutShare * wanted;
  const addX = (edges.left || edges.right) && moreX > 1 && isSensible(moreX, wantedX) ? moreX : 0;
  const addY = (edges.top || edges.bottom) && moreY > 1 && isSensible(moreY, wantedY) ? moreY : 0;
  if (addX === 0 && addY === 0) return piece;
  const padded = paddedWindow(
    piece,
    edges.left ? addX : 0,
    edges.top ? addY : 0,
    edges.right ? addX : 0,
    edges.bottom ? addY : 0,
  );
  return seen.toColumn === 0 ? piece : padded;
}

/** 0 in the middle of the box, 1 at its start (the rest lies further on), -1 at its end, null elsewhere. */
function place(at: number, size: number): number | null {
  const share = at / size;
  if (Math.abs(share - 0.5) <= evenArms / 2) return 0;
  if (share <= 0.09) return 1;
  return share >= 0.91 ? -1 : null;
}

function crossOrTarget(window: MarkWindow, strokes: Strokes): ShapedMark | null {
  const sizePx = Math.max(window.width, window.height * window.aspect);
  if (symmetry(window, strokes.column, strokes.row) < symmetricShare) return null;
  const explained = inkOnStrokes(window, strokes, 0);
  if (explained >= explainedShare) {
    if (strokes.armPx - window.softPx > Math.max(heaviestCross * sizePx, 3)) return null;
    if (!runsThrough(window, strokes)) return null;
    return shapedMark(window, strokes, 'crosshair', null, 0, 0);
  }
  const ring = ringOrDisc(window, strokes);
  if (ring === null || ring.radiusPx < 0.15 * sizePx || ring.scatterPx > 0.6 + 0.002 * ring.radiusPx) return null;
  const apart = Math.hypot(ring.column - strokes.column, (ring.row - strokes.row) * window.aspect);
  if (apart > 2 + 0.02 * sizePx) return null;
  if (inkOnStrokes(window, strokes, ring.radiusPx + strokes.armPx + 0.07 * sizePx + 2) < 0.9) return null;
  const turns = Math.min(turnsAround(window, ring, 0.5), turnsAround(window, ring, 0.65));
  if (turns > mostTurns) return null;
  return shapedMark(window, strokes, 'target', ring, 0, 0);
}

/** The ring about a cross, or the disc that its arms quarter: black in two quadrants, clear in the others. */
function ringOrDisc(window: MarkWindow, { column, row, armPx }: Strokes): Ring | null {
  const ring = findRing(window, column, row, armPx, ringSeen);
  if (ring !== null) return ring;
  const disc = findRing(window, column, row, armPx, quarteredSeen);
  return disc !== null && isQuartered(window, disc, armPx) ? disc : null;
}

/** Whether both strokes reach nearly from side to side of what is seen of the box. */
function runsThrough({ seen, width, height }: MarkWindow, { upright, level }: Strokes): boolean {
  const downPx = Math.min(height, seen.toRow) - seen.fromRow;
  const acrossPx = Math.min(width, seen.toColumn) - seen.fromColumn;
  return upright.last - upright.first >= 0.9 * downPx && level.last - level.first >= 0.9 * acrossPx;
}

function bracketOrTick(window: MarkWindow, strokes: Strokes, goesRight: number, goesDown: number): ShapedMark | null {
  const sizePx = Math.max(window.width, window.height * window.aspect);
  if (strokes.armPx - window.softPx > Math.max(heaviestBracket * sizePx, 3)) return null;
  if (inkOnStrokes(window, strokes, 0) < explainedShare) return null;
  const kind = goesRight !== 0 && goesDown !== 0 ? 'corner' : 'other';
  return shapedMark(window, strokes, kind, null, goesRight, goesDown);
}

function crossedDisc(window: MarkWindow): ShapedMark | null {
  const disc = findCrossedDisc(window);
  if (disc === null) return null;
  const { ring, whitePx } = disc;
  const about = {
    column: ring.column,
    row: ring.row,
    lineWeightMm: (whitePx * window.pitchMm) / Math.max(1, window.aspect),
  };
  if (symmetry(window, ring.column, ring.row) < symmetricShare) return null;
  return shapedMark(window, about, 'target', ring, 0, 0);
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
    if (!isSeen(window, c, r)) {
      before = -1;
      continue;
    }
    const here = window.ink[r * window.width + c];
    if (before >= 0 && here !== before) turns++;
    before = here;
  }
  return turns;
}

/** Share of the ink that turned half round about a point falls on ink again, to a pixel; where that is on the film. */
function symmetry(window: MarkWindow, column: number, row: number): number {
  const { width, height, ink } = window;
  let count = 0;
  let met = 0;
  for (let r = 0; r < height; r++) {
    for (let c = 0; c < width; c++) {
      if (ink[r * width + c] === 0) continue;
      const oc = Math.floor(2 * column - c - 0.5);
      const or = Math.floor(2 * row - r - 0.5);
      if (
        !isSeen(window, oc, or) &&
        !isSeen(window, Math.max(0, Math.min(width - 1, oc)), Math.max(0, Math.min(height - 1, or)))
      )
        continue;
      count++;
      let found = 0;
      for (let dr = -1; dr <= 1 && found === 0; dr++) {
        const rr = or + dr;
        if (rr < 0 || rr >= height) continue;
        for (let cc = Math.max(0, oc - 1); cc <= Math.min(width - 1, oc + 1); cc++) found |= ink[rr * width + cc];
      }
      met += found;
    }
  }
  return count === 0 ? 0 : met / count;
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
