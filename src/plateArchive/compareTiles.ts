import { archiveTilePx } from './archiveFormat.ts';
import { type PlateArchive, spreadBits } from './openArchive.ts';

/** Tones that differ by less are taken for the same, of 255. */
const sameToneWithin = 32;

/** The grid two plates are compared on; that of the later one, and as large as the larger. */
export interface CommonGrid {
  readonly widthPx: number;
  readonly heightPx: number;
  readonly pitchXMm: number;
  readonly pitchYMm: number;
}

/** What only the earlier plate has (gone) and only the later (added); bits in rows of 64 bytes, lowest bit first. */
export interface TileDifference {
  readonly gone: Uint8Array;
  readonly added: Uint8Array;
}

/** An ink's plate before and after; null where there was none. */
export interface ComparedPlates {
  readonly before: PlateArchive | null;
  readonly after: PlateArchive | null;
}

export function isOnGrid(archive: PlateArchive | null, { pitchXMm, pitchYMm }: CommonGrid): boolean {
  return archive === null || (archive.facts.pitchXMm === pitchXMm && archive.facts.pitchYMm === pitchYMm);
}

/**
 * The difference of a tile of the common grid; null when there is none. Plates on that grid are compared pixel by pixel;
 * of others what is narrower than three pixels is left out, as edges drawn at two resolutions differ by as much.
 */
export async function tileDifference(
  { before, after }: ComparedPlates,
  grid: CommonGrid,
  column: number,
  row: number,
): Promise<TileDifference | null> {
  if (before === null && after === null) return null;
  if (!isOnGrid(before, grid) || !isOnGrid(after, grid))
    return resampledDifference({ before, after }, grid, column, row);
  if (await holdSameTile({ before, after }, column, row)) return null;
  const [tileBefore, tileAfter] = await Promise.all([plainOf(before, column, row), plainOf(after, column, row)]);
  const hasTones = before?.facts.depth === 8 || after?.facts.depth === 8;
  return hasTones
    ? toneDifference(tonesOf(tileBefore, before), tonesOf(tileAfter, after))
    : bitDifference(tileBefore, tileAfter);
}

/** Whether two plates of one grid surely have the same pixels in a tile, without spreading it out. */
export async function holdSameTile({ before, after }: ComparedPlates, column: number, row: number): Promise<boolean> {
  const [was, is] = await Promise.all([keptOf(before, column, row), keptOf(after, column, row)]);
  if (isFlat(was) && isFlat(is)) return was === is;
  // What was packed of the same pixels is the same bytes.
  const sameDepth = before?.facts.depth === after?.facts.depth;
  return sameDepth && isPacked(was) && isPacked(is) && sameBytes(was, is);
}

type Kept = 'clear' | 'solid' | Uint8Array;

async function keptOf(archive: PlateArchive | null, column: number, row: number): Promise<Kept> {
  const tile = (await archive?.keptTile(0, column, row)) ?? null;
  if (tile === null) return 'clear';
  return tile.kind === 'packed' ? tile.bytes : tile.kind;
}

function isFlat(kept: Kept): kept is 'clear' | 'solid' {
  return typeof kept === 'string';
}

function isPacked(kept: Kept): kept is Uint8Array {
  return typeof kept !== 'string';
}

function sameBytes(a: Uint8Array, b: Uint8Array): boolean {
  return a.length === b.length && a.every((byte, index) => byte === b[index]);
}

async function plainOf(archive: PlateArchive | null, column: number, row: number): Promise<Uint8Array> {
  if (archive === null || !archive.has(0, column, row)) return new Uint8Array(tileBytes(archive?.facts.depth ?? 1));
  return archive.plainTile(column, row);
}

function tileBytes(depth: 1 | 8): number {
  return (archiveTilePx * archiveTilePx * depth) / 8;
}

/** One byte a pixel, 0 to 255. */
function tonesOf(tile: Uint8Array, archive: PlateArchive | null): Uint8Array {
  if (archive === null) return new Uint8Array(tileBytes(8));
  return archive.facts.depth === 8 ? tile : spreadBits(tile);
}

function bitDifference(was: Uint8Array, is: Uint8Array): TileDifference | null {
  const gone = new Uint8Array(was.length);
  const added = new Uint8Array(was.length);
  let any = 0;
  for (let at = 0; at < was.length; at++) {
    gone[at] = was[at] & ~is[at];
    added[at] = is[at] & ~was[at];
    any |= gone[at] | added[at];
  }
  return any === 0 ? null : { gone, added };
}

function toneDifference(was: Uint8Array, is: Uint8Array): TileDifference | null {
  const gone = new Uint8Array(tileBytes(1));
  const added = new Uint8Array(tileBytes(1));
  let isChanged = false;
  for (let at = 0; at < was.length; at++) {
    const more = is[at] - was[at];
    if (Math.abs(more) < sameToneWithin) continue;
    isChanged = true;
    (more > 0 ? added : gone)[at >> 3] |= 1 << (at & 7);
  }
  return isChanged ? { gone, added } : null;
}

async function resampledDifference(
  { before, after }: ComparedPlates,
  grid: CommonGrid,
  column: number,
  row: number,
): Promise<TileDifference | null> {
  const [was, is] = await Promise.all([sampled(before, grid, column, row), sampled(after, grid, column, row)]);
  const difference = bitDifference(was, is);
  if (difference === null) return null;
  const [gone, added] = [opened(difference.gone), opened(difference.added)];
  return gone.some((byte) => byte !== 0) || added.some((byte) => byte !== 0) ? { gone, added } : null;
}

/** What a plate of any grid has at the middle of each pixel of a tile of another. */
async function sampled(
  archive: PlateArchive | null,
  grid: CommonGrid,
  column: number,
  row: number,
): Promise<Uint8Array> {
  const bits = new Uint8Array(tileBytes(1));
  if (archive === null) return bits;
  const { pitchXMm, pitchYMm } = archive.facts;
  const columnOf = (at: number) => Math.floor(((column * archiveTilePx + at + 0.5) * grid.pitchXMm) / pitchXMm);
  const rowOf = (at: number) => Math.floor(((row * archiveTilePx + at + 0.5) * grid.pitchYMm) / pitchYMm);
  const [left, top] = [columnOf(0), rowOf(0)];
  const [right, bottom] = [columnOf(archiveTilePx - 1), rowOf(archiveTilePx - 1)];
  const plane = await archive.readBits(left, top, right - left + 1, bottom - top + 1);
  const columns = Int32Array.from({ length: archiveTilePx }, (_, at) => columnOf(at) - left);
  for (let line = 0; line < archiveTilePx; line++) {
    const from = (rowOf(line) - top) * plane.wordsPerRow;
    for (let at = 0; at < archiveTilePx; at++) {
      const from32 = columns[at];
      if ((plane.words[from + (from32 >> 5)] >>> (from32 & 31)) & 1)
        bits[(line * archiveTilePx + at) >> 3] |= 1 << (at & 7);
    }
  }
  return bits;
}

/** Without what is narrower than three pixels; what lies beyond the tile counts as going on. */
function opened(bits: Uint8Array): Uint8Array {
  const side = archiveTilePx;
  const isSet = (column: number, row: number) =>
    column < 0 || row < 0 || column >= side || row >= side
      ? true
      : ((bits[(row * side + column) >> 3] >> (column & 7)) & 1) === 1;
  const kept = new Uint8Array(bits.length);
  for (let byte = 0; byte < bits.length; byte++) {
    if (bits[byte] === 0) continue;
    for (let bit = 0; bit < 8; bit++) {
      const at = 8 * byte + bit;
      const [column, row] = [at % side, Math.floor(at / side)];
      if (!isAround(isSet, column, row)) continue;
      for (let y = Math.max(0, row - 1); y <= Math.min(side - 1, row + 1); y++)
        for (let x = Math.max(0, column - 1); x <= Math.min(side - 1, column + 1); x++)
          kept[(y * side + x) >> 3] |= 1 << (x & 7);
    }
  }
  return kept;
}

function isAround(isSet: (column: number, row: number) => boolean, column: number, row: number): boolean {
  for (let y = row - 1; y <= row + 1; y++)
    for (let x = column - 1; x <= column + 1; x++) if (!isSet(x, y)) return false;
  return true;
}
