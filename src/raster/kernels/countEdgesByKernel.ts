import type { BitPlane } from '../bitPlane.ts';
import type { EdgeCounts } from '../edgeCounts.ts';
import { bandRows, type Kernels, Layout } from './kernelModule.ts';

/** `countEdgesPlain`, a row of tiles at a time. */
export function countEdgesByKernel(kernels: Kernels, plane: BitPlane, sidePx: number): EdgeCounts {
  const { widthPx, heightPx, wordsPerRow, words } = plane;
  const perRow = Math.ceil(widthPx / sidePx);
  const tileCount = perRow * Math.ceil(heightPx / sidePx);
  const layout = new Layout(kernels);
  const acrossAt = layout.take(4 * tileCount);
  const downAt = layout.take(4 * tileCount);
  const band = layout.take(4 * wordsPerRow * (bandRows + 1));
  const memory = new Uint32Array(kernels.memory.buffer);
  memory.fill(0, acrossAt >> 2, (acrossAt >> 2) + tileCount);
  memory.fill(0, downAt >> 2, (downAt >> 2) + tileCount);
  const usedWords = ((widthPx - 1) >> 5) + 1;
  for (let top = 0; top < heightPx; top += bandRows) {
    const first = Math.max(0, top - 1);
    const bottom = Math.min(heightPx, top + bandRows);
    memory.set(words.subarray(first * wordsPerRow, bottom * wordsPerRow), band >> 2);
    for (let row = top; row < bottom; row++) {
      const at = band + 4 * wordsPerRow * (row - first);
      const tiles = 4 * perRow * Math.floor(row / sidePx);
      const above = row === 0 ? at : at - 4 * wordsPerRow;
      kernels.countEdges(at, above, usedWords, sidePx / 32, acrossAt + tiles, downAt + tiles);
    }
  }
  return {
    across: memory.slice(acrossAt >> 2, (acrossAt >> 2) + tileCount),
    down: memory.slice(downAt >> 2, (downAt >> 2) + tileCount),
  };
}
