import type { SeenPlate } from '../plates/plate.ts';
import { createBitPlane } from '../raster/bitPlane.ts';
import { type TonePlane, tileSidePx } from '../raster/tonePlane.ts';
import { archiveTilePx, levelSize } from './archiveFormat.ts';
import type { PlateArchive } from './openArchive.ts';

/** The plate that was put into an archive, pixel by pixel as it was. */
export async function restorePlate(
  archive: PlateArchive,
  { id, inkId, filmId }: Pick<SeenPlate, 'id' | 'inkId' | 'filmId'>,
): Promise<SeenPlate> {
  const { widthPx, heightPx, pitchXMm, pitchYMm, depth } = archive.facts;
  const bits = createBitPlane(widthPx, heightPx);
  const tones = depth === 8 ? new ToneTiles(widthPx, heightPx) : null;
  const { columns, rows } = levelSize(archive.facts, 0);
  for (let row = 0; row < rows; row++) {
    for (let column = 0; column < columns; column++) {
      const tile = await archive.plainTile(column, row);
      if (tones === null) {
        const words = new Uint32Array(Uint8Array.from(tile).buffer);
        const wordsPerTile = archiveTilePx / 32;
        const from = column * wordsPerTile;
        const count = Math.min(wordsPerTile, bits.wordsPerRow - from);
        for (let line = 0; line < archiveTilePx && row * archiveTilePx + line < heightPx; line++)
          bits.words.set(
            words.subarray(line * wordsPerTile, line * wordsPerTile + count),
            (row * archiveTilePx + line) * bits.wordsPerRow + from,
          );
      } else {
        archive.copyBits(tile, bits, column * archiveTilePx, row * archiveTilePx);
        tones.add(tile, column, row);
      }
    }
  }
  const grid = { widthPx, heightPx, pitchXMm, pitchYMm };
  return { id, inkId, filmId, grid, bits, tone: tones?.plane ?? null };
}

/** Tones of archive tiles in the tiles of a plane. */
class ToneTiles {
  private readonly tiles = new Map<number, Uint8Array>();
  readonly plane: TonePlane;

  constructor(widthPx: number, heightPx: number) {
    const tilesPerRow = Math.ceil(widthPx / tileSidePx);
    const tileRows = Math.ceil(heightPx / tileSidePx);
    const flatTones = new Int16Array(tilesPerRow * tileRows);
    this.plane = { widthPx, heightPx, tilesPerRow, tileRows, flatTones, tiles: this.tiles };
  }

  add(archiveTile: Uint8Array, column: number, row: number): void {
    const { tilesPerRow, tileRows, flatTones } = this.plane;
    const parts = archiveTilePx / tileSidePx;
    for (let part = 0; part < parts * parts; part++) {
      const [across, down] = [part % parts, Math.floor(part / parts)];
      const [tileColumn, tileRow] = [column * parts + across, row * parts + down];
      if (tileColumn >= tilesPerRow || tileRow >= tileRows) continue;
      const tile = new Uint8Array(tileSidePx * tileSidePx);
      for (let line = 0; line < tileSidePx; line++) {
        const from = (down * tileSidePx + line) * archiveTilePx + across * tileSidePx;
        tile.set(archiveTile.subarray(from, from + tileSidePx), line * tileSidePx);
      }
      const index = tileRow * tilesPerRow + tileColumn;
      if (tile.every((tone) => tone === tile[0])) flatTones[index] = tile[0];
      else {
        flatTones[index] = -1;
        this.tiles.set(index, tile);
      }
    }
  }
}
