import { type BitPlane, wordsPerRowFor } from './bitPlane.ts';
import { halveByKernel } from './kernels/halveByKernel.ts';
import { kernels } from './kernels/kernelModule.ts';

/**
 * The plane at half the size: a pixel is opaque when any of the four it stands for is. The answer's words are those of
 * `into` if it is given.
 */
export function halvedPlane(plane: BitPlane, into?: Uint32Array): BitPlane {
  const loaded = kernels();
  return loaded === null ? halvePlain(plane, into) : halveByKernel(loaded, plane, halfOf(plane, into));
}

/** `halvedPlane` on 32 pixels a step. */
export function halvePlain(plane: BitPlane, into?: Uint32Array): BitPlane {
  const half = halfOf(plane, into);
  const { heightPx, wordsPerRow, words } = half;
  words.fill(0);
  const source = plane.words;
  const pairs = plane.wordsPerRow >> 1;
  for (let row = 0; row < heightPx; row++) {
    const upper = 2 * row * plane.wordsPerRow;
    const lower = 2 * row + 1 < plane.heightPx ? upper + plane.wordsPerRow : upper;
    for (let pair = 0; pair < pairs; pair++) {
      const first = source[upper + 2 * pair] | source[lower + 2 * pair];
      const second = source[upper + 2 * pair + 1] | source[lower + 2 * pair + 1];
      if ((first | second) === 0) continue;
      words[row * wordsPerRow + pair] =
        everySecondBit(first | (first >>> 1)) | (everySecondBit(second | (second >>> 1)) << 16);
    }
  }
  return half;
}

/** A plane of half the size, whose words may hold anything. */
function halfOf(plane: BitPlane, into?: Uint32Array): BitPlane {
  const widthPx = Math.ceil(plane.widthPx / 2);
  const heightPx = Math.ceil(plane.heightPx / 2);
  const wordsPerRow = wordsPerRowFor(widthPx);
  const length = wordsPerRow * heightPx;
  return { widthPx, heightPx, wordsPerRow, words: into?.subarray(0, length) ?? new Uint32Array(length) };
}

/** Bits 0, 2, 4 … 30 moved together into the lower half. */
function everySecondBit(word: number): number {
  let v = word & 0x55555555;
  v = (v | (v >>> 1)) & 0x33333333;
  v = (v | (v >>> 2)) & 0x0f0f0f0f;
  v = (v | (v >>> 4)) & 0x00ff00ff;
  return (v | (v >>> 8)) & 0x0000ffff;
}
