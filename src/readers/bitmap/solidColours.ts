import type { BitmapRecipe, FlatSplit } from '../../raster/bitmap/bitmapRecipe.ts';
import { clearPixel, type RgbWindow, rgbRows } from '../../raster/bitmap/rgbRows.ts';

/** A colour and on how many pixels it lies with all its neighbours of the same colour. */
export interface SolidColour {
  readonly red: number;
  readonly green: number;
  readonly blue: number;
  readonly solidPx: number;
}

export interface SolidSurvey {
  /** Colours whose areas are of exactly one colour, most first; null when there are more than can be kept. */
  readonly exact: readonly SolidColour[] | null;
  /** Areas of nearly one colour, by bins of 8 × 8 × 8, most first. */
  readonly bins: readonly SolidColour[];
  readonly clearPx: number;
  readonly halfClearPx: number;
  readonly totalPx: number;
  /** Pixels that are no grey at all, and such as are clearly of a colour. */
  readonly tintedPx: number;
  readonly colouredPx: number;
  /** The colour most of the outermost pixels have, and its share of them. */
  readonly border: { readonly pixel: number; readonly ratio: number };
}

const maxExact = 20_000;
/** Largest difference of a component inside an area that counts as of one colour in a noisy picture. */
const noise = 12;
/** A scanner's cast makes greys differ in their components by up to this. */
const castChroma = 28;

/** Looks at every pixel once for areas of one colour: pixels that are as their eight neighbours are. */
export async function surveySolids(
  bytes: Uint8Array,
  recipe: BitmapRecipe,
  split: Pick<FlatSplit, 'rgbSamples' | 'alpha'>,
  widthPx: number,
  heightPx: number,
): Promise<SolidSurvey> {
  const exact = new Map<number, number>();
  const binCount = new Float64Array(32_768);
  const binSums = [new Float64Array(32_768), new Float64Array(32_768), new Float64Array(32_768)];
  const border = new Map<number, number>();
  let clearPx = 0;
  let halfClearPx = 0;
  let tintedPx = 0;
  let colouredPx = 0;
  for await (const window of rgbRows(bytes, recipe, split.rgbSamples, split.alpha, widthPx)) {
    halfClearPx += window.halfClear;
    surveyBorder(window, widthPx, heightPx, border);
    const { pixels } = window;
    for (let row = 0; row < window.rows; row++) {
      const inWindow = window.top - window.firstRow + row;
      const inside = inWindow > 0 && inWindow < window.rowCount - 1;
      const start = inWindow * widthPx;
      let runPixel = -2;
      let runCount = 0;
      for (let column = 0; column < widthPx; column++) {
        const at = start + column;
        const pixel = pixels[at];
        if (pixel === clearPixel) {
          clearPx++;
          continue;
        }
        if (pixel !== (pixel & 255) * 0x10101) {
          tintedPx++;
          if (chromaOf(pixel) > castChroma) colouredPx++;
        }
        if (!inside || column === 0 || column === widthPx - 1) continue;
        if (pixels[at - 1] === pixel && pixels[at + 1] === pixel && isSolid(pixels, at, widthPx, pixel)) {
          if (pixel !== runPixel) {
            keep(exact, runPixel, runCount);
            keepBin(binCount, binSums, runPixel, runCount);
            runPixel = pixel;
            runCount = 0;
          }
          runCount++;
        } else if (isNearlySolid(pixels, at, widthPx, pixel)) keepBin(binCount, binSums, pixel, 1);
      }
      keep(exact, runPixel, runCount);
      keepBin(binCount, binSums, runPixel, runCount);
    }
  }
  return {
    exact: exact.size > maxExact ? null : mostFirst([...exact].map(([pixel, solidPx]) => colourOf(pixel, solidPx))),
    bins: mostFirst(filledBins(binCount, binSums)),
    clearPx,
    halfClearPx,
    totalPx: widthPx * heightPx,
    tintedPx,
    colouredPx,
    border: mostOf(border),
  };
}

function chromaOf(pixel: number): number {
  const red = pixel >> 16;
  const green = (pixel >> 8) & 255;
  const blue = pixel & 255;
  return Math.max(red, green, blue) - Math.min(red, green, blue);
}

function isSolid(pixels: Int32Array, at: number, widthPx: number, pixel: number): boolean {
  const up = at - widthPx;
  const down = at + widthPx;
  return (
    pixels[up] === pixel &&
    pixels[down] === pixel &&
    pixels[up - 1] === pixel &&
    pixels[up + 1] === pixel &&
    pixels[down - 1] === pixel &&
    pixels[down + 1] === pixel
  );
}

function isNearlySolid(pixels: Int32Array, at: number, widthPx: number, pixel: number): boolean {
  for (let row = -widthPx; row <= widthPx; row += widthPx) {
    for (let c = -1; c <= 1; c++) {
      const other = pixels[at + row + c];
      if (other === pixel) continue;
      if (other === clearPixel) return false;
      const r = (other >> 16) - (pixel >> 16);
      const g = ((other >> 8) & 255) - ((pixel >> 8) & 255);
      const b = (other & 255) - (pixel & 255);
      if (r > noise || r < -noise || g > noise || g < -noise || b > noise || b < -noise) return false;
    }
  }
  return true;
}

function keep(counts: Map<number, number>, pixel: number, count: number): void {
  if (count === 0) return;
  const before = counts.get(pixel);
  if (before === undefined && counts.size > maxExact) return;
  counts.set(pixel, (before ?? 0) + count);
}

function keepBin(binCount: Float64Array, sums: readonly Float64Array[], pixel: number, count: number): void {
  if (count === 0) return;
  const bin = ((pixel >> 9) & 0x7c00) | ((pixel >> 6) & 0x3e0) | ((pixel >> 3) & 0x1f);
  binCount[bin] += count;
  sums[0][bin] += (pixel >> 16) * count;
  sums[1][bin] += ((pixel >> 8) & 255) * count;
  sums[2][bin] += (pixel & 255) * count;
}

function filledBins(binCount: Float64Array, sums: readonly Float64Array[]): SolidColour[] {
  const filled: SolidColour[] = [];
  binCount.forEach((solidPx, bin) => {
    if (solidPx === 0) return;
    const [red, green, blue] = sums.map((sum) => sum[bin] / solidPx);
    filled.push({ red, green, blue, solidPx });
  });
  return filled;
}

function surveyBorder(window: RgbWindow, widthPx: number, heightPx: number, border: Map<number, number>): void {
  const count = (pixel: number) => {
    if (border.size < maxExact || border.has(pixel)) border.set(pixel, (border.get(pixel) ?? 0) + 1);
  };
  for (let row = window.top; row < window.top + window.rows; row++) {
    const start = (row - window.firstRow) * widthPx;
    if (row === 0 || row === heightPx - 1) {
      for (let column = 0; column < widthPx; column++) count(window.pixels[start + column]);
    } else {
      count(window.pixels[start]);
      count(window.pixels[start + widthPx - 1]);
    }
  }
}

function mostOf(counts: ReadonlyMap<number, number>): { pixel: number; ratio: number } {
  let pixel = clearPixel;
  let most = 0;
  let total = 0;
  for (const [colour, count] of counts) {
    total += count;
    if (count > most) {
      most = count;
      pixel = colour;
    }
  }
  return { pixel, ratio: total === 0 ? 0 : most / total };
}

function colourOf(pixel: number, solidPx: number): SolidColour {
  return { red: pixel >> 16, green: (pixel >> 8) & 255, blue: pixel & 255, solidPx };
}

function mostFirst(colours: SolidColour[]): SolidColour[] {
  return colours.sort((a, b) => b.solidPx - a.solidPx || a.red - b.red || a.green - b.green || a.blue - b.blue);
}
