import { type Kernels, Layout } from './kernelModule.ts';

const batchWords = 16384;

/** `countBitsPlain`, 128 bits a step. */
export function countBitsByKernel(kernels: Kernels, words: Uint32Array): number {
  const at = new Layout(kernels).take(4 * batchWords);
  const batch = new Uint32Array(kernels.memory.buffer, at, batchWords);
  let count = 0;
  for (let from = 0; from < words.length; from += batchWords) {
    const part = words.subarray(from, from + batchWords);
    batch.set(part);
    if (part.length < batchWords) batch.fill(0, part.length);
    count += kernels.countBits(at, 4 * batchWords);
  }
  return count;
}
