import { bitCount } from '../raster/bitCount.ts';
import { type BitPlane, createBitPlane, setBit } from '../raster/bitPlane.ts';
import { discOfDiameter, discOfRadius } from '../raster/disc.ts';
import { openedByDisc } from '../raster/morphology.ts';
import { archiveTilePx } from './archiveFormat.ts';
import { type CommonGrid, type ComparedPlates, holdSameTile, isOnGrid } from './compareTiles.ts';
import type { PlateArchive } from './openArchive.ts';

/** Lighter than this, of 255, a pixel counts as bare. */
export const printsFrom = 24;
/** Tones that differ by less are taken for the same. */
const sameToneWithin = 32;
const side = archiveTilePx;
/** On one grid programs draw the same edge up to a pixel apart; on two, up to a pixel and a half. */
const narrowPx = { sameGrid: 2, otherGrid: 3 };

/**
 * Two plates on one grid with what differs between them by more than the edges of one art differ when two programs draw
 * it: nothing here is narrower than two pixels, or three where the plates had two grids. A pixel prints from a tone of
 * a tenth.
 */
export interface BroadDifference {
  readonly grid: CommonGrid;
  readonly before: BitPlane;
  readonly after: BitPlane;
  readonly gone: BitPlane;
  readonly added: BitPlane;
  /** Prints in both, but lighter or darker than before. */
  readonly toned: BitPlane;
  /** What is narrower was left out, in pixels. */
  readonly narrowPx: number;
}

/** How far the earlier plate is moved before it is compared, in pixels of the grid, to the right and down. */
export interface ShiftPx {
  readonly x: number;
  readonly y: number;
}

/** Null when nothing differs. */
export async function broadDifference(
  plates: ComparedPlates,
  grid: CommonGrid,
  shift: ShiftPx = { x: 0, y: 0 },
): Promise<BroadDifference | null> {
  const { widthPx, heightPx } = grid;
  const plane = () => createBitPlane(widthPx, heightPx);
  const [gone, added, toned] = [plane(), plane(), plane()];
  const isMoved = shift.x !== 0 || shift.y !== 0;
  const mayBeSame = !isMoved && isOnGrid(plates.before, grid) && isOnGrid(plates.after, grid);
  for (const { column, row } of tilesOf(grid)) {
    if (mayBeSame && (await holdSameTile(plates, column, row))) continue;
    if (mayBeSame && [plates.before, plates.after].every(isBits)) {
      const [was, is] = await Promise.all([wordsOf(plates.before, column, row), wordsOf(plates.after, column, row)]);
      layWords(gone, column, row, (at) => was[at] & ~is[at]);
      layWords(added, column, row, (at) => is[at] & ~was[at]);
      continue;
    }
    const [was, is] = await Promise.all([
      tonesOnGrid(plates.before, grid, column, row, shift),
      tonesOnGrid(plates.after, grid, column, row),
    ]);
    for (let at = 0; at < was.length; at++) {
      if (was[at] === is[at]) continue;
      const into = differenceOf(was[at], is[at], gone, added, toned);
      if (into === null) continue;
      const [x, y] = [column * side + (at % side), row * side + Math.floor(at / side)];
      if (x < widthPx && y < heightPx) setBit(into, x, y);
    }
  }
  const narrow = isOnGrid(plates.before, grid) && isOnGrid(plates.after, grid) ? narrowPx.sameGrid : narrowPx.otherGrid;
  const broad = [gone, added, toned].map((one) => withoutNarrow(one, narrow));
  if (broad.every(({ words }) => bitCount(words) === 0)) return null;
  const [before, after] = [
    await printed(plates.before, grid, shift),
    await printed(plates.after, grid, { x: 0, y: 0 }),
  ];
  return { grid, before, after, gone: broad[0], added: broad[1], toned: broad[2], narrowPx: narrow };
}

/** Without what is narrower than so many pixels. */
export function withoutNarrow(plane: BitPlane, px: number): BitPlane {
  if (bitCount(plane.words) === 0) return plane;
  // The digital disc of diameter 2 is the square of 2 px, and that of radius 1.5 the square of 3.
  return openedByDisc(plane, px === 2 ? discOfDiameter(2) : discOfRadius(px / 2));
}

function differenceOf(was: number, is: number, gone: BitPlane, added: BitPlane, toned: BitPlane): BitPlane | null {
  if (was >= printsFrom && is >= printsFrom) return Math.abs(was - is) >= sameToneWithin ? toned : null;
  if (was >= printsFrom) return gone;
  return is >= printsFrom ? added : null;
}

async function printed(archive: PlateArchive | null, grid: CommonGrid, shift: ShiftPx): Promise<BitPlane> {
  const plane = createBitPlane(grid.widthPx, grid.heightPx);
  if (archive === null) return plane;
  const isPlain = isBits(archive) && isOnGrid(archive, grid) && shift.x === 0 && shift.y === 0;
  for (const { column, row } of tilesOf(grid)) {
    if (isPlain) {
      const words = await wordsOf(archive, column, row);
      layWords(plane, column, row, (at) => words[at]);
      continue;
    }
    const tones = await tonesOnGrid(archive, grid, column, row, shift);
    const [across, down] = [Math.min(side, grid.widthPx - column * side), Math.min(side, grid.heightPx - row * side)];
    for (let y = 0; y < down; y++)
      for (let x = 0; x < across; x++)
        if (tones[y * side + x] >= printsFrom) setBit(plane, column * side + x, row * side + y);
  }
  return plane;
}

function isBits(archive: PlateArchive | null): boolean {
  return archive === null || archive.facts.depth === 1;
}

/** A tile of bits as words, 16 to a row. */
async function wordsOf(archive: PlateArchive | null, column: number, row: number): Promise<Uint32Array> {
  if (archive === null || !archive.has(0, column, row)) return new Uint32Array((side * side) / 32);
  return new Uint32Array(Uint8Array.from(await archive.plainTile(column, row)).buffer);
}

/** Writes a tile of words into a plane; `wordAt` by their place within the tile. */
function layWords(plane: BitPlane, column: number, row: number, wordAt: (at: number) => number): void {
  const wordsPerTile = side / 32;
  const across = Math.min(wordsPerTile, Math.ceil(plane.widthPx / 32) - column * wordsPerTile);
  const down = Math.min(side, plane.heightPx - row * side);
  for (let y = 0; y < down; y++) {
    const to = (row * side + y) * plane.wordsPerRow + column * wordsPerTile;
    for (let x = 0; x < across; x++) plane.words[to + x] = wordAt(y * wordsPerTile + x);
  }
}

function* tilesOf({ widthPx, heightPx }: CommonGrid): Generator<{ readonly column: number; readonly row: number }> {
  for (let row = 0; row * side < heightPx; row++)
    for (let column = 0; column * side < widthPx; column++) yield { column, row };
}

/** Tones a plate of any grid has at the middle of each pixel of a tile of another grid, 0 to 255. */
export async function tonesOnGrid(
  archive: PlateArchive | null,
  grid: CommonGrid,
  column: number,
  row: number,
  shift: ShiftPx = { x: 0, y: 0 },
): Promise<Uint8Array> {
  if (archive === null) return new Uint8Array(side * side);
  const [fromX, fromY] = [column * side - shift.x, row * side - shift.y];
  if (isOnGrid(archive, grid)) return archive.readTones(fromX, fromY, side, side);
  const { pitchXMm, pitchYMm } = archive.facts;
  const columnOf = (at: number) => Math.floor(((fromX + at + 0.5) * grid.pitchXMm) / pitchXMm);
  const rowOf = (at: number) => Math.floor(((fromY + at + 0.5) * grid.pitchYMm) / pitchYMm);
  const [left, top] = [columnOf(0), rowOf(0)];
  const [width, height] = [columnOf(side - 1) - left + 1, rowOf(side - 1) - top + 1];
  const tones = await archive.readTones(left, top, width, height);
  const sampled = new Uint8Array(side * side);
  for (let y = 0; y < side; y++) {
    const from = (rowOf(y) - top) * width - left;
    for (let x = 0; x < side; x++) sampled[y * side + x] = tones[from + columnOf(x)];
  }
  return sampled;
}
