import type { BoxMm } from '../geometry/box.ts';
import type { SeenPlate } from '../plates/plate.ts';
import { bitAt } from '../raster/bitPlane.ts';
import type { ToneImage } from '../raster/toneImage.ts';
import { toneAt } from '../raster/tonePlane.ts';

/**
 * The pixels of a plate within a box of its film, one by one as they are, or every n-th when the box holds more than
 * `mostPx` a side. Parts outside the film are clear. For looking at, never for measuring.
 */
export function cropPlate(plate: SeenPlate, boxMm: BoxMm, mostPx: number): ToneImage {
  const { pitchXMm, pitchYMm } = plate.grid;
  const left = Math.floor(boxMm.xMm / pitchXMm);
  const top = Math.floor(boxMm.yMm / pitchYMm);
  const right = Math.ceil((boxMm.xMm + boxMm.widthMm) / pitchXMm);
  const bottom = Math.ceil((boxMm.yMm + boxMm.heightMm) / pitchYMm);
  const step = Math.max(1, Math.ceil(Math.max(right - left, bottom - top) / mostPx));
  const widthPx = Math.max(1, Math.floor((right - left) / step));
  const heightPx = Math.max(1, Math.floor((bottom - top) / step));
  const tones = new Uint8Array(widthPx * heightPx);
  for (let row = 0; row < heightPx; row++) {
    for (let column = 0; column < widthPx; column++) {
      const atColumn = left + column * step;
      const atRow = top + row * step;
      tones[row * widthPx + column] =
        plate.tone === null ? 255 * bitAt(plate.bits, atColumn, atRow) : toneAt(plate.tone, atColumn, atRow);
    }
  }
  return { widthPx, heightPx, tones, pitchXMm: pitchXMm * step, pitchYMm: pitchYMm * step };
}
