import type { BitPlane } from '../bitPlane.ts';

/**
 * Tiles of 32 × 32 px, so many a row: 1 where one holds a marked cell, else 0.
 *
 * @param cells one bit a cell of 8 × 8 px
 */
export function tilesOfCells(cells: BitPlane, tilesPerRow: number): Uint8Array {
  const tileRows = Math.ceil(cells.heightPx / 4);
  const flags = new Uint8Array(tileRows * tilesPerRow);
  for (let row = 0; row < cells.heightPx; row++) {
    const start = (row >> 2) * tilesPerRow;
    for (let tile = 0; tile < tilesPerRow; tile++) {
      const four = cells.words[row * cells.wordsPerRow + (tile >> 3)] >>> (4 * (tile & 7));
      if ((four & 15) !== 0) flags[start + tile] = 1;
    }
  }
  return flags;
}

/** Of the first tiles those with one of the second no further than so many across and down. */
export function tilesNear(
  own: Uint8Array,
  other: Uint8Array,
  tilesPerRow: number,
  across: number,
  down: number,
): Uint8Array {
  const tileRows = own.length / tilesPerRow;
  const wide = new Uint8Array(own.length);
  for (let row = 0; row < tileRows; row++) {
    const start = row * tilesPerRow;
    for (let tile = 0; tile < tilesPerRow; tile++) {
      if (other[start + tile] === 0) continue;
      wide.fill(1, start + Math.max(0, tile - across), start + Math.min(tilesPerRow, tile + across + 1));
    }
  }
  const near = new Uint8Array(own.length);
  for (let row = 0; row < tileRows; row++) {
    const last = Math.min(tileRows - 1, row + down);
    for (let from = Math.max(0, row - down); from <= last; from++) {
      for (let tile = 0; tile < tilesPerRow; tile++) {
        near[row * tilesPerRow + tile] |= own[row * tilesPerRow + tile] & wide[from * tilesPerRow + tile];
      }
    }
  }
  return near;
}
