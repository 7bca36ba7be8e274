import { type BitPlane, createBitPlane, setBit } from '../../src/raster/bitPlane.ts';
import { seededRandom } from './seededRandom.ts';

export type Dither = 'errorDiffusion' | 'whiteNoise' | { readonly matrixSide: number };

/**
 * Dots of one size on a grid of that size: spread by error diffusion (the weights 7, 3, 5, 1 of 16), set at random, or by
 * the recursive threshold matrix of a side that is a power of two.
 * @param toneAt tone from 0 to 1 by the share of the width
 */
export function ditheredPlane(
  sidePx: number,
  dotPx: number,
  how: Dither,
  toneAt: (across: number) => number,
): BitPlane {
  const plane = createBitPlane(sidePx, sidePx);
  const count = Math.floor(sidePx / dotPx);
  const random = seededRandom(5);
  let carried = new Float64Array(count + 2);
  for (let y = 0; y < count; y++) {
    const next = new Float64Array(count + 2);
    for (let x = 0; x < count; x++) {
      const tone = toneAt(x / count);
      let isBlack: boolean;
      if (how === 'whiteNoise') isBlack = random() < tone;
      else if (how === 'errorDiffusion') {
        const value = tone + carried[x + 1];
        isBlack = value >= 0.5;
        const error = value - (isBlack ? 1 : 0);
        carried[x + 2] += (error * 7) / 16;
        next[x] += (error * 3) / 16;
        next[x + 1] += (error * 5) / 16;
        next[x + 2] += error / 16;
      } else isBlack = tone > (matrixAt(x, y, how.matrixSide) + 0.5) / how.matrixSide ** 2;
      if (!isBlack) continue;
      for (let row = y * dotPx; row < (y + 1) * dotPx; row++) {
        for (let column = x * dotPx; column < (x + 1) * dotPx; column++) setBit(plane, column, row);
      }
    }
    carried = next;
  }
  return plane;
}

/** Rank of a place in the recursive matrix: 0 2 / 3 1, each of them again as large in every quarter. */
function matrixAt(x: number, y: number, side: number): number {
  let rank = 0;
  for (let half = 1, weight = (side * side) / 4; half < side; half *= 2, weight /= 4) {
    const right = Math.floor(x / half) & 1;
    const lower = Math.floor(y / half) & 1;
    rank += weight * [0, 2, 3, 1][2 * lower + right];
  }
  return rank;
}
