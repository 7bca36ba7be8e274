import type { BitPlane } from './bitPlane.ts';
import { countByKernel, mostCellColumns } from './kernels/countByKernel.ts';
import { kernels } from './kernels/kernelModule.ts';

/** How many opaque pixels each cell of `factor` by `factor` pixels has, row by row from the top left; cells at the right and lower edge may be smaller. */
export function cellCounts(plane: BitPlane, factor: number): Uint32Array {
  const loaded = kernels();
  return loaded === null || factor > mostCellColumns ? countPlain(plane, factor) : countByKernel(loaded, plane, factor);
}

/** `cellCounts` pixel by pixel. */
export function countPlain(plane: BitPlane, factor: number): Uint32Array {
  const { widthPx, heightPx, wordsPerRow, words } = plane;
  const columns = Math.ceil(widthPx / factor);
  const counts = new Uint32Array(columns * Math.ceil(heightPx / factor));
  for (let row = 0; row < heightPx; row++) {
    const first = Math.floor(row / factor) * columns;
    for (let index = 0; index < wordsPerRow; index++) {
      for (let word = words[row * wordsPerRow + index]; word !== 0; word &= word - 1) {
        counts[first + Math.floor((32 * index + 31 - Math.clz32(word & -word)) / factor)]++;
      }
    }
  }
  return counts;
}
