import type { Plate } from '../plates/plate.ts';
import type { ToneImage } from '../raster/toneImage.ts';
import type { TonePlane } from '../raster/tonePlane.ts';
import { tileSidePx } from '../raster/tonePlane.ts';

/**
 * The plate reduced by a whole factor so that its longer side is at most `mostPx` pixels, each the mean tone of the
 * pixels it covers. For looking at, never for measuring.
 */
export function previewPlate(plate: Plate, mostPx: number): ToneImage {
  const { widthPx, heightPx, pitchXMm, pitchYMm } = plate.grid;
  const factor = Math.max(1, Math.ceil(Math.max(widthPx, heightPx) / mostPx));
  const columns = Math.ceil(widthPx / factor);
  const rows = Math.ceil(heightPx / factor);
  const sums = new Float64Array(columns);
  const tones = new Uint8Array(columns * rows);
  const addRow = plate.tone === null ? bitRowAdder(plate, factor) : toneRowAdder(plate.tone, factor);
  for (let row = 0; row < rows; row++) {
    const bottom = Math.min(heightPx, (row + 1) * factor);
    sums.fill(0);
    for (let source = row * factor; source < bottom; source++) addRow(source, sums);
    const pixelRows = bottom - row * factor;
    for (let column = 0; column < columns; column++) {
      const pixelColumns = Math.min(widthPx, (column + 1) * factor) - column * factor;
      tones[row * columns + column] = Math.round(sums[column] / (pixelColumns * pixelRows));
    }
  }
  return { widthPx: columns, heightPx: rows, tones, pitchXMm: pitchXMm * factor, pitchYMm: pitchYMm * factor };
}

type RowAdder = (row: number, sums: Float64Array) => void;

function bitRowAdder(plate: Plate, factor: number): RowAdder {
  const { words, wordsPerRow } = plate.bits;
  const columnOf = new Uint32Array(wordsPerRow * 32);
  for (let column = 0; column < columnOf.length; column++) columnOf[column] = Math.floor(column / factor);
  return (row, sums) => {
    for (let index = 0; index < wordsPerRow; index++) {
      let word = words[row * wordsPerRow + index];
      while (word !== 0) {
        const bit = 31 - Math.clz32(word & -word);
        sums[columnOf[index * 32 + bit]] += 255;
        word &= word - 1;
      }
    }
  };
}

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
