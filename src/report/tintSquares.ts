import type { TintMap } from '../measurements/halftone.ts';

/** Tones of the squares of a map in percent, row by row; null where the part has none. */
export function tonesOfTintMap({ rows }: TintMap): (number | null)[][] {
  return rows.map((row) =>
    Array.from({ length: row.length / 2 }, (_, column) => {
      const two = row.slice(2 * column, 2 * column + 2);
      return two === '--' ? null : Number(two);
    }),
  );
}
