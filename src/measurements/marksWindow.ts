import type { BitPlane } from '../raster/bitPlane.ts';
import { bitsAt } from '../raster/bitPlane.ts';
import { groupCells } from '../raster/cellGroups.ts';
import { coarsePitchMm, type PixelGrid } from '../raster/pixelGrid.ts';
import { readWindow } from '../raster/window.ts';
import { boxOfCells, finerShapeOf, mayBeCut, mayBeMark, mayBeTick, shapeOf } from './marksCellShape.ts';
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
/** A tick is no wider than this, however it is turned. */
const widestTickMm = 1.5;

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
    if (
      atEdge &&
      !isLong &&
      !mayBeCut(shape, left === 0, top === 0, left + shape.width === widthPx, top + shape.height === heightPx)
    )
      continue;
    if (isLong && !mayBeTick(shape)) continue;
    if (!isLong && !atEdge && !mayBeMark(bits, shape, side, reversed, softPx)) continue;
    windows.push(cutGroup(bits, grid, group, plane.widthPx, cells, reversed, softPx));
  }
  return windows;
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
        if (run === mask) all.fill(1, at, at + count);
        else for (let rest = run; rest !== 0; rest &= rest - 1) all[at + 31 - Math.clz32(rest & -rest)] = 1;
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
