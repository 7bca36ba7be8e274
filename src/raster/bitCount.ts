import { popcount } from './bitPlane.ts';
import { countBitsByKernel } from './kernels/countBitsByKernel.ts';
import { kernels } from './kernels/kernelModule.ts';

/** How many bits are 1. */
export function bitCount(words: Uint32Array): number {
  const loaded = kernels();
  return loaded === null ? countBitsPlain(words) : countBitsByKernel(loaded, words);
}

/** `bitCount` word by word. */
export function countBitsPlain(words: Uint32Array): number {
  let count = 0;
  for (const word of words) if (word !== 0) count += popcount(word);
  return count;
}
