import type { Plate } from '../plates/plate.ts';
import type { BitPlane } from '../raster/bitPlane.ts';
import { opaqueBox } from '../raster/opaqueBox.ts';
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
  const art = opaqueBox(withoutMarks(plate.bits, shapes));
  return shapes.filter((shape) => {
    const column = shape.window.left + shape.column;
    const row = shape.window.top + shape.row;
    const inBorder =
      Math.min(column, grid.widthPx - column) < borderShare * grid.widthPx ||
      Math.min(row, grid.heightPx - row) < borderShare * grid.heightPx;
    return inBorder || art === null || column < art.left || column >= art.right || row < art.top || row >= art.bottom;
  });
}

/** The plane less what lies in the marks' windows. */
function withoutMarks(bits: BitPlane, shapes: readonly ShapedMark[]): BitPlane {
  const words = Uint32Array.from(bits.words);
  for (const { window } of shapes) {
    for (let row = window.top; row < window.top + window.height; row++) {
      for (let column = window.left; column < window.left + window.width; column++) {
        words[row * bits.wordsPerRow + (column >> 5)] &= ~(1 << (column & 31));
      }
    }
  }
  return { ...bits, words };
}
