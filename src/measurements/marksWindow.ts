import type { BitPlane } from '../raster/bitPlane.ts';
import { bitsAt } from '../raster/bitPlane.ts';
import { groupCells } from '../raster/cellGroups.ts';
import { coarsePitchMm, type PixelGrid } from '../raster/pixelGrid.ts';
import { reducedPlane } from '../raster/reducedPlane.ts';
import { readWindow } from '../raster/window.ts';

/** A piece of a plane cut out one byte a pixel, 1 = ink, with the place of its top left pixel. */
export interface MarkWindow {
  readonly left: number;
  readonly top: number;
  readonly width: number;
  readonly height: number;
  readonly ink: Uint8Array;
  /** Height of a pixel in units of its width. */
  readonly aspect: number;
  readonly pitchMm: number;
}

const smallestMarkMm = 2.8;
const largestMarkMm = 25;
/** A mark and its surroundings are first looked at on cells of about this size (100 to the inch). */
const cellMm = 0.254;
/** Films of more than about two square metres are looked at on larger cells. */
const mostCells = 32_000_000;
const mostUnequal = 1.3;
/** A shape of at least so many cells is looked at this far in from its sides, and may be inked there by this share. */
const fewestBlobCells = 32;
const blobDepth = 0.12;
const broadShare = 0.5;
/** What the cells may add to a box. */
const slackMm = 2 * cellMm;

/**
 * Connected pieces of ink whose box is about square and of the size of a registration mark, each alone in its window.
 * Ink nearer to a piece than about 0.25 mm counts as part of it.
 */
export function cutMarkWindows(bits: BitPlane, grid: PixelGrid): MarkWindow[] {
  const areaMm2 = grid.widthPx * grid.pitchXMm * grid.heightPx * grid.pitchYMm;
  const sideMm = Math.max(cellMm, Math.sqrt(areaMm2 / mostCells));
  const factorX = Math.max(1, Math.round(sideMm / grid.pitchXMm));
  const factorY = Math.max(1, Math.round(sideMm / grid.pitchYMm));
  const cells = reducedPlane(bits, factorX, factorY);
  const windows: MarkWindow[] = [];
  const mostMm = largestMarkMm + slackMm;
  const size = {
    leastColumns: smallestMarkMm / (factorX * grid.pitchXMm),
    leastRows: smallestMarkMm / (factorY * grid.pitchYMm),
    mostColumns: mostMm / (factorX * grid.pitchXMm),
    mostRows: mostMm / (factorY * grid.pitchYMm),
  };
  for (const group of groupCells(cells, size)) {
    let left = cells.widthPx;
    let top = cells.heightPx;
    let right = 0;
    let bottom = 0;
    for (const cell of group) {
      const column = cell % cells.widthPx;
      const row = (cell - column) / cells.widthPx;
      if (column < left) left = column;
      if (column > right) right = column;
      if (row < top) top = row;
      if (row > bottom) bottom = row;
    }
    const widthMm = (right - left + 1) * factorX * grid.pitchXMm;
    const heightMm = (bottom - top + 1) * factorY * grid.pitchYMm;
    const smaller = Math.min(widthMm, heightMm);
    const larger = Math.max(widthMm, heightMm);
    if (smaller < smallestMarkMm) continue;
    if (larger - slackMm > mostUnequal * smaller) continue;
    const shape = cellsOf(group, cells.widthPx, left, top, right - left + 1, bottom - top + 1);
    if (isBlob(shape) || !holdsStrokes(shape)) continue;
    windows.push(cutGroup(bits, grid, group, cells.widthPx, factorX, factorY));
  }
  return windows;
}

/** The cells of a group in their box, row by row, 1 = ink. */
interface CellShape {
  readonly inked: Uint8Array;
  readonly width: number;
  readonly height: number;
}

function cellsOf(
  group: Int32Array,
  cellsPerRow: number,
  left: number,
  top: number,
  width: number,
  height: number,
): CellShape {
  const inked = new Uint8Array(width * height);
  for (const cell of group) {
    const column = cell % cellsPerRow;
    inked[((cell - column) / cellsPerRow - top) * width + column - left] = 1;
  }
  return { inked, width, height };
}

/**
 * Whether a shape is broad a little way in from three of its sides or all, where a mark shows no more than the ends of
 * its arms or the sides of its ring. Small shapes have too few cells to tell.
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
    longest(height, width, (a, c) => inked[a * width + c]) >= 0.85 &&
    longest(width, height, (a, c) => inked[c * width + a]) >= 0.85
  );
}

function cutGroup(
  bits: BitPlane,
  grid: PixelGrid,
  group: Int32Array,
  cellsPerRow: number,
  factorX: number,
  factorY: number,
): MarkWindow {
  let left = grid.widthPx;
  let top = grid.heightPx;
  let right = 0;
  let bottom = 0;
  const eachRun = (take: (column: number, row: number, ink: number) => void): void => {
    for (const cell of group) {
      const firstColumn = (cell % cellsPerRow) * factorX;
      const firstRow = Math.floor(cell / cellsPerRow) * factorY;
      for (let row = firstRow; row < Math.min(grid.heightPx, firstRow + factorY); row++) {
        for (let part = 0; part < factorX; part += 32) {
          const ink = bitsAt(bits, firstColumn + part, row, Math.min(32, factorX - part));
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
  return { left, top, width, height, ink, aspect: grid.pitchYMm / grid.pitchXMm, pitchMm: coarsePitchMm(grid) };
}

/** Everything in a box of the plane, its own edges kept to the plane's; null when none of it is on the plane. */
export function cutBox(
  bits: BitPlane,
  grid: PixelGrid,
  left: number,
  top: number,
  right: number,
  bottom: number,
): MarkWindow | null {
  const fromColumn = Math.max(0, left);
  const fromRow = Math.max(0, top);
  const width = Math.min(grid.widthPx, right) - fromColumn;
  const height = Math.min(grid.heightPx, bottom) - fromRow;
  if (width <= 0 || height <= 0) return null;
  const ink = readWindow(bits, fromColumn, fromRow, width, height);
  return {
    left: fromColumn,
    top: fromRow,
    width,
    height,
    ink,
    aspect: grid.pitchYMm / grid.pitchXMm,
    pitchMm: coarsePitchMm(grid),
  };
}
