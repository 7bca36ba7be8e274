/**
 * Affine transforms as the six numbers of ISO 32000-1, 8.3.4 and SVG's `matrix()`:
 * x' = a·x + c·y + e, y' = b·x + d·y + f.
 */
export type Matrix = readonly [a: number, b: number, c: number, d: number, e: number, f: number];

export const identity: Matrix = [1, 0, 0, 1, 0, 0];

/** The transform that applies `inner` first and `outer` after it. */
export function multiplied(outer: Matrix, inner: Matrix): Matrix {
  const [a, b, c, d, e, f] = outer;
  const [ia, ib, ic, id, ie, iF] = inner;
  return [a * ia + c * ib, b * ia + d * ib, a * ic + c * id, b * ic + d * id, a * ie + c * iF + e, b * ie + d * iF + f];
}

export function transformed(matrix: Matrix, x: number, y: number): [x: number, y: number] {
  return [matrix[0] * x + matrix[2] * y + matrix[4], matrix[1] * x + matrix[3] * y + matrix[5]];
}

export function determinant(matrix: Matrix): number {
  return matrix[0] * matrix[3] - matrix[1] * matrix[2];
}

/** The inverse, or null for a transform that flattens the plane to a line. */
export function inverted(matrix: Matrix): Matrix | null {
  const det = determinant(matrix);
  if (!Number.isFinite(det) || det === 0) return null;
  const [a, b, c, d, e, f] = matrix;
  return [d / det, -b / det, -c / det, a / det, (c * f - d * e) / det, (b * e - a * f) / det];
}

/** Smallest and largest factor by which the transform stretches a length: its singular values. */
export function stretch(matrix: Matrix): { readonly min: number; readonly max: number } {
  const [a, b, c, d] = matrix;
  const sum = a * a + b * b + c * c + d * d;
  const difference = Math.sqrt(Math.max(0, sum * sum - 4 * determinant(matrix) ** 2));
  return { min: Math.sqrt(Math.max(0, (sum - difference) / 2)), max: Math.sqrt((sum + difference) / 2) };
}
