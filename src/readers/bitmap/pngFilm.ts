import type { ReadFilm } from '../../artwork/film.ts';
import type { ReadOptions } from '../reader.ts';
import { alphaNotes } from './alphaNotes.ts';
import { colourFilm } from './colourFilm.ts';
import { type PngHeader, readPngHeader } from './pngHeader.ts';
import { requirePixels } from './requirePixels.ts';
import { separationFilm, separationRecipe } from './separationFilm.ts';

/** The film a PNG picture is. One-bit pictures of black and white are decoded here, everything else by the library. */
export async function pngFilm(file: string, bytes: Uint8Array, options: ReadOptions): Promise<ReadFilm> {
  const header = readPngHeader(bytes);
  const { widthPx, heightPx, stated, colourType, bitDepth } = header;
  requirePixels(file, widthPx, heightPx);
  const base = {
    file,
    page: 1,
    pageCount: 1,
    format: 'png' as const,
    bytes,
    stated,
    separationName: null,
    bitsPerComponent: bitDepth,
    notes: [],
  };
  const blackIsZero = oneBitPolarity(header);
  if (blackIsZero !== null) {
    const source = { kind: 'pngBits' as const, widthPx, heightPx, pieces: header.pieces };
    return separationFilm(
      { ...base, recipe: separationRecipe(source, 1, true, blackIsZero), colour: 'bilevel' },
      options,
    );
  }
  const hasAlpha = colourType === 4 || colourType === 6 || header.hasTransparency;
  if (colourType === 0 || colourType === 4 || hasGreyPalette(header)) {
    // The library hands out grey with alpha as colours only.
    const [space, sampleCount] = hasAlpha ? (['srgb', 4] as const) : (['b-w', 1] as const);
    const source = { kind: 'library' as const, widthPx, heightPx, page: 0, space, sampleCount };
    const recipe = separationRecipe(source, 1, false, true);
    const rule = recipe.channels;
    const channels = hasAlpha && rule.kind === 'tones' ? { ...rule, alpha: { sample: 3, premultiplied: false } } : rule;
    const colour = bitDepth === 1 ? 'bilevel' : 'grey';
    return separationFilm({ ...base, recipe: { ...recipe, channels }, colour, notes: alphaNotes(hasAlpha) }, options);
  }
  const sampleCount = hasAlpha ? 4 : 3;
  return colourFilm(
    {
      ...base,
      source: { kind: 'library', widthPx, heightPx, page: 0, space: 'srgb', sampleCount },
      orientation: 1,
      alpha: hasAlpha ? { sample: 3, premultiplied: false } : null,
      lossy: false,
      indexed: colourType === 3,
    },
    options,
  );
}

/** Whether 0 is black in a one-bit picture of black and white; null for any other picture. */
function oneBitPolarity(header: PngHeader): boolean | null {
  if (header.bitDepth !== 1 || header.interlaced || header.hasTransparency) return null;
  if (header.colourType === 0) return true;
  const { palette } = header;
  if (header.colourType !== 3 || palette === null || palette.length !== 6) return null;
  const is = (entry: number, value: number) => palette.subarray(3 * entry, 3 * entry + 3).every((v) => v === value);
  if (is(0, 0) && is(1, 255)) return true;
  return is(0, 255) && is(1, 0) ? false : null;
}

/** A palette of greys without transparency is a grey film stored sparingly. */
function hasGreyPalette({ colourType, palette, hasTransparency }: PngHeader): boolean {
  if (colourType !== 3 || palette === null || hasTransparency) return false;
  for (let i = 0; i + 2 < palette.length; i += 3) {
    if (palette[i] !== palette[i + 1] || palette[i] !== palette[i + 2]) return false;
  }
  return true;
}
