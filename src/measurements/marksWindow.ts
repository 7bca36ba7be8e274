import type { BitPlane } from '../raster/bitPlane.ts';
import { bitAt, bitsAt } from '../raster/bitPlane.ts';
import { groupCells } from '../raster/cellGroups.ts';
import { coarsePitchMm, type PixelGrid } from '../raster/pixelGrid.ts';
import { readWindow } from '../raster/window.ts';
import { cellMm, type MarkCells } from './marksCells.ts';

/** A piece of a plane cut out one byte a pixel, 1 = the mark's ink, with the place of its top left pixel. */
export interface MarkWindow {
  readonly left: number;
  readonly top: number;
  readonly width: number;
  readonly height: number;
  readonly ink: Uint8Array;
  /** Height of a pixel in units of its width. */
  readonly aspect: number;
  readonly pitchMm: number;
  /** White on black: `ink` is clear film. */
  readonly reversed: boolean;
  /** The part of the window that lies on the film: a mark may be cut by the film's edge. */
  readonly seen: SeenPart;
  /** Which sides of the window are the film's edge. */
  readonly edges: { readonly left: boolean; readonly top: boolean; readonly right: boolean; readonly bottom: boolean };
  /** How much wider than it is a line looks for the level it was cut at, in pixels. */
  readonly softPx: number;
}

/** Columns and rows of a window, ends not included. */
export interface SeenPart {
  readonly fromColumn: number;
  readonly fromRow: number;
  readonly toColumn: number;
  readonly toRow: number;
}

const smallestMarkMm = 2.6;
const largestMarkMm = 25.5;
const mostUnequal = 1.3;
/** A mark cut by the edge may show half of itself. */
const mostUnequalCut = 2;
/** A shape of at least so many cells is looked at this far in from its sides, and may be inked there by this share. */
const fewestBlobCells = 24;
const blobDepth = 0.12;
const broadShare = 0.5;
/** A tick is no wider than this, however it is turned. */
const widestTickMm = 1.5;

/** The box of a group of cells and what is inked of it, row by row. */
interface CellShape {
  readonly inked: Uint8Array;
  readonly left: number;
  readonly top: number;
  readonly width: number;
  readonly height: number;
}

/**
 * Connected pieces of ink, or of clear film in black, whose box has the shape and size of a registration mark, each
 * alone in its window. Ink nearer to a piece than a cell counts as part of it. Those whose boxes are known are left out.
 */
export function cutMarkWindows(
  bits: BitPlane,
  grid: PixelGrid,
  cells: MarkCells,
  reversed: boolean,
  softPx = 0,
  known = new Set<string>(),
): MarkWindow[] {
  const { factorX, factorY } = cells;
  const plane = reversed ? cells.clear : cells.inked;
  if (plane === null) return [];
  const cellXMm = factorX * grid.pitchXMm;
  const cellYMm = factorY * grid.pitchYMm;
  const slackMm = 2 * Math.max(cellXMm, cellYMm, cellMm);
  const windows: MarkWindow[] = [];
  const size = {
    leastColumns: 1,
    leastRows: 1,
    mostColumns: (largestMarkMm + slackMm) / cellXMm,
    mostRows: (largestMarkMm + slackMm) / cellYMm,
  };
  const isWanted = (left: number, top: number, right: number, bottom: number): boolean => {
    const widthMm = (right - left) * cellXMm;
    const heightMm = (bottom - top) * cellYMm;
    const smaller = Math.min(widthMm, heightMm);
    const larger = Math.max(widthMm, heightMm);
    if (larger < smallestMarkMm) return false;
    if (smaller <= widestTickMm + slackMm / 2 && larger > 2 * smaller) return !reversed && slackMm < 1;
    const atEdge = !reversed && (left === 0 || top === 0 || right === plane.widthPx || bottom === plane.heightPx);
    return (
      smaller >= (atEdge ? 0.5 : 1) * smallestMarkMm &&
      larger - slackMm <= (atEdge ? mostUnequalCut : mostUnequal) * smaller
    );
  };
  for (const group of groupCells(plane, { ...size, isWanted })) {
    const shape =
      cells.finer === null ? shapeOf(group, plane.widthPx) : finerShapeOf(group, plane, cells.finer, reversed);
    const { left, top } = shape;
    const key = `${reversed} ${left} ${top} ${shape.width} ${shape.height}`;
    if (known.has(key)) continue;
    known.add(key);
    const side = cells.finer ?? cells;
    const [wide, tall] = [shape.width * side.factorX * grid.pitchXMm, shape.height * side.factorY * grid.pitchYMm];
    const isLong = Math.max(wide, tall) > 2 * Math.min(wide, tall);
    const { widthPx, heightPx } = side.inked;
    const atEdge = left === 0 || top === 0 || left + shape.width === widthPx || top + shape.height === heightPx;
    if (!isLong && !atEdge && !mayBeMark(bits, shape, side, reversed, softPx)) continue;
    windows.push(cutGroup(bits, grid, group, plane.widthPx, cells, reversed, softPx));
  }
  return windows;
}

/** Whether the cells of a shape leave it open that it is a mark, or a field with a white one. */
function mayBeMark(bits: BitPlane, shape: CellShape, cells: MarkCells, reversed: boolean, softPx: number): boolean {
  const isBlack = !reversed && softPx === 0;
  if (isBlob(shape) && !isCrossed(bits, shape, cells, reversed)) return isBlack && isPierced(bits, shape, cells);
  if (!hasClearCorners(shape)) return isBlack && hasFullSides(shape) && isPierced(bits, shape, cells);
  return holdsStrokes(shape, isEven(shape) ? brokenStroke : wholeStroke);
}

/** Whether the cells next to all four sides are inked nearly throughout. */
function hasFullSides({ inked, width, height }: CellShape): boolean {
  const share = (count: number, at: (i: number) => number): number => {
    let sum = 0;
    for (let i = 0; i < count; i++) sum += at(i);
    return sum / count;
  };
  return (
    share(width, (c) => inked[width + c]) > fullShare &&
    share(width, (c) => inked[(height - 2) * width + c]) > fullShare &&
    share(height, (r) => inked[r * width + 1]) > fullShare &&
    share(height, (r) => inked[r * width + width - 2]) > fullShare
  );
}

const fullShare = 0.85;

/** The box around a group of cells, ends not included. */
function boxOfCells(
  group: Int32Array,
  cellsPerRow: number,
): { left: number; top: number; right: number; bottom: number } {
  let [left, top, right, bottom] = [cellsPerRow, Infinity, 0, 0];
  for (const cell of group) {
    const column = cell % cellsPerRow;
    const row = (cell - column) / cellsPerRow;
    if (column < left) left = column;
    if (column >= right) right = column + 1;
    if (row < top) top = row;
    if (row >= bottom) bottom = row + 1;
  }
  return { left, top, right, bottom };
}

function shapeOf(group: Int32Array, cellsPerRow: number): CellShape {
  const { left, top, right, bottom } = boxOfCells(group, cellsPerRow);
  const width = right - left;
  const inked = new Uint8Array(width * (bottom - top));
  for (const cell of group) {
    const column = cell % cellsPerRow;
    inked[((cell - column) / cellsPerRow - top) * width + column - left] = 1;
  }
  return { inked, left, top, width, height: bottom - top };
}

/** The inked cells of which a group of larger ones was made. */
function finerShapeOf(group: Int32Array, plane: BitPlane, finer: MarkCells, reversed: boolean): CellShape {
  const cells = reversed ? finer.clear! : finer.inked;
  const found: number[] = [];
  for (const cell of group) {
    const column = 3 * (cell % plane.widthPx);
    const row = 3 * Math.floor(cell / plane.widthPx);
    for (let r = row; r < Math.min(cells.heightPx, row + 3); r++) {
      for (let c = column; c < Math.min(cells.widthPx, column + 3); c++) {
        if (bitAt(cells, c, r) === 1) found.push(r * cells.widthPx + c);
      }
    }
  }
  return shapeOf(Int32Array.from(found), cells.widthPx);
}

/**
 * Whether a shape is broad a little way in from three of its sides or all, where most marks show no more than the ends
 * of their arms or the sides of their ring. Small shapes have too few cells to tell.
 */
function isBlob({ inked, width, height }: CellShape): boolean {
  if (Math.min(width, height) < fewestBlobCells) return false;
  const row = Math.round(blobDepth * height);
  const column = Math.round(blobDepth * width);
  let broad = 0;
  for (const r of [row, height - 1 - row]) {
    let count = 0;
    for (let c = 0; c < width; c++) count += inked[r * width + c];
    if (count > broadShare * width) broad++;
  }
  for (const c of [column, width - 1 - column]) {
    let count = 0;
    for (let r = 0; r < height; r++) count += inked[r * width + c];
    if (count > broadShare * height) broad++;
  }
  return broad >= 3;
}

/** Whether the middle of a broad shape is cut through from all four sides, as by a white cross or between quadrants. */
function isCrossed(bits: BitPlane, shape: CellShape, { factorX, factorY }: MarkCells, reversed: boolean): boolean {
  const left = shape.left * factorX;
  const top = shape.top * factorY;
  const width = shape.width * factorX;
  const height = shape.height * factorY;
  const ink = reversed ? 0 : 1;
  const changes = (at: (share: number) => number, count: number): boolean => {
    let turns = 0;
    for (let i = 1; i < count; i++) if ((at(i / count) === ink) !== (at((i - 1) / count) === ink)) turns++;
    return turns >= 1 && turns <= 4;
  };
  let crossed = 0;
  for (const depth of [0.27, 0.73]) {
    const row = Math.round(top + depth * height);
    const column = Math.round(left + depth * width);
    if (changes((s) => bitAt(bits, Math.floor(left + (0.4 + 0.2 * s) * width), row), 0.2 * width)) crossed++;
    if (changes((s) => bitAt(bits, column, Math.floor(top + (0.4 + 0.2 * s) * height)), 0.2 * height)) crossed++;
  }
  return crossed === 4;
}

/** Whether black alternates with clear film along lines through a shape, as in a field with a white mark. */
function isPierced(bits: BitPlane, shape: CellShape, { factorX, factorY }: MarkCells): boolean {
  const row = Math.floor((shape.top + 0.35 * shape.height) * factorY);
  const from = shape.left * factorX;
  let turns = 0;
  for (let i = 1; i < shape.width * factorX; i++) {
    if (bitAt(bits, from + i, row) !== bitAt(bits, from + i - 1, row)) turns++;
  }
  return turns >= 3 && turns <= 16;
}

/**
 * Whether nothing reaches into the corners of a shape's box, as in every mark about its own middle; or no more of it is
 * inked than two strokes that meet to one side.
 */
function hasClearCorners({ inked, width, height }: CellShape): boolean {
  const [across, down] = [Math.floor(cornerShare * width), Math.floor(cornerShare * height)];
  let corners = 0;
  let count = 0;
  for (let r = 0; r < height; r++) {
    const isOuter = r < down || r >= height - down;
    for (let c = 0; c < width; c++) {
      if (inked[r * width + c] === 0) continue;
      count++;
      if (isOuter && (c < across || c >= width - across)) corners++;
    }
  }
  return corners === 0 || count <= (width + height) * (strokeCells + strokeShare * Math.max(width, height));
}

const cornerShare = 0.1;
const strokeCells = 2.3;
const strokeShare = 0.06;

/** Whether a shape is the same turned half round, to a cell. */
function isEven({ inked, width, height }: CellShape): boolean {
  let count = 0;
  let met = 0;
  for (let r = 0; r < height; r++) {
    for (let c = 0; c < width; c++) {
      if (inked[r * width + c] === 0) continue;
      count++;
      const [oc, or] = [width - 1 - c, height - 1 - r];
      let found = 0;
      for (let rr = Math.max(0, or - 1); rr <= Math.min(height - 1, or + 1); rr++) {
        for (let cc = Math.max(0, oc - 1); cc <= Math.min(width - 1, oc + 1); cc++) found |= inked[rr * width + cc];
      }
      met += found;
    }
  }
  return met >= evenShare * count;
}

const evenShare = 0.85;
/** Arms may stop short of the middle; strokes that meet to one side run through. */
const brokenStroke = 0.65;
const wholeStroke = 0.85;

/** Whether some upright and some level band three cells wide is inked nearly all along: true for every mark. */
function holdsStrokes({ inked, width, height }: CellShape, share: number): boolean {
  const longest = (along: number, across: number, at: (a: number, c: number) => number): number => {
    let most = 0;
    for (let c = 0; c < across; c++) {
      let count = 0;
      for (let a = 0; a < along; a++) {
        if (at(a, c) === 1 || (c > 0 && at(a, c - 1) === 1) || (c + 1 < across && at(a, c + 1) === 1)) count++;
      }
      if (count > most) most = count;
    }
    return most / along;
  };
  return (
    longest(height, width, (a, c) => inked[a * width + c]) >= share &&
    longest(width, height, (a, c) => inked[c * width + a]) >= share
  );
}

function cutGroup(
  bits: BitPlane,
  grid: PixelGrid,
  group: Int32Array,
  cellsPerRow: number,
  { factorX, factorY }: MarkCells,
  reversed: boolean,
  softPx: number,
): MarkWindow {
  const box = boxOfCells(group, cellsPerRow);
  const [boxLeft, boxTop] = [box.left * factorX, box.top * factorY];
  const boxWidth = Math.min(grid.widthPx, box.right * factorX) - boxLeft;
  const boxHeight = Math.min(grid.heightPx, box.bottom * factorY) - boxTop;
  const all = new Uint8Array(boxWidth * boxHeight);
  let [left, top, right, bottom] = [boxWidth, boxHeight, -1, -1];
  const turned = reversed ? -1 : 0;
  for (const cell of group) {
    const firstColumn = (cell % cellsPerRow) * factorX;
    const firstRow = Math.floor(cell / cellsPerRow) * factorY;
    const columns = Math.min(factorX, grid.widthPx - firstColumn);
    for (let row = firstRow; row < Math.min(grid.heightPx, firstRow + factorY); row++) {
      for (let part = 0; part < columns; part += 32) {
        const count = Math.min(32, columns - part);
        const mask = count === 32 ? -1 : (1 << count) - 1;
        const run = (bitsAt(bits, firstColumn + part, row, count) ^ turned) & mask;
        if (run === 0) continue;
        const column = firstColumn + part - boxLeft;
        left = Math.min(left, column + 31 - Math.clz32(run & -run));
        right = Math.max(right, column + 31 - Math.clz32(run));
        top = Math.min(top, row - boxTop);
        bottom = Math.max(bottom, row - boxTop);
        const at = (row - boxTop) * boxWidth + column;
        for (let rest = run; rest !== 0; rest &= rest - 1) all[at + 31 - Math.clz32(rest & -rest)] = 1;
      }
    }
  }
  const width = right - left + 1;
  const height = bottom - top + 1;
  const ink = new Uint8Array(width * height);
  for (let row = 0; row < height; row++) {
    const start = (row + top) * boxWidth + left;
    ink.set(all.subarray(start, start + width), row * width);
  }
  left += boxLeft;
  top += boxTop;
  return {
    left,
    top,
    width,
    height,
    ink,
    aspect: grid.pitchYMm / grid.pitchXMm,
    pitchMm: coarsePitchMm(grid),
    reversed,
    seen: wholeOf(width, height),
    edges: {
      left: left === 0,
      top: top === 0,
      right: left + width === grid.widthPx,
      bottom: top + height === grid.heightPx,
    },
    softPx,
  };
}

export function wholeOf(width: number, height: number): SeenPart {
  return { fromColumn: 0, fromRow: 0, toColumn: width, toRow: height };
}

export function isSeen({ seen }: MarkWindow, column: number, row: number): boolean {
  return column >= seen.fromColumn && column < seen.toColumn && row >= seen.fromRow && row < seen.toRow;
}

/** Everything in a box of the plane, its own edges kept to the plane's; null when none of it is on the plane. */
export function cutBox(
  bits: BitPlane,
  grid: PixelGrid,
  left: number,
  top: number,
  right: number,
  bottom: number,
  reversed = false,
): MarkWindow | null {
  const fromColumn = Math.max(0, left);
  const fromRow = Math.max(0, top);
  const width = Math.min(grid.widthPx, right) - fromColumn;
  const height = Math.min(grid.heightPx, bottom) - fromRow;
  if (width <= 0 || height <= 0) return null;
  const ink = readWindow(bits, fromColumn, fromRow, width, height);
  if (reversed) for (let i = 0; i < ink.length; i++) ink[i] ^= 1;
  return {
    left: fromColumn,
    top: fromRow,
    width,
    height,
    ink,
    aspect: grid.pitchYMm / grid.pitchXMm,
    pitchMm: coarsePitchMm(grid),
    reversed,
    seen: wholeOf(width, height),
    edges: {
      left: fromColumn > left,
      top: fromRow > top,
      right: fromColumn + width < right,
      bottom: fromRow + height < bottom,
    },
    softPx: 0,
  };
}

/** A window with clear margins added, which lie beyond the film. */
export function paddedWindow(window: MarkWindow, left: number, top: number, right: number, bottom: number): MarkWindow {
  const width = window.width + left + right;
  const height = window.height + top + bottom;
  const ink = new Uint8Array(width * height);
  for (let row = 0; row < window.height; row++) {
    ink.set(window.ink.subarray(row * window.width, (row + 1) * window.width), (row + top) * width + left);
  }
  const seen = { fromColumn: left, fromRow: top, toColumn: left + window.width, toRow: top + window.height };
  return { ...window, left: window.left - left, top: window.top - top, width, height, ink, seen };
}
