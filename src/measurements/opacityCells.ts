import { coarsePitchMm, type PixelGrid } from '../raster/pixelGrid.ts';
import { type TonePlane, tileSidePx } from '../raster/tonePlane.ts';
import { readToneWindow } from '../raster/toneWindow.ts';
import { edgeReachPx, isBetween, markGrey, markMiddles, widen } from './opacityGrey.ts';
import { type Texture, textureOf } from './opacityTexture.ts';

/** Side of the cells that areas are put together from. A tile holds a whole number of them. */
const cellSidePx = 32;

/** What is grey in one cell. Columns and rows, `right` and `bottom` one past the last. */
export interface GreyCell {
  pixels: number;
  toneSum: number;
  toneSumOfSquares: number;
  left: number;
  top: number;
  right: number;
  bottom: number;
  /** Smallest and largest tone with only grey around it; 256 and -1 when there is none. */
  minTone: number;
  maxTone: number;
  /** Of the whole cell. */
  texture: Texture;
}

export interface GreyCells {
  readonly perRow: number;
  /** Cells that hold any, by index. */
  readonly cells: ReadonlyMap<number, GreyCell>;
}

/**
 * Finds the pixels that are neither clear nor opaque and no edges. What is not three pixels broad anywhere does not
 * count.
 */
export function findGreyCells(plane: TonePlane, grid: PixelGrid): GreyCells {
  const cells = new Map<number, GreyCell>();
  const cellsPerTile = tileSidePx / cellSidePx;
  const perRow = plane.tilesPerRow * cellsPerTile;
  const reachPx = edgeReachPx(coarsePitchMm(grid));
  // Beyond the tile: a pixel for the middle and one for what lies round it, each with its own surroundings.
  const rimPx = reachPx + 2;
  const side = tileSidePx + 2 * rimPx;
  const tones = new Uint8Array(side * side);
  const grey = new Uint8Array(side * side);
  const middle = new Uint8Array(side * side);
  const near = new Uint8Array(side * side);

  for (let tileRow = 0; tileRow < plane.tileRows; tileRow++) {
    for (let tileColumn = 0; tileColumn < plane.tilesPerRow; tileColumn++) {
      const flat = plane.flatTones[tileRow * plane.tilesPerRow + tileColumn];
      if (flat === 0 || flat === 255) continue;
      const left = tileColumn * tileSidePx;
      const top = tileRow * tileSidePx;
      if (flat > 0 && isEvenAround(plane, tileColumn, tileRow)) {
        if (!isBetween(flat)) continue;
        for (const marks of [grey, middle, near]) marks.fill(1);
        tones.fill(flat);
      } else {
        readToneWindow(plane, left - rimPx, top - rimPx, side, side, tones);
        continueBeyond(plane, left - rimPx, top - rimPx, side, tones);
        if (!markGrey(tones, grey, side, reachPx, reachPx)) continue;
        markMiddles(grey, middle, side, rimPx - 1);
        widen(middle, near, side, rimPx);
      }
      for (let cell = 0; cell < cellsPerTile ** 2; cell++) {
        const cellLeft = (cell % cellsPerTile) * cellSidePx;
        const cellTop = Math.floor(cell / cellsPerTile) * cellSidePx;
        const columns = Math.min(cellSidePx, plane.widthPx - left - cellLeft);
        const rows = Math.min(cellSidePx, plane.heightPx - top - cellTop);
        if (columns <= 0 || rows <= 0) continue;
        const found = greyIn(left + cellLeft, top + cellTop, cellLeft + rimPx, cellTop + rimPx, columns, rows);
        if (found === null) continue;
        const index = ((top + cellTop) / cellSidePx) * perRow + (left + cellLeft) / cellSidePx;
        cells.set(index, found);
      }
    }
  }
  return { perRow, cells };

  function greyIn(
    left: number,
    top: number,
    inLeft: number,
    inTop: number,
    columns: number,
    rows: number,
  ): GreyCell | null {
    let [pixels, toneSum, toneSumOfSquares, minTone, maxTone] = [0, 0, 0, 256, -1];
    let [first, last, firstRow, lastRow] = [columns, -1, rows, -1];
    for (let row = 0; row < rows; row++) {
      const base = (inTop + row) * side + inLeft;
      for (let column = 0; column < columns; column++) {
        const at = base + column;
        if ((grey[at] & near[at]) === 0) continue;
        const tone = tones[at];
        pixels++;
        toneSum += tone;
        toneSumOfSquares += tone * tone;
        if (column < first) first = column;
        if (column > last) last = column;
        if (row < firstRow) firstRow = row;
        lastRow = row;
        if (middle[at] === 0) continue;
        if (tone < minTone) minTone = tone;
        if (tone > maxTone) maxTone = tone;
      }
    }
    if (pixels === 0) return null;
    return {
      pixels,
      toneSum,
      toneSumOfSquares,
      left: left + first,
      top: top + firstRow,
      right: left + last + 1,
      bottom: top + lastRow + 1,
      minTone,
      maxTone,
      texture: textureOf(tones, side, inLeft, inTop, columns, rows, grid.pitchXMm, grid.pitchYMm),
    };
  }
}

/** Whether a tile and those around it, as far as there are any, have one tone and no other. */
function isEvenAround({ flatTones, tilesPerRow, tileRows }: TonePlane, tileColumn: number, tileRow: number): boolean {
  const tone = flatTones[tileRow * tilesPerRow + tileColumn];
  for (let row = Math.max(0, tileRow - 1); row <= Math.min(tileRows - 1, tileRow + 1); row++) {
    for (let column = Math.max(0, tileColumn - 1); column <= Math.min(tilesPerRow - 1, tileColumn + 1); column++) {
      if (flatTones[row * tilesPerRow + column] !== tone) return false;
    }
  }
  return true;
}

/** Beyond the film the tones of its outermost pixels go on, so that the film's end is no edge of the art. */
function continueBeyond(plane: TonePlane, left: number, top: number, side: number, tones: Uint8Array): void {
  const firstColumn = Math.max(0, -left);
  const lastColumn = Math.min(side, plane.widthPx - left) - 1;
  const firstRow = Math.max(0, -top);
  const lastRow = Math.min(side, plane.heightPx - top) - 1;
  for (let row = firstRow; row <= lastRow; row++) {
    const base = row * side;
    tones.fill(tones[base + firstColumn], base, base + firstColumn);
    tones.fill(tones[base + lastColumn], base + lastColumn + 1, base + side);
  }
  for (let row = 0; row < firstRow; row++) tones.copyWithin(row * side, firstRow * side, (firstRow + 1) * side);
  for (let row = lastRow + 1; row < side; row++) tones.copyWithin(row * side, lastRow * side, (lastRow + 1) * side);
}
