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
 * alone in its window. Ink nearer to a piece than a cell counts as part of it.
 */
export function cutMarkWindows(
  bits: BitPlane,
  grid: PixelGrid,
  cells: MarkCells,
  reversed: boolean,
  softPx = 0,
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
    const shape = shapeOf(group, plane.widthPx);
    const isLong =
      Math.max(shape.width * cellXMm, shape.height * cellYMm) >
      2 * Math.min(shape.width * cellXMm, shape.height * cellYMm);
    const atEdge =
      shape.left === 0 ||
      shape.top === 0 ||
      shape.left + shape.width === plane.widthPx ||
      shape.top + shape.height === plane.heightPx;
    if (!isLong && !atEdge) {
      if (isBlob(shape) && !isCrossed(bits, shape, cells, reversed)) {
        if (reversed || softPx > 0 || !isPierced(bits, shape, cells)) continue;
      }
      if (!holdsStrokes(shape)) continue;
    }
    windows.push(cutGroup(bits, grid, group, plane.widthPx, cells, reversed, softPx));
  }
  return windows;
}

function shapeOf(group: Int32Array, cellsPerRow: number): CellShape {
  let left = cellsPerRow;
  let top = Infinity;
  let right = 0;
  let bottom = 0;
  for (const cell of group) {
    const column = cell % cellsPerRow;
    const row = (cell - column) / cellsPerRow;
    if (column < left) left = column;
    if (column > right) right = column;
    if (row < top) top = row;
    if (row > bottom) bottom = row;
  }
  const width = right - left + 1;
  const height = bottom - top + 1;
  const inked = new Uint8Array(width * height);
  for (const cell of group) {
    const column = cell % cellsPerRow;
    inked[((cell - column) / cellsPerRow - top) * width + column - left] = 1;
  }
  return { inked, left, top, width, height };
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

/** Whether some upright and some level band three cells wide is inked nearly all along: true for every mark. */
function holdsStrokes({ inked, width, height }: CellShape): boolean {
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
    longest(height, width, (a, c) => inked[a * width + c]) >= 0.65 &&
    longest(width, height, (a, c) => inked[c * width + a]) >= 0.65
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
  let left = grid.widthPx;
  let top = grid.heightPx;
  let right = 0;
  let bottom = 0;
  const turned = reversed ? -1 : 0;
  const eachRun = (take: (column: number, row: number, ink: number) => void): void => {
    for (const cell of group) {
      const firstColumn = (cell % cellsPerRow) * factorX;
      const firstRow = Math.floor(cell / cellsPerRow) * factorY;
      const columns = Math.min(factorX, grid.widthPx - firstColumn);
      for (let row = firstRow; row < Math.min(grid.heightPx, firstRow + factorY); row++) {
        for (let part = 0; part < columns; part += 32) {
          const count = Math.min(32, columns - part);
          const mask = count === 32 ? -1 : (1 << count) - 1;
          const ink = (bitsAt(bits, firstColumn + part, row, count) ^ turned) & mask;
          if (ink !== 0) take(firstColumn + part, row, ink);
        }
      }
    }
  };
  eachRun((column, row, ink) => {
    const first = column + 31 - Math.clz32(ink & -ink);
    const last = column + 31 - Math.clz32(ink);
    if (first < left) left = first;
    if (last > right) right = last;
    if (row < top) top = row;
    if (row > bottom) bottom = row;
  });
  const width = right - left + 1;
  const height = bottom - top + 1;
  const ink = new Uint8Array(width * height);
  eachRun((column, row, run) => {
    const at = (row - top) * width + column - left;
    for (let rest = run; rest !== 0; rest &= rest - 1) ink[at + 31 - Math.clz32(rest & -rest)] = 1;
  });
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
