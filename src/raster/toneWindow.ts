import { type TonePlane, tileSidePx } from './tonePlane.ts';

/** Reads a part of a tone plane, one byte a pixel, row by row, into `into`. Pixels beyond the plane are 0. */
export function readToneWindow(
  plane: TonePlane,
  left: number,
  top: number,
  widthPx: number,
  heightPx: number,
  into: Uint8Array,
): void {
  into.fill(0, 0, widthPx * heightPx);
  const right = Math.min(plane.widthPx, left + widthPx);
  for (let row = Math.max(0, top); row < Math.min(plane.heightPx, top + heightPx); row++) {
    const tileRow = Math.floor(row / tileSidePx);
    const inTile = (row % tileSidePx) * tileSidePx;
    for (let column = Math.max(0, left); column < right; ) {
      const tileColumn = Math.floor(column / tileSidePx);
      const end = Math.min(right, (tileColumn + 1) * tileSidePx);
      const index = tileRow * plane.tilesPerRow + tileColumn;
      const to = (row - top) * widthPx - left;
      const flat = plane.flatTones[index];
      if (flat >= 0) into.fill(flat, to + column, to + end);
      else {
        const tile = plane.tiles.get(index)!;
        const from = inTile - tileColumn * tileSidePx;
        for (let c = column; c < end; c++) into[to + c] = tile[from + c];
      }
      column = end;
    }
  }
}
