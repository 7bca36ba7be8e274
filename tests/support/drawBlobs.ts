import { type BitPlane, createBitPlane } from '../../src/raster/bitPlane.ts';
import { clearTails } from '../../src/raster/morphology.ts';
import { seededRandom } from './seededRandom.ts';

/** Blobs and noise: a pixel in so many, a share from 0 to 1, is not what the blobs say. */
export function drawBlobs(seed: number, widthPx: number, heightPx: number, noise: number): BitPlane {
  const random = seededRandom(seed);
  const plane = createBitPlane(widthPx, heightPx);
  const discs = Array.from({ length: 12 }, () => [random() * widthPx, random() * heightPx, 2 + random() ** 2 * 40]);
  for (let row = 0; row < heightPx; row++) {
    for (let column = 0; column < widthPx; column++) {
      const inside = discs.some(([x, y, r]) => (column - x) ** 2 + (row - y) ** 2 <= r * r);
      if (inside !== random() < noise) plane.words[row * plane.wordsPerRow + (column >> 5)] |= 1 << (column & 31);
    }
  }
  clearTails(plane);
  return plane;
}
