import type { BoxMm } from '../geometry/box.ts';
import { intersectionOfBoxes } from '../geometry/box.ts';
import type { Detail } from '../measurements/detail.ts';

/** The detail of a plate less what belongs to its registration marks, whose hairlines are not art. */
export function withoutMarks(detail: Detail, markBoxes: readonly BoxMm[]): Detail {
  if (markBoxes.length === 0) return detail;
  const outside = <T extends { readonly boxMm: BoxMm }>(places: readonly T[]) =>
    places.filter(({ boxMm }) => markBoxes.every((mark) => intersectionOfBoxes(mark, boxMm) === null));
  const lines = outside(detail.lines);
  const gaps = outside(detail.gaps);
  const dots = outside(detail.dots);
  const islands = outside(detail.islands);
  const narrowest = (places: typeof lines) =>
    smallest(places.filter(({ kind }) => kind === 'line').map(({ minWidthMm }) => minWidthMm));
  return {
    ...detail,
    lines,
    gaps,
    dots,
    islands,
    minLineMm: narrowest(lines),
    minGapMm: narrowest(gaps),
    minDotMm: smallest(dots.map(({ equivalentDiameterMm }) => equivalentDiameterMm)),
    minIslandMm: smallest(islands.map(({ equivalentDiameterMm }) => equivalentDiameterMm)),
  };
}

function smallest(values: readonly number[]): number | null {
  return values.length === 0 ? null : values.reduce((least, value) => Math.min(least, value));
}
