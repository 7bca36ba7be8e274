import type { BitPlane } from '../bitPlane.ts';
import type { TileShares } from '../tileShares.ts';
import { type Kernels, Layout } from './kernelModule.ts';

/** `tileSharesPlain`, a row of tiles at a time. */
export function tileSharesByKernel(kernels: Kernels, plane: BitPlane, sidePx: number): TileShares {
  const { widthPx, heightPx, wordsPerRow, words } = plane;
  const perRow = Math.ceil(widthPx / sidePx);
  const rows = Math.ceil(heightPx / sidePx);
  const rowBytes = 4 * wordsPerRow;
  const layout = new Layout(kernels);
  const band = layout.take(rowBytes * (sidePx + 1));
  const [tones, across, down] = [0, 1, 2].map(() => layout.take(4 * perRow * rows));
  const memory = new Uint32Array(kernels.memory.buffer);
  for (let row = 0; row < rows; row++) {
    const top = row * sidePx;
    const bottom = Math.min(heightPx, top + sidePx);
    const above = Math.min(1, row);
    memory.set(words.subarray((top - above) * wordsPerRow, bottom * wordsPerRow), band >> 2);
    const to = 4 * row * perRow;
    kernels.tileShares(
      band + above * rowBytes,
      1 - above,
      bottom - top,
      rowBytes,
      ((widthPx - 1) >> 5) + 1,
      sidePx / 32,
      tones + to,
      across + to,
      down + to,
    );
  }
  const values = (at: number) => new Float32Array(kernels.memory.buffer, at, perRow * rows).slice();
  return { tones: values(tones), across: values(across), down: values(down) };
}

/** `joinTilesPlain`, row by row. */
export function joinTilesByKernel(
  kernels: Kernels,
  values: Float32Array,
  perRow: number,
  factor: number,
): Float32Array {
  const rows = values.length / perRow;
  const joinedPerRow = Math.ceil(perRow / factor);
  const layout = new Layout(kernels);
  const valuesAt = layout.take(4 * values.length);
  const count = joinedPerRow * Math.ceil(rows / factor);
  const joinedAt = layout.take(4 * count);
  const { buffer } = kernels.memory;
  new Float32Array(buffer, valuesAt, values.length).set(values);
  const joined = new Float32Array(buffer, joinedAt, count).fill(0);
  kernels.joinTiles(valuesAt, perRow, rows, factor, joinedPerRow, joinedAt);
  return joined.slice();
}
