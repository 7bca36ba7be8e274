/**
 * Film space: millimetres, origin at the top left of the film as it reads right, x to the right, y down.
 */
export interface PointMm {
  readonly xMm: number;
  readonly yMm: number;
}

export interface BoxMm {
  readonly xMm: number;
  readonly yMm: number;
  readonly widthMm: number;
  readonly heightMm: number;
}

/** The smallest box around both boxes. */
export function unionOfBoxes(a: BoxMm, b: BoxMm): BoxMm {
  const xMm = Math.min(a.xMm, b.xMm);
  const yMm = Math.min(a.yMm, b.yMm);
  return {
    xMm,
    yMm,
    widthMm: Math.max(a.xMm + a.widthMm, b.xMm + b.widthMm) - xMm,
    heightMm: Math.max(a.yMm + a.heightMm, b.yMm + b.heightMm) - yMm,
  };
}

/** The part both boxes share, or null when they do not meet. Boxes that only touch share a box of no area. */
export function intersectionOfBoxes(a: BoxMm, b: BoxMm): BoxMm | null {
  const xMm = Math.max(a.xMm, b.xMm);
  const yMm = Math.max(a.yMm, b.yMm);
  const widthMm = Math.min(a.xMm + a.widthMm, b.xMm + b.widthMm) - xMm;
  const heightMm = Math.min(a.yMm + a.heightMm, b.yMm + b.heightMm) - yMm;
  return widthMm < 0 || heightMm < 0 ? null : { xMm, yMm, widthMm, heightMm };
}

/** The box grown by a margin on every side. */
export function grownBox(box: BoxMm, marginMm: number): BoxMm {
  return {
    xMm: box.xMm - marginMm,
    yMm: box.yMm - marginMm,
    widthMm: box.widthMm + 2 * marginMm,
    heightMm: box.heightMm + 2 * marginMm,
  };
}

/** Whether the inner box lies within the outer one; edges may coincide. */
export function containsBox(outer: BoxMm, inner: BoxMm): boolean {
  return (
    inner.xMm >= outer.xMm &&
    inner.yMm >= outer.yMm &&
    inner.xMm + inner.widthMm <= outer.xMm + outer.widthMm &&
    inner.yMm + inner.heightMm <= outer.yMm + outer.heightMm
  );
}

/** How much of a box lies in any of others that do not overlap, 0 … 1. */
export function shareWithinBoxes(box: BoxMm, others: readonly BoxMm[]): number {
  const areaOf = ({ widthMm, heightMm }: BoxMm) => widthMm * heightMm;
  const within = others.reduce((sum, other) => {
    const both = intersectionOfBoxes(box, other);
    return both === null ? sum : sum + areaOf(both);
  }, 0);
  return areaOf(box) === 0 ? 0 : Math.min(1, within / areaOf(box));
}
