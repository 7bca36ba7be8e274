import type { Plate } from '../plates/plate.ts';
import { readToneWindow } from '../raster/toneWindow.ts';
import { readWindow } from '../raster/window.ts';
import type { ToneLevels } from './halftoneTiles.ts';

const mostPeriodPx = 64;
/** Share of pixels that differ from those a period on, by what chance has. */
const mostMismatch = 0.12;
/** A tenth of the runs are shorter than the smallest dot. */
const shortRuns = 0.1;

/** Grain of a window of a plate. */
export interface Texture {
  readonly tone: number;
  /** Changes between black and clear a pixel along the rows and along the columns. */
  readonly across: number;
  readonly down: number;
  /** Side of the smallest dots, in pixels. */
  readonly dotPx: number;
  /** How well all changes along the rows lie on a grid of that pitch: 1 all of them, 0 anywhere. */
  readonly gridShare: number;
  /** Changes by those of dots of that side set at random: 1 for such, less for what is drawn. */
  readonly grain: number;
  /** The period of the window's pixels along both rows and columns, null where they do not repeat. */
  readonly periodPx: number | null;
}

export function textureAt(plate: Plate, left: number, top: number, side: number, levels: ToneLevels): Texture {
  const pixels = new Uint8Array(side * side);
  if (plate.tone === null) readWindow(plate.bits, left, top, side, side, pixels);
  else {
    readToneWindow(plate.tone, left, top, side, side, pixels);
    const middle = (levels.clear + levels.solid) / 2;
    for (let at = 0; at < pixels.length; at++) pixels[at] = pixels[at] >= middle ? 1 : 0;
  }
  let black = 0;
  for (const pixel of pixels) black += pixel;
  const tone = black / pixels.length;
  const runs = new Float64Array(side + 1);
  const across = countRuns(pixels, side, 1, side, runs) / pixels.length;
  const down = countRuns(pixels, side, side, 1, runs) / pixels.length;
  const chance = 2 * tone * (1 - tone);
  const { pitch: dotPx, strength } = dotOf(pixels, side, shortestRun(runs));
  return {
    tone,
    across,
    down,
    dotPx,
    gridShare: strength,
    grain: chance === 0 ? 0 : (Math.min(across, down) * dotPx) / chance,
    periodPx: periodOf(pixels, side, chance),
  };
}

/** Changes along all lines of a window; whole runs are counted by their lengths. */
function countRuns(pixels: Uint8Array, side: number, step: number, nextLine: number, runs: Float64Array): number {
  let changes = 0;
  for (let line = 0; line < side; line++) {
    let since = -1;
    for (let k = 1; k < side; k++) {
      const at = line * nextLine + k * step;
      if (pixels[at] === pixels[at - step]) continue;
      changes++;
      if (since >= 0) runs[k - since]++;
      since = k;
    }
  }
  return changes;
}

function shortestRun(runs: Float64Array): number {
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
function dotOf(pixels: Uint8Array, side: number, runPx: number): { pitch: number; strength: number } {
  if (runPx < 2) return { pitch: runPx, strength: 1 };
  const changes = new Float64Array(side);
  let total = 0;
  for (let at = 1; at < side * side; at++) {
    const column = at % side;
    if (column === 0 || pixels[at] === pixels[at - 1]) continue;
    changes[column]++;
    total++;
  }
  let best = { pitch: runPx, strength: 0 };
  for (let pitch = runPx - 0.6; pitch <= runPx + 0.95; pitch += 0.05) {
    let real = 0;
    let imaginary = 0;
    for (let column = 1; column < side; column++) {
      real += changes[column] * Math.cos((2 * Math.PI * column) / pitch);
      imaginary += changes[column] * Math.sin((2 * Math.PI * column) / pitch);
    }
    const strength = total === 0 ? 0 : Math.hypot(real, imaginary) / total;
    if (strength > best.strength + 1e-9) best = { pitch, strength };
  }
  return best.strength >= 0.5 ? best : { pitch: runPx, strength: best.strength };
}

function periodOf(pixels: Uint8Array, side: number, chance: number): number | null {
  if (chance < 0.01) return null;
  const most = Math.min(mostPeriodPx, side >> 1);
  for (let period = 2; period <= most; period++) {
    let differ = 0;
    let count = 0;
    for (let row = 0; row < side - period; row++) {
      for (let at = row * side; at < row * side + side - period; at++) {
        differ += (pixels[at] ^ pixels[at + period]) + (pixels[at] ^ pixels[at + period * side]);
        count += 2;
      }
      // What differs early will not come right.
      if (row === 15 && differ / count > 3 * mostMismatch * chance) break;
    }
    if (differ / count <= mostMismatch * chance) return period;
  }
  return null;
}
