import type { CellMap } from './halftoneCells.ts';

/** A cell with a line of one pixel holds no more, in pixels along its side: of broader lines none comes to be missing. */
const faintPx = 1.15;
/** Cells to the next one that shows a line. */
const farthest = 8;

/**
 * Adds to the cells present, 1, the clear ones between lines finer than a pixel, which lie nearly along the pixels: there
 * each line is a pixel wide here and missing there.
 */
export function addBetweenFaintLines(map: CellMap, pixelsPerCell: number, present: Uint8Array): void {
  const { columns, rows, counts, ink } = map;
  const faintTone = faintPx / pixelsPerCell;
  const isClear = new Uint8Array(counts.length);
  const isFaint = new Uint8Array(counts.length);
  for (let cell = 0; cell < counts.length; cell++) {
    if (counts[cell] === 0) continue;
    if (ink[cell] === 0) isClear[cell] = 1;
    else if (ink[cell] <= faintTone * counts[cell]) isFaint[cell] = 1;
  }
  for (let row = 0; row < rows; row++) {
    // Cells since the last faint line with nothing but clear film between.
    let since = farthest;
    for (let column = 0; column < columns; column++) {
      const cell = row * columns + column;
      if (isFaint[cell] === 1) {
        if (since < farthest) present.fill(1, cell - since, cell);
        since = 0;
      } else since = isClear[cell] === 1 && since < farthest ? since + 1 : farthest;
    }
  }
}
