import { type TonePlane, tileSidePx } from '../raster/tonePlane.ts';
import { readToneWindow } from '../raster/toneWindow.ts';
import type { ToneLevels } from './halftoneTiles.ts';

/** Steps between neighbouring pixels that are less, as a share of full tone, are noise. */
const leastStep = 0.12;

/**
 * Mean tone of each tile, and its changes between black and clear: the steps from pixel to pixel, added up as shares of
 * full tone, so that a soft edge counts as one however wide it is.
 */
export function countToneTiles(
  tone: TonePlane,
  sidePx: number,
  { clear, solid }: ToneLevels,
): { tones: Float32Array; across: Float32Array; down: Float32Array } {
  const perRow = Math.ceil(tone.widthPx / sidePx);
  const rows = Math.ceil(tone.heightPx / sidePx);
  const tones = new Float32Array(perRow * rows);
  const across = new Float32Array(perRow * rows);
  const down = new Float32Array(perRow * rows);
  const strip = new Uint8Array(tone.widthPx * (sidePx + 1));
  const { widthPx } = tone;
  const range = solid - clear;
  const least = leastStep * range;
  const pixels = sidePx * sidePx;
  for (let tileRow = 0; tileRow < rows; tileRow++) {
    if (isFlatStrip(tone, tileRow * sidePx, sidePx)) {
      for (let column = 0; column < perRow; column++) {
        const flat = flatToneAt(tone, column * sidePx, tileRow * sidePx);
        tones[tileRow * perRow + column] = Math.min(1, Math.max(0, (flat - clear) / range));
      }
      continue;
    }
    const bottom = Math.min(tone.heightPx, (tileRow + 1) * sidePx);
    readToneWindow(tone, 0, tileRow * sidePx, widthPx, sidePx + 1, strip);
    for (let row = 0; row < bottom - tileRow * sidePx; row++) {
      const isLast = tileRow * sidePx + row + 1 >= tone.heightPx;
      for (let column = 0; column < perRow; column++) {
        const right = Math.min(widthPx, (column + 1) * sidePx);
        let sum = 0;
        let stepsAcross = 0;
        let stepsDown = 0;
        for (let at = row * widthPx + column * sidePx; at < row * widthPx + right; at++) {
          const here = strip[at];
          sum += here;
          const stepAcross = Math.abs(strip[at + 1] - here);
          if (stepAcross > least) stepsAcross += stepAcross;
          const stepDown = Math.abs(strip[at + widthPx] - here);
          if (stepDown > least) stepsDown += stepDown;
        }
        const tile = tileRow * perRow + column;
        tones[tile] += (sum - clear * (right - column * sidePx)) / (range * pixels);
        across[tile] += stepsAcross / (range * pixels);
        if (!isLast) down[tile] += stepsDown / (range * pixels);
      }
    }
  }
  return { tones, across, down };
}

function isFlatStrip(tone: TonePlane, top: number, heightPx: number): boolean {
  const from = Math.floor(top / tileSidePx) * tone.tilesPerRow;
  const to = Math.min(tone.tileRows, Math.floor((top + heightPx) / tileSidePx) + 1) * tone.tilesPerRow;
  for (let index = from; index < to; index++) if (tone.flatTones[index] < 0) return false;
  return true;
}

function flatToneAt(tone: TonePlane, column: number, row: number): number {
  return tone.flatTones[Math.floor(row / tileSidePx) * tone.tilesPerRow + Math.floor(column / tileSidePx)];
}
