import { type TonePlane, tileSidePx } from '../raster/tonePlane.ts';
import { readToneWindow } from '../raster/toneWindow.ts';

/** Tones up to this count as clear, from `opaqueFrom` on as opaque: 4 and 96 %, past what edge smoothing leaves over. */
const clearTo = 10;
const opaqueFrom = 245;
/** Side of the cells that areas are put together from. A tile holds a whole number of them. */
export const cellSidePx = 32;
/** Around a tile this much is looked at too: one pixel each for edges, for the middle and for what lies round it. */
const rimPx = 3;

/** What is semi-opaque in one cell. Columns and rows, `right` and `bottom` one past the last. */
export interface SemiOpaqueCell {
  pixels: number;
  toneSum: number;
  left: number;
  top: number;
  right: number;
  bottom: number;
}

export interface SemiOpaquePixels {
  readonly cellsPerRow: number;
  /** Cells that hold any, by index. */
  readonly cells: ReadonlyMap<number, SemiOpaqueCell>;
  readonly pixels: number;
  /** Smallest and largest tone with only such tones around it; 256 and -1 when there is none. */
  readonly minTone: number;
  readonly maxTone: number;
}

/**
 * Finds the pixels that are neither clear nor opaque. Those with both clear and opaque ones among their eight
 * neighbours are edges smoothed by the renderer and do not count, nor does what is not three pixels broad anywhere.
 */
export function findSemiOpaque(plane: TonePlane): SemiOpaquePixels {
  const cells = new Map<number, SemiOpaqueCell>();
  const cellsPerRow = plane.tilesPerRow * (tileSidePx / cellSidePx);
  const side = tileSidePx + 2 * rimPx;
  const tones = new Uint8Array(side * side);
  const middle = new Uint8Array(side * side);
  const found = { cellsPerRow, cells, pixels: 0, minTone: 256, maxTone: -1 };

  for (let tileRow = 0; tileRow < plane.tileRows; tileRow++) {
    for (let tileColumn = 0; tileColumn < plane.tilesPerRow; tileColumn++) {
      const flat = plane.flatTones[tileRow * plane.tilesPerRow + tileColumn];
      if (flat >= 0 && !isBetween(flat)) continue;
      const left = tileColumn * tileSidePx;
      const top = tileRow * tileSidePx;
      readToneWindow(plane, left - rimPx, top - rimPx, side, side, tones);
      markMiddles(tones, middle, side);
      const columns = Math.min(tileSidePx, plane.widthPx - left);
      const rows = Math.min(tileSidePx, plane.heightPx - top);
      for (let row = 0; row < rows; row++) {
        for (let column = 0; column < columns; column++) {
          const at = (row + rimPx) * side + column + rimPx;
          if (!hasMiddleNear(middle, at, side) || !isBetween(tones[at]) || isEdge(tones, at, side)) continue;
          addPixel(left + column, top + row, tones[at], middle[at] === 1);
        }
      }
    }
  }
  return found;

  function addPixel(column: number, row: number, tone: number, isMiddle: boolean): void {
    const index = Math.floor(row / cellSidePx) * cellsPerRow + Math.floor(column / cellSidePx);
    let cell = cells.get(index);
    if (cell === undefined) {
      cell = { pixels: 0, toneSum: 0, left: column, top: row, right: column, bottom: row };
      cells.set(index, cell);
    }
    cell.pixels++;
    cell.toneSum += tone;
    if (column < cell.left) cell.left = column;
    if (column >= cell.right) cell.right = column + 1;
    cell.bottom = row + 1;
    found.pixels++;
    if (!isMiddle) return;
    if (tone < found.minTone) found.minTone = tone;
    if (tone > found.maxTone) found.maxTone = tone;
  }
}

function isBetween(tone: number): boolean {
  return tone > clearTo && tone < opaqueFrom;
}

function isEdge(tones: Uint8Array, at: number, side: number): boolean {
  let least = 255;
  let most = 0;
  for (let row = -side; row <= side; row += side) {
    for (let k = at + row - 1; k <= at + row + 1; k++) {
      if (tones[k] < least) least = tones[k];
      if (tones[k] > most) most = tones[k];
    }
  }
  return least <= clearTo && most >= opaqueFrom;
}

/** Marks pixels that, with all eight around them, lie between and are no edges. */
function markMiddles(tones: Uint8Array, middle: Uint8Array, side: number): void {
  middle.fill(0);
  for (let row = 2; row < side - 2; row++) {
    for (let at = row * side + 2; at < row * side + side - 2; at++) {
      if (!isBetween(tones[at])) continue;
      let all = 1;
      for (let down = -side; down <= side && all === 1; down += side) {
        for (let k = at + down - 1; k <= at + down + 1; k++) {
          if (!isBetween(tones[k]) || isEdge(tones, k, side)) {
            all = 0;
            break;
          }
        }
      }
      middle[at] = all;
    }
  }
}

function hasMiddleNear(middle: Uint8Array, at: number, side: number): boolean {
  for (let row = -side; row <= side; row += side) {
    if ((middle[at + row - 1] | middle[at + row] | middle[at + row + 1]) === 1) return true;
  }
  return false;
}
