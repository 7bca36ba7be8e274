import { type BitPlane, popcount } from '../raster/bitPlane.ts';
import { resampledPlane } from '../raster/resampledPlane.ts';
import { type EdgedPlane, edgedPlane, isSameGrid } from './overlapInk.ts';
import { tilePx, tilesOfCells } from './overlapTiles.ts';

/** Area where both planes have ink, mm², counted on the first plane's pixels. */
export function sharedAreaMm2(a: EdgedPlane, b: EdgedPlane): number {
  const { grid, bits } = a;
  const other = isSameGrid(grid, b.grid) ? b : edgedPlane({ grid, bits: resampledPlane(b.bits, b.grid, grid) });
  return countShared(bits, a.cells, other.bits, other.cells) * grid.pitchXMm * grid.pitchYMm;
}

/** Tiles without an edge are ink or clear throughout: one look tells which. */
function countShared(a: BitPlane, aCells: BitPlane, b: BitPlane, bCells: BitPlane): number {
  const { wordsPerRow, heightPx } = a;
  const aTiles = tilesOfCells(aCells, wordsPerRow).flags;
  const bTiles = tilesOfCells(bCells, wordsPerRow).flags;
  let count = 0;
  for (let tile = 0; tile < aTiles.length; tile++) {
    const w = tile % wordsPerRow;
    const top = ((tile - w) / wordsPerRow) * tilePx;
    const first = top * wordsPerRow + w;
    if ((a.words[first] | aTiles[tile]) === 0 || (b.words[first] | bTiles[tile]) === 0) continue;
    count += countInTile(a.words, b.words, first, wordsPerRow, Math.min(tilePx, heightPx - top));
  }
  return count;
}

function countInTile(a: Uint32Array, b: Uint32Array, first: number, wordsPerRow: number, rows: number): number {
  let count = 0;
  for (let row = 0; row < rows; row++) {
    const index = first + row * wordsPerRow;
    count += popcount(a[index] & b[index]);
  }
  return count;
}
