import type { BitPlane } from '../bitPlane.ts';
import type { ThinningOptions } from '../thinning.ts';
import { bandRows, type Kernels, Layout } from './kernelModule.ts';

/** `thinPlain`, 128 pixels a step. */
export function thinByKernel(kernels: Kernels, plane: BitPlane, options: ThinningOptions): BitPlane {
  const { widthPx, heightPx, wordsPerRow } = plane;
  const { kept, inverted } = options;
  const beyond = (options.outside === 'opaque') !== inverted;
  const planeBytes = kernels.thinningStride(widthPx) * (heightPx + 2);
  const layout = new Layout(kernels);
  const shape = layout.take(planeBytes);
  const peelable = layout.take(planeBytes);
  const scratch = layout.take(kernels.thinningScratchBytes(widthPx, heightPx));
  const band = layout.take(4 * bandRows * wordsPerRow);
  const keptBand = layout.take(4 * bandRows * wordsPerRow);
  const memory = new Uint32Array(kernels.memory.buffer);
  kernels.beginThinning(widthPx, heightPx, inverted ? 1 : 0, beyond ? 1 : 0, shape, peelable, scratch);
  eachBand((from, to) => {
    memory.set(plane.words.subarray(from * wordsPerRow, to * wordsPerRow), band >> 2);
    if (kept !== null) memory.set(kept.words.subarray(from * wordsPerRow, to * wordsPerRow), keptBand >> 2);
    kernels.loadThinningRows(from, to, band, kept === null ? 0 : keptBand, wordsPerRow);
  });
  kernels.widenPinholes();
  for (let turn = 1, quiet = 0; quiet < 2; turn++) {
    let changed = 0;
    eachBand((from, to) => {
      changed += kernels.peelRows(from, to, turn);
    });
    quiet = changed === 0 ? quiet + 1 : 0;
  }
  const words = new Uint32Array(plane.words.length);
  eachBand((from, to) => {
    kernels.linesLeft(from, to, band, wordsPerRow);
    words.set(memory.subarray(band >> 2, (band >> 2) + (to - from) * wordsPerRow), from * wordsPerRow);
  });
  return { widthPx, heightPx, wordsPerRow, words };

  function eachBand(work: (from: number, to: number) => void): void {
    for (let from = 0; from < heightPx; from += bandRows) work(from, Math.min(heightPx, from + bandRows));
  }
}
