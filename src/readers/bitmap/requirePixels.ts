import { maxBitmapPixels } from '../../raster/bitmap/band.ts';
import { damaged, tooLarge } from './unreadable.ts';

/** Refuses pictures with more pixels than can be drawn, and such as have none. */
export function requirePixels(fileName: string, widthPx: number, heightPx: number): void {
  if (!(widthPx > 0 && heightPx > 0)) throw damaged(fileName, 'it does not say how many pixels it has');
  if (widthPx * heightPx > maxBitmapPixels) {
    throw tooLarge(fileName, `it declares ${widthPx} × ${heightPx} pixels`);
  }
}
