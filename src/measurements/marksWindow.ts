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
 * The ink of a window serves the next one again: what is kept needs a copy.
 */
export function* cutMarkWindows(
  bits: BitPlane,
  grid: PixelGrid,
  cells: MarkCells,
  reversed: boolean,
  softPx = 0,
  known = new Set<string>(),
): Iterable<MarkWindow> {
  const { factorX, factorY } = cells;
  const plane = reversed ? cells.clear : cells.inked;
  if (plane === null) return;
  const cellXMm = factorX * grid.pitchXMm;
  const cellYMm = factorY * grid.pitchYMm;
  const slackMm = 2 * Math.max(cellXMm, cellYMm, cellMm);
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
    yield cutGroup(bits, grid, group, plane.widthPx, cells, reversed, softPx);
  }
}

let inkOfLast = new Uint8Array(0);

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
  const wordsPerRow = Math.ceil(boxWidth / 32);
  const masks = cellMasks(group, cellsPerRow, box, wordsPerRow, factorX, boxWidth);
  const found = new Int32Array(wordsPerRow * boxHeight);
  const columnsSeen = new Int32Array(wordsPerRow);
  const turned = reversed ? -1 : 0;
  let [top, bottom] = [boxHeight, -1];
  for (let row = 0; row < boxHeight; row++) {
    const ofCells = Math.floor(row / factorY) * wordsPerRow;
    for (let word = 0; word < wordsPerRow; word++) {
      const mask = masks[ofCells + word];
      if (mask === 0) continue;
      const run = (bitsAt(bits, boxLeft + 32 * word, boxTop + row, 32) ^ turned) & mask;
      if (run === 0) continue;
      found[row * wordsPerRow + word] = run;
      columnsSeen[word] |= run;
      if (row < top) top = row;
      bottom = row;
    }
  }
  let [firstWord, lastWord] = [0, wordsPerRow - 1];
  while (columnsSeen[firstWord] === 0) firstWord++;
  while (columnsSeen[lastWord] === 0) lastWord--;
  const [first, last] = [columnsSeen[firstWord], columnsSeen[lastWord]];
  let left = 32 * firstWord + 31 - Math.clz32(first & -first);
  const width = 32 * lastWord + 32 - Math.clz32(last) - left;
  const height = bottom - top + 1;
  if (inkOfLast.length < width * height) inkOfLast = new Uint8Array(2 * width * height);
  const ink = inkOfLast.subarray(0, width * height).fill(0);
  for (let row = 0; row < height; row++) {
    for (let word = firstWord; word <= lastWord; word++) {
      const at = row * width - left + 32 * word;
      for (let rest = found[(row + top) * wordsPerRow + word]; rest !== 0; rest &= rest - 1) {
        ink[at + 31 - Math.clz32(rest & -rest)] = 1;
      }
    }
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

/** The columns of a box that lie in cells of a group, as bits, for each row of cells. */
function cellMasks(
  group: Int32Array,
  cellsPerRow: number,
  box: { left: number; top: number; bottom: number },
  wordsPerRow: number,
  factorX: number,
  boxWidth: number,
): Int32Array {
  const masks = new Int32Array(wordsPerRow * (box.bottom - box.top));
  for (let k = 0; k < group.length; k++) {
    const row = Math.floor(group[k] / cellsPerRow);
    const first = (group[k] - row * cellsPerRow - box.left) * factorX;
    const end = Math.min(boxWidth, first + factorX);
    for (let from = first; from < end; from = (from | 31) + 1) {
      const count = Math.min(end, (from | 31) + 1) - from;
      masks[(row - box.top) * wordsPerRow + (from >> 5)] |= (-1 >>> (32 - count)) << (from & 31);
    }
  }
  return masks;
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
