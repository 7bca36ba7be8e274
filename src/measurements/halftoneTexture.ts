import type { Plate } from '../plates/plate.ts';
import { type BitPlane, bitsAt, popcount } from '../raster/bitPlane.ts';
import { readToneWindow } from '../raster/toneWindow.ts';
import type { ToneLevels } from './halftoneTiles.ts';

const mostPeriodPx = 64;
/** Share of pixels that differ from those a period on, by what chance has. */
const mostMismatch = 0.12;
/** A tenth of the runs are shorter than the smallest dot. */
const shortRuns = 0.1;
/** Dots are sought with pitches from so much less than such a run to so much more, in pixels. */
const pitchFrom = -0.6;
const pitchTo = 0.95;

/** Grain of a window of a plate; what takes long to work out is worked out when it is asked for. */
export class Texture {
  readonly tone: number;
  readonly #lines: TextureLines;
  readonly #shortRunPx: number;
  /** Changes a pixel in the direction that has fewer, by those of pixels set at random. */
  readonly #changes: number;
  #dot: { pitch: number; strength: number } | null = null;
  #period: number | null | undefined;

  constructor(lines: TextureLines) {
    const pixels = lines.side ** 2;
    this.#lines = lines;
    this.tone = lines.black / pixels;
    this.#shortRunPx = shortestRun(lines.runs);
    const chance = 2 * this.tone * (1 - this.tone);
    this.#changes = chance === 0 ? 0 : Math.min(lines.across, lines.down) / pixels / chance;
  }

  /** Side of the smallest dots, in pixels. */
  get dotPx(): number {
    return this.#dotFound.pitch;
  }

  /** How well all changes along the rows lie on a grid of that pitch: 1 all of them, 0 anywhere. */
  get gridShare(): number {
    return this.#dotFound.strength;
  }

  /** Changes by those of dots of that side set at random: 1 for such, less for what is drawn. */
  get grain(): number {
    return this.#changes * this.dotPx;
  }

  /** What neither the grain nor the dots' side reach, whichever pitch the dots turn out to have. */
  get bounds(): { readonly mostGrain: number; readonly leastDotPx: number } {
    const run = this.#shortRunPx;
    return { mostGrain: this.#changes * (run + 1), leastDotPx: run - 1 };
  }

  /** The period of the window's pixels along both rows and columns, null where they do not repeat. */
  get periodPx(): number | null {
    if (this.#period === undefined) this.#period = periodOf(this.#lines, 2 * this.tone * (1 - this.tone));
    return this.#period;
  }

  get #dotFound(): { pitch: number; strength: number } {
    this.#dot ??= dotOf(this.#lines.changesAt, this.#shortRunPx);
    return this.#dot;
  }
}

/** @param side a multiple of 32 */
export function textureAt(plate: Plate, left: number, top: number, side: number, levels: ToneLevels): Texture {
  const words = new Uint32Array((side / 32) * side);
  if (plate.tone === null) readLines(plate.bits, left, top, side, words);
  else {
    const pixels = new Uint8Array(side * side);
    readToneWindow(plate.tone, left, top, side, side, pixels);
    const middle = (levels.clear + levels.solid) / 2;
    for (let at = 0; at < pixels.length; at++) if (pixels[at] >= middle) words[at >> 5] |= 1 << (at & 31);
  }
  return new Texture(new TextureLines(words, side));
}

/** Fills the rows of a window, 32 pixels a word; what lies beyond the plane is clear. */
function readLines(plane: BitPlane, left: number, top: number, side: number, words: Uint32Array): void {
  const perLine = side / 32;
  for (let row = Math.max(0, -top); row < Math.min(side, plane.heightPx - top); row++) {
    for (let word = 0; word < perLine; word++) {
      const column = left + 32 * word;
      if (column <= -32) continue;
      const bits = column < 0 ? bitsAt(plane, 0, top + row, 32) << -column : bitsAt(plane, column, top + row, 32);
      words[row * perLine + word] = bits;
    }
  }
}

/** The rows of a window, and the changes between black and clear along them and from one to the next. */
class TextureLines {
  readonly words: Uint32Array;
  readonly side: number;
  black = 0;
  across = 0;
  down = 0;
  /** How many whole runs there are of each length. */
  readonly runs: Uint32Array;
  /** How many changes along the rows there are ahead of each column. */
  readonly changesAt: Uint32Array;

  constructor(words: Uint32Array, side: number) {
    this.words = words;
    this.side = side;
    this.runs = new Uint32Array(side + 1);
    this.changesAt = new Uint32Array(side);
    this.#countAcross();
    this.#countDown();
  }

  #countAcross(): void {
    const { words, side, runs, changesAt } = this;
    const perLine = side / 32;
    for (let first = 0; first < words.length; first += perLine) {
      let since = 0;
      for (let word = 0; word < perLine; word++) {
        const bits = words[first + word];
        this.black += popcount(bits);
        // Each pixel with the one before it; the first of a line has none.
        const before = word === 0 ? bits & 1 : words[first + word - 1] >>> 31;
        for (let rest = bits ^ ((bits << 1) | before); rest !== 0; rest &= rest - 1) {
          const column = 32 * word + 31 - Math.clz32(rest & -rest);
          if (since > 0) runs[column - since]++;
          since = column;
          changesAt[column]++;
          this.across++;
        }
      }
    }
  }

  #countDown(): void {
    const { words, side, runs } = this;
    const perLine = side / 32;
    const since = new Uint32Array(side);
    for (let at = perLine; at < words.length; at++) {
      const row = Math.floor(at / perLine);
      for (let rest = words[at] ^ words[at - perLine]; rest !== 0; rest &= rest - 1) {
        const column = 32 * (at % perLine) + 31 - Math.clz32(rest & -rest);
        if (since[column] > 0) runs[row - since[column]]++;
        since[column] = row;
        this.down++;
      }
    }
  }
}

function shortestRun(runs: Uint32Array): number {
  const total = runs.reduce((sum, count) => sum + count, 0);
  let sum = 0;
  for (let length = 0; length < runs.length; length++) {
    sum += runs[length];
    if (sum > 0 && sum >= shortRuns * total) return length;
  }
  return 0;
}

/**
 * The pitch near a run's length on which the changes along the rows lie best, and how well; that length where none does
 * so half as well as might be. Single pixels lie on their own grid always.
 */
function dotOf(changesAt: Uint32Array, runPx: number): { pitch: number; strength: number } {
  if (runPx < 2) return { pitch: runPx, strength: 1 };
  const total = changesAt.reduce((sum, count) => sum + count, 0);
  let best = { pitch: runPx, strength: 0 };
  for (let pitch = runPx + pitchFrom; pitch <= runPx + pitchTo; pitch += 0.05) {
    let real = 0;
    let imaginary = 0;
    for (let column = 1; column < changesAt.length; column++) {
      real += changesAt[column] * Math.cos((2 * Math.PI * column) / pitch);
      imaginary += changesAt[column] * Math.sin((2 * Math.PI * column) / pitch);
    }
    const strength = total === 0 ? 0 : Math.hypot(real, imaginary) / total;
    if (strength > best.strength + 1e-9) best = { pitch, strength };
  }
  return best.strength >= 0.5 ? best : { pitch: runPx, strength: best.strength };
}

function periodOf({ words, side }: TextureLines, chance: number): number | null {
  if (chance < 0.01) return null;
  const most = Math.min(mostPeriodPx, side >> 1);
  for (let period = 2; period <= most; period++) {
    let differ = 0;
    let count = 0;
    for (let row = 0; row < side - period; row++) {
      differ += differingIn(words, side, row, period);
      count += 2 * (side - period);
      // What differs early will not come right.
      if (row === 15 && differ / count > 3 * mostMismatch * chance) break;
    }
    if (differ / count <= mostMismatch * chance) return period;
  }
  return null;
}

/** Pixels of a row that differ from those a period on along it, and from those a period below. */
function differingIn(words: Uint32Array, side: number, row: number, period: number): number {
  const perLine = side / 32;
  const first = row * perLine;
  const [skipped, shift] = [period >> 5, period & 31];
  let differ = 0;
  for (let word = 0; word < perLine; word++) {
    const left = side - period - 32 * word;
    if (left <= 0) break;
    const mask = left >= 32 ? -1 : (1 << left) - 1;
    const at = word + skipped;
    const low = at < perLine ? words[first + at] >>> shift : 0;
    const high = shift > 0 && at + 1 < perLine ? words[first + at + 1] << (32 - shift) : 0;
    const here = words[first + word];
    differ += popcount((here ^ (low | high)) & mask) + popcount((here ^ words[first + word + period * perLine]) & mask);
  }
  return differ;
}
