import type { BitmapRecipe, FlatSplit } from '../raster/bitmap/bitmapRecipe.ts';
import { WhiteAreas } from '../raster/bitmap/enclosedWhite.ts';
import { splitBands } from '../raster/bitmap/splitBands.ts';
import type { PixelGrid } from '../raster/pixelGrid.ts';
import { type Strip, toneChannels } from './strip.ts';

/**
 * Tones of 0 or 255 for each flat colour of the pass: every pixel belongs to one colour. Of white on a white ground
 * only the areas enclosed by ink are drawn.
 */
export async function* drawFlat(
  bytes: Uint8Array,
  recipe: BitmapRecipe,
  split: FlatSplit,
  keys: readonly string[],
  grid: PixelGrid,
): AsyncIterable<Strip> {
  const { widthPx } = grid;
  const colours = keys.map((key) => split.colours.findIndex((colour) => colour.key === key));
  if (colours.includes(-1)) throw new TypeError('the film has no such ink');
  const ground = split.colours.findIndex((colour) => colour.key === null && !colour.clear);
  const enclosed = keys.includes('white') && ground >= 0 ? await findAreas(bytes, recipe, split, grid, ground) : null;
  for await (const { top, rows, colourOf } of splitBands(bytes, recipe, split, widthPx)) {
    const channels = colours.map((wanted, index) => {
      const tones = new Uint8Array(rows * widthPx);
      if (keys[index] === 'white' && enclosed !== null) {
        for (let row = 0; row < rows; row++) enclosed.fillRow(top + row, tones, row * widthPx);
      } else {
        for (let i = 0; i < tones.length; i++) if (colourOf[i] === wanted) tones[i] = 255;
      }
      return tones;
    });
    yield { top, rows, channels: toneChannels(channels) };
  }
}

async function findAreas(
  bytes: Uint8Array,
  recipe: BitmapRecipe,
  split: FlatSplit,
  grid: PixelGrid,
  ground: number,
): Promise<WhiteAreas> {
  const areas = new WhiteAreas(grid.widthPx, grid.heightPx, ground, true);
  for await (const band of splitBands(bytes, recipe, split, grid.widthPx)) areas.add(band);
  return areas;
}
