import type { ShapedMark } from './marksShaped.ts';

const alignedWithinMm = 1;
/** A film may lie turned by a degree. */
const alignedPerMm = 0.02;

/**
 * Keeps corner brackets and ticks only where a mirror image of the same size stands level with or straight below them:
 * a lone L, T or stroke is lettering. Single strokes point to each other.
 */
export function keepPairedBrackets(shapes: readonly ShapedMark[]): ShapedMark[] {
  return shapes.filter((shape) => {
    if (shape.mark.kind !== 'corner' && shape.mark.kind !== 'other') return true;
    return shapes.some((other) => other !== shape && areMirrored(shape, other));
  });
}

function areMirrored(a: ShapedMark, b: ShapedMark): boolean {
  if (a.mark.kind !== b.mark.kind || a.lone !== b.lone) return false;
  if (Math.abs(a.mark.sizeMm - b.mark.sizeMm) > 0.1 * Math.max(a.mark.sizeMm, b.mark.sizeMm)) return false;
  const dxMm = Math.abs(b.mark.xMm - a.mark.xMm);
  const dyMm = Math.abs(b.mark.yMm - a.mark.yMm);
  const isLevel = dyMm <= alignedWithinMm + alignedPerMm * dxMm;
  const isUpright = dxMm <= alignedWithinMm + alignedPerMm * dyMm;
  if (a.lone === 'upright') return isUpright && dyMm > 2 * a.mark.sizeMm;
  if (a.lone === 'level') return isLevel && dxMm > 2 * a.mark.sizeMm;
  // Each must open towards the other, or each away from it.
  const facing = (goesA: number, goesB: number): boolean => goesA !== 0 && goesA === -goesB;
  if (isLevel && facing(a.goesRight, b.goesRight) && a.goesDown === b.goesDown) return true;
  return isUpright && facing(a.goesDown, b.goesDown) && a.goesRight === b.goesRight;
}
