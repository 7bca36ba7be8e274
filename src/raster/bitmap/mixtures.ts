import type { FlatSplit } from './bitmapRecipe.ts';
import { isRepeat } from './colourTable.ts';

/** Two colours nearer to each other than this make no edge worth the name. */
const leastContrast = 24;
/** How far, in components of 0–255, a mixture may lie off the line between its two colours. */
const offLine = 14;
/** A mixture with a colour that is not seen nearby has to fit better than one between two that are. */
const strangerPenalty = 100;
const memoLimit = 500_000;

/**
 * Says which of two meeting colours a pixel between them belongs to. `present` has a bit for each colour seen near the
 * pixel. Answers are remembered by pixel and neighbourhood.
 */
export class MixtureSolver {
  readonly #split: FlatSplit;
  readonly #usable: readonly number[];
  readonly #memo = new Map<number, number>();

  constructor(split: FlatSplit) {
    this.#split = split;
    this.#usable = split.colours.map((_, i) => i).filter((i) => !split.colours[i].clear && !isRepeat(split, i));
  }

  /** The colour it belongs to, or -1 when it is no mixture of a colour present with another. */
  solve(pixel: number, present: number): number {
    const key = (present >>> 0) * 0x1000000 + pixel;
    const known = this.#memo.get(key);
    if (known !== undefined) return known;
    const answer = this.#search(pixel, present, true);
    if (this.#memo.size < memoLimit) this.#memo.set(key, answer);
    return answer;
  }

  /** The nearer of two colours present when the pixel clearly lies between them, else -1. */
  between(pixel: number, present: number): number {
    if ((present & (present - 1)) === 0) return -1;
    return this.#search(pixel, present, false);
  }

  /** The nearest of the colours present, or of all when none is. */
  nearest(pixel: number, present: number): number {
    let best = this.#usable[0];
    let least = Number.POSITIVE_INFINITY;
    for (const index of this.#usable) {
      if (present !== 0 && (present & (1 << index)) === 0) continue;
      const distance = squared(difference(pixel, this.#split.colours[index]));
      if (distance < least) {
        least = distance;
        best = index;
      }
    }
    return best;
  }

  #search(pixel: number, present: number, strangersToo: boolean): number {
    const colours = this.#split.colours;
    let best = -1;
    let least = offLine * offLine + (strangersToo ? 0 : 1);
    for (const a of this.#usable) {
      if ((present & (1 << a)) === 0) continue;
      const [pr, pg, pb] = difference(pixel, colours[a]);
      for (const b of this.#usable) {
        if (b === a) continue;
        const near = (present & (1 << b)) !== 0;
        if (near ? b < a : !strangersToo) continue;
        const r = colours[b].red - colours[a].red;
        const g = colours[b].green - colours[a].green;
        const bl = colours[b].blue - colours[a].blue;
        const length = r * r + g * g + bl * bl;
        if (length < leastContrast * leastContrast) continue;
        const along = (pr * r + pg * g + pb * bl) / length;
        if (along < (strangersToo ? -0.1 : 0.08) || along > (strangersToo ? 1.1 : 0.92)) continue;
        const off =
          (pr - along * r) ** 2 + (pg - along * g) ** 2 + (pb - along * bl) ** 2 + (near ? 0 : strangerPenalty);
        if (off < least) {
          least = off;
          best = along >= 0.5 ? b : a;
        }
      }
    }
    return best;
  }
}

function difference(pixel: number, colour: { red: number; green: number; blue: number }): [number, number, number] {
  return [(pixel >> 16) - colour.red, ((pixel >> 8) & 255) - colour.green, (pixel & 255) - colour.blue];
}

function squared([r, g, b]: readonly [number, number, number]): number {
  return r * r + g * g + b * b;
}
