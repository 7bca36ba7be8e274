import type { Plate } from '../plates/plate.ts';
import type { BitPlane } from '../raster/bitPlane.ts';
import type { ShapedMark } from './marksShape.ts';

const alignedWithinMm = 1;
/** Marks on the outer part of a film stand in its border. */
const borderShare = 0.12;

/**
 * Keeps corner brackets and ticks only where a mirror image of the same size stands level with or straight below them:
 * a lone L or T is lettering.
 */
export function keepPairedBrackets(shapes: readonly ShapedMark[]): ShapedMark[] {
  return shapes.filter((shape) => {
    if (shape.mark.kind !== 'corner' && shape.mark.kind !== 'other') return true;
    return shapes.some((other) => other !== shape && areMirrored(shape, other));
  });
}

function areMirrored(a: ShapedMark, b: ShapedMark): boolean {
  if (a.mark.kind !== b.mark.kind) return false;
  if (Math.abs(a.mark.sizeMm - b.mark.sizeMm) > 0.1 * Math.max(a.mark.sizeMm, b.mark.sizeMm)) return false;
  const dxMm = b.mark.xMm - a.mark.xMm;
  const dyMm = b.mark.yMm - a.mark.yMm;
  // Each must open towards the other, or each away from it.
  const facing = (goesA: number, goesB: number): boolean => goesA !== 0 && goesA === -goesB;
  if (Math.abs(dyMm) <= alignedWithinMm && facing(a.goesRight, b.goesRight) && a.goesDown === b.goesDown) return true;
  return Math.abs(dxMm) <= alignedWithinMm && facing(a.goesDown, b.goesDown) && a.goesRight === b.goesRight;
}

/** The shapes that lie outside the box around everything else the plate prints, or in the border of its film. */
export function shapesOutsideArt(plate: Plate, shapes: readonly ShapedMark[]): ShapedMark[] {
  if (shapes.length === 0) return [];
  const { grid } = plate;
  const art = boxWithout(plate.bits, shapes);
  return shapes.filter((shape) => {
    const column = shape.window.left + shape.column;
    const row = shape.window.top + shape.row;
    const inBorder =
      Math.min(column, grid.widthPx - column) < borderShare * grid.widthPx ||
      Math.min(row, grid.heightPx - row) < borderShare * grid.heightPx;
    return inBorder || art === null || column < art.left || column > art.right || row < art.top || row > art.bottom;
  });
}

interface PixelBox {
  left: number;
  top: number;
  right: number;
  bottom: number;
}

/** Box around the ink outside the marks' windows, in pixels; null when there is none. */
function boxWithout(bits: BitPlane, shapes: readonly ShapedMark[]): PixelBox | null {
  const { wordsPerRow, heightPx, words } = bits;
  const box: PixelBox = { left: Infinity, top: Infinity, right: -Infinity, bottom: -Infinity };
  const row = new Uint32Array(wordsPerRow);
  for (let r = 0; r < heightPx; r++) {
    row.set(words.subarray(r * wordsPerRow, (r + 1) * wordsPerRow));
    for (const { window } of shapes) {
      if (r < window.top || r >= window.top + window.height) continue;
      for (let c = window.left; c < window.left + window.width; c++) row[c >> 5] &= ~(1 << (c & 31));
    }
    let first = 0;
    while (first < wordsPerRow && row[first] === 0) first++;
    if (first === wordsPerRow) continue;
    let last = wordsPerRow - 1;
    while (row[last] === 0) last--;
    box.left = Math.min(box.left, first * 32 + 31 - Math.clz32(row[first] & -row[first]));
    box.right = Math.max(box.right, last * 32 + 32 - Math.clz32(row[last]));
    box.top = Math.min(box.top, r);
    box.bottom = r + 1;
  }
  return box.bottom < 0 ? null : box;
}
