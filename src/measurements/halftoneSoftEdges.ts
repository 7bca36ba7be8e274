import type { TonePlane } from '../raster/tonePlane.ts';
import { readToneWindow } from '../raster/toneWindow.ts';
import type { ToneLevels } from './halftoneTiles.ts';

const patchPx = 64;
const mostPatches = 40;
/** Over three pixels an edge that a pixel smoothed changes by all of its contrast, nearly. */
const softBelow = 0.85;

/** Share in percent of the edges in patches around pixels that are softer than smoothing over a pixel leaves them. */
export function softEdgePercentOf(
  tone: TonePlane,
  middles: readonly { readonly column: number; readonly row: number }[],
  { clear, solid }: ToneLevels,
): number | null {
  const pixels = new Uint8Array(patchPx * patchPx);
  const half = (clear + solid) / 2;
  const enough = softBelow * (solid - clear);
  let edges = 0;
  let soft = 0;
  const step = Math.max(1, middles.length / mostPatches);
  const at = (row: number, column: number) => pixels[row * patchPx + column];
  for (let k = 0; Math.floor(k) < middles.length; k += step) {
    const { column: left, row: top } = middles[Math.floor(k)];
    readToneWindow(tone, left - patchPx / 2, top - patchPx / 2, patchPx, patchPx, pixels);
    for (let row = 2; row < patchPx - 3; row++) {
      for (let column = 2; column < patchPx - 3; column++) {
        const here = at(row, column) >= half;
        const across = Math.abs(at(row, column + 2) - at(row, column - 1));
        const down = Math.abs(at(row + 2, column) - at(row - 1, column));
        // Edges are met along the line that crosses them more squarely.
        if (here !== at(row, column + 1) >= half && across >= down) {
          edges++;
          if (across < enough) soft++;
        }
        if (here !== at(row + 1, column) >= half && down > across) {
          edges++;
          if (down < enough) soft++;
        }
      }
    }
  }
  return edges === 0 ? null : (100 * soft) / edges;
}
