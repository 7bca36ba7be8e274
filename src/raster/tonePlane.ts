/**
 * Tones of a plate, 0 = clear … 255 = opaque. Tiles of one single tone keep no pixels, so that a plate of flat art with
 * one small picture takes little memory whatever its size.
 */
export interface TonePlane {
  readonly widthPx: number;
  readonly heightPx: number;
  readonly tilesPerRow: number;
  readonly tileRows: number;
  /** The tone of a tile that has only one, else -1. */
  readonly flatTones: Int16Array;
  /** Pixels of the other tiles by tile index, `tileSidePx` × `tileSidePx`, row by row. */
  readonly tiles: ReadonlyMap<number, Uint8Array>;
}

export const tileSidePx = 128;

export function toneAt(plane: TonePlane, column: number, row: number): number {
  if (column < 0 || row < 0 || column >= plane.widthPx || row >= plane.heightPx) return 0;
  const index = Math.floor(row / tileSidePx) * plane.tilesPerRow + Math.floor(column / tileSidePx);
  const flat = plane.flatTones[index];
  if (flat >= 0) return flat;
  return plane.tiles.get(index)![(row % tileSidePx) * tileSidePx + (column % tileSidePx)];
}
