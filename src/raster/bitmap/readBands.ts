import type { Band } from './band.ts';
import type { BitmapRecipe, BitmapSource } from './bitmapRecipe.ts';
import { decodePngBits } from './decodePngBits.ts';
import { decodePsd } from './decodePsd.ts';
import { decodeTiff } from './decodeTiff.ts';
import { decodeWithLibrary } from './decodeWithLibrary.ts';
import { orientBands, swapsSides } from './orientBands.ts';

/** The rows of a bitmap, turned to read right, top to bottom and each once. Throws `DamagedPixels`. */
export function readBands(bytes: Uint8Array, recipe: BitmapRecipe): AsyncIterable<Band> {
  const { widthPx, heightPx } = recipe.source;
  return orientBands(storedBands(bytes, recipe.source), widthPx, heightPx, recipe.orientation);
}

/** Width and height in pixels of the bitmap turned to read right. */
export function orientedSize(source: BitmapSource, orientation: number): { widthPx: number; heightPx: number } {
  const { widthPx, heightPx } = source;
  return swapsSides(orientation) ? { widthPx: heightPx, heightPx: widthPx } : { widthPx, heightPx };
}

async function* storedBands(bytes: Uint8Array, source: BitmapSource): AsyncIterable<Band> {
  switch (source.kind) {
    case 'tiff':
      yield* decodeTiff(bytes, source);
      break;
    case 'pngBits':
      yield* decodePngBits(bytes, source);
      break;
    case 'psd':
      yield* decodePsd(bytes, source);
      break;
    case 'library':
      yield* decodeWithLibrary(bytes, source);
  }
}
