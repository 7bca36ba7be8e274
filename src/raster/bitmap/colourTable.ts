import type { FlatSplit } from './bitmapRecipe.ts';

const unknown = 255;

/** Which flat colour a pixel is, by look-up: each colour is compared once and remembered. */
export class ColourTable {
  /** Number that stands for a pixel of no flat colour. */
  static readonly mixture = 254;
  readonly #split: FlatSplit;
  readonly #known: Uint8Array = new Uint8Array(1 << 24).fill(unknown);
  readonly clearIndex: number;

  constructor(split: FlatSplit) {
    this.#split = split;
    this.clearIndex = Math.max(
      0,
      split.colours.findIndex((colour) => colour.clear),
    );
  }

  lookUp(pixel: number): number {
    const known = this.#known[pixel];
    if (known !== unknown) return known;
    const index = this.nearest(pixel);
    const colour = this.#split.colours[index];
    const difference = Math.max(
      Math.abs(colour.red - (pixel >> 16)),
      Math.abs(colour.green - ((pixel >> 8) & 255)),
      Math.abs(colour.blue - (pixel & 255)),
    );
    const answer = difference <= this.#split.tolerance ? index : ColourTable.mixture;
    this.#known[pixel] = answer;
    return answer;
  }

  /** The flat colour nearest in red, green and blue; what is see-through has no colour. */
  nearest(pixel: number): number {
    let best = 0;
    let least = Number.POSITIVE_INFINITY;
    this.#split.colours.forEach((colour, index) => {
      if (colour.clear || isRepeat(this.#split, index)) return;
      const distance =
        (colour.red - (pixel >> 16)) ** 2 +
        (colour.green - ((pixel >> 8) & 255)) ** 2 +
        (colour.blue - (pixel & 255)) ** 2;
      if (distance < least) {
        least = distance;
        best = index;
      }
    });
    return best;
  }
}

/** White ink and white ground have one colour; the ground stands first and is what a pixel is found to be. */
export function isRepeat(split: FlatSplit, index: number): boolean {
  const colour = split.colours[index];
  return split.colours.some(
    (other, i) =>
      i < index &&
      !other.clear &&
      other.red === colour.red &&
      other.green === colour.green &&
      other.blue === colour.blue,
  );
}
