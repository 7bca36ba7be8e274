import type { BitmapRecipe, FlatSplit } from './bitmapRecipe.ts';
import { ColourTable } from './colourTable.ts';
import { MixtureSolver } from './mixtures.ts';
import { clearPixel, haloRows, type RgbWindow, rgbRows } from './rgbRows.ts';

/** Rows of a split picture: for each pixel the number of its colour in `FlatSplit.colours`. */
export interface SplitBand {
  readonly top: number;
  readonly rows: number;
  readonly colourOf: Uint8Array;
  /** How many pixels are not a flat colour or a mixture of two that meet there. */
  readonly unexplained: number;
  /** The colours of the unexplained pixels, for whoever looks for inks. */
  readonly strangers: ReadonlyMap<number, number>;
}

/**
 * Gives every pixel to one flat colour. A pixel of a colour itself is that colour; one that lies between two colours
 * meeting there belongs to the nearer, so that an edge falls where the mixture is half and half.
 */
export async function* splitBands(
  bytes: Uint8Array,
  recipe: BitmapRecipe,
  split: FlatSplit,
  widthPx: number,
): AsyncIterable<SplitBand> {
  const table = new ColourTable(split);
  const solver = new MixtureSolver(split);
  let base = new Uint8Array(0);
  for await (const window of rgbRows(bytes, recipe, split.rgbSamples, split.alpha, widthPx)) {
    const size = window.rowCount * widthPx;
    if (base.length < size) base = new Uint8Array(size);
    const clear = table.clearIndex;
    let before = clearPixel;
    let colour = clear;
    for (let i = 0; i < size; i++) {
      const pixel = window.pixels[i];
      if (pixel !== before) {
        before = pixel;
        colour = pixel === clearPixel ? clear : table.lookUp(pixel);
      }
      base[i] = colour;
    }
    yield settle(window, base, widthPx, split, table, solver);
  }
}

function settle(
  window: RgbWindow,
  base: Uint8Array,
  widthPx: number,
  split: FlatSplit,
  table: ColourTable,
  solver: MixtureSolver,
): SplitBand {
  const from = (window.top - window.firstRow) * widthPx;
  const colourOf = base.slice(from, from + window.rows * widthPx);
  const strangers = new Map<number, number>();
  let unexplained = 0;
  const lastRow = window.rowCount - 1;
  for (let row = 0; row < window.rows; row++) {
    const inWindow = window.top - window.firstRow + row;
    const up = Math.max(0, inWindow - haloRows);
    const down = Math.min(lastRow, inWindow + haloRows);
    for (let column = 0; column < widthPx; column++) {
      const at = inWindow * widthPx + column;
      const own = base[at];
      if (own !== ColourTable.mixture) {
        if (!split.mixtures) continue;
        if (isFirm(base, at, widthPx, column, inWindow, lastRow)) continue;
      }
      let present = 0;
      const left = Math.max(0, column - haloRows);
      const right = Math.min(widthPx - 1, column + haloRows);
      for (let r = up; r <= down; r++) {
        for (let c = left; c <= right; c++) {
          const colour = base[r * widthPx + c];
          if (colour < ColourTable.mixture) present |= 1 << colour;
        }
      }
      const pixel = window.pixels[at];
      if (pixel === clearPixel) continue;
      if (own !== ColourTable.mixture) {
        const between = solver.between(pixel, present & ~(1 << own));
        if (between >= 0) colourOf[row * widthPx + column] = between;
        continue;
      }
      const solved = split.mixtures ? solver.solve(pixel, present) : -1;
      if (solved >= 0) {
        colourOf[row * widthPx + column] = solved;
        continue;
      }
      unexplained++;
      if (strangers.size < 4096 || strangers.has(pixel)) strangers.set(pixel, (strangers.get(pixel) ?? 0) + 1);
      colourOf[row * widthPx + column] = split.mixtures ? solver.nearest(pixel, present) : table.nearest(pixel);
    }
  }
  return { top: window.top, rows: window.rows, colourOf, unexplained, strangers };
}

/** Whether enough of the pixel's neighbours are of its colour for it not to be the fringe of an edge. */
function isFirm(base: Uint8Array, at: number, widthPx: number, column: number, row: number, lastRow: number): boolean {
  const own = base[at];
  if (column > 0 && column < widthPx - 1 && base[at - 1] === own && base[at + 1] === own) {
    if ((row > 0 && base[at - widthPx] === own) || (row < lastRow && base[at + widthPx] === own)) return true;
  }
  let same = 0;
  for (let r = Math.max(0, row - 1); r <= Math.min(lastRow, row + 1); r++) {
    for (let c = Math.max(0, column - 1); c <= Math.min(widthPx - 1, column + 1); c++) {
      const there = r === row ? at - column + c : at + (r - row) * widthPx - column + c;
      if (base[there] === own) same++;
    }
  }
  return same > 3;
}
