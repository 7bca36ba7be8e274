import type { BitPlane } from '../bitPlane.ts';
import type { ThinnedVisitor, ThinningOptions } from '../thinning.ts';
import { bandRows, type Kernels, Layout } from './kernelModule.ts';

/** `thinPlain`, 128 pixels a step. */
export function thinByKernel(kernels: Kernels, plane: BitPlane, options: ThinningOptions, visit: ThinnedVisitor): void {
  const { widthPx, heightPx, wordsPerRow } = plane;
  const { kept, inverted, mostTurns = Infinity, fromRow = 0, toRow = heightPx } = options;
  const beyond = (options.outside === 'opaque') !== inverted;
  const planeBytes = kernels.thinningStride(widthPx) * (heightPx + 2);
  const layout = new Layout(kernels);
  const shape = layout.take(planeBytes);
  const peelable = layout.take(planeBytes);
  const scratch = layout.take(kernels.thinningScratchBytes(widthPx, heightPx));
  const band = layout.take(4 * bandRows * wordsPerRow);
  const keptBand = layout.take(4 * bandRows * wordsPerRow);
  const entriesRoom = 8192 + wordsPerRow;
  const entries = layout.take(16 * entriesRoom);
  const memory = new Int32Array(kernels.memory.buffer);
  kernels.beginThinning(widthPx, heightPx, inverted ? 1 : 0, beyond ? 1 : 0, shape, peelable, scratch);
  eachBand((from, to) => {
    memory.set(plane.words.subarray(from * wordsPerRow, to * wordsPerRow), band >> 2);
    if (kept !== null) memory.set(kept.words.subarray(from * wordsPerRow, to * wordsPerRow), keptBand >> 2);
    kernels.loadThinningRows(from, to, band, kept === null ? 0 : keptBand, wordsPerRow);
  });
  kernels.widenPinholes();
  for (let turn = 1, quiet = 0; quiet < 2 && turn <= mostTurns; turn++) {
    let changed = 0;
    eachBand((from, to) => {
      changed += kernels.peelRows(from, to, turn);
    });
    quiet = changed === 0 ? quiet + 1 : 0;
  }
  for (let row = fromRow; row < toRow; ) {
    row = kernels.emitLines(row, toRow, entries, entriesRoom);
    for (let k = entries >> 2, end = k + 4 * kernels.emittedWords(); k < end; k += 4) {
      visit(memory[k], memory[k + 1], memory[k + 2], memory[k + 3]);
    }
  }

  function eachBand(work: (from: number, to: number) => void): void {
    for (let from = 0; from < heightPx; from += bandRows) work(from, Math.min(heightPx, from + bandRows));
  }
}
