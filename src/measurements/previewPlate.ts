import type { SeenPlate } from '../plates/plate.ts';
import { cellCounts } from '../raster/cellCounts.ts';
import type { ToneImage } from '../raster/toneImage.ts';
import type { TonePlane } from '../raster/tonePlane.ts';
import { tileSidePx } from '../raster/tonePlane.ts';

/**
 * The plate reduced by a whole factor so that its longer side is at most `mostPx` pixels, each the mean tone of the
 * pixels it covers. For looking at, never for measuring.
 */
export function previewPlate(plate: SeenPlate, mostPx: number): ToneImage {
  const { widthPx, heightPx, pitchXMm, pitchYMm } = plate.grid;
  const factor = Math.max(1, Math.ceil(Math.max(widthPx, heightPx) / mostPx));
  const columns = Math.ceil(widthPx / factor);
  const rows = Math.ceil(heightPx / factor);
  // Sums of tones, or of opaque pixels.
  const sums = plate.tone === null ? cellCounts(plate.bits, factor) : toneSums(plate.tone, factor);
  const tone = plate.tone === null ? 255 : 1;
  const tones = new Uint8Array(columns * rows);
  const wholeColumns = Math.floor(widthPx / factor);
  for (let row = 0; row < rows; row++) {
    const pixelRows = Math.min(heightPx, (row + 1) * factor) - row * factor;
    const first = row * columns;
    const share = tone / (factor * pixelRows);
    // Clear and opaque cells come out exact whatever the rounding of the share.
    for (let at = first; at < first + wholeColumns; at++) tones[at] = sums[at] * share + 0.5;
    if (wholeColumns === columns) continue;
    const last = first + wholeColumns;
    tones[last] = Math.round((tone * sums[last]) / ((widthPx - wholeColumns * factor) * pixelRows));
  }
  return { widthPx: columns, heightPx: rows, tones, pitchXMm: pitchXMm * factor, pitchYMm: pitchYMm * factor };
}

/** Sum of the tones in each cell. */
function toneSums(tone: TonePlane, factor: number): Float64Array {
  const columns = Math.ceil(tone.widthPx / factor);
  const sums = new Float64Array(columns * Math.ceil(tone.heightPx / factor));
  const addRow = toneRowAdder(tone, factor);
  for (let row = 0; row < tone.heightPx; row++) {
    const first = Math.floor(row / factor) * columns;
    addRow(row, sums.subarray(first, first + columns));
  }
  return sums;
}

type RowAdder = (row: number, sums: Float64Array) => void;

function toneRowAdder(tone: TonePlane, factor: number): RowAdder {
  return (row, sums) => {
    const tileRow = Math.floor(row / tileSidePx) * tone.tilesPerRow;
    const inTile = (row % tileSidePx) * tileSidePx;
    for (let tileColumn = 0; tileColumn < tone.tilesPerRow; tileColumn++) {
      const flat = tone.flatTones[tileRow + tileColumn];
      if (flat === 0) continue;
      const pixels = flat > 0 ? null : tone.tiles.get(tileRow + tileColumn)!;
      const left = tileColumn * tileSidePx;
      const right = Math.min(tone.widthPx, left + tileSidePx);
      for (let column = left; column < right; column++) {
        sums[Math.floor(column / factor)] += pixels === null ? flat : pixels[inTile + column - left];
      }
    }
  };
}
