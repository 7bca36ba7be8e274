import type { GriddedPlane } from '../raster/griddedPlane.ts';
import { InkField } from '../raster/inkField.ts';
import type { Cover } from '../raster/planePair.ts';

/** Where across a gap other plates must print for it to be none, as shares of its width. */
const shares = [0.2, 0.5, 0.8];

/** Tells whether any of the plates prints all across a gap; null when there are none. */
export function coverOf(planes: readonly GriddedPlane[]): Cover | null {
  if (planes.length === 0) return null;
  const fields = planes.map((plane) => new InkField(plane));
  const hasInk = (x: number, y: number): boolean => {
    for (const field of fields) if (field.at(x, y) === 1) return true;
    return false;
  };
  return (x, y, acrossX, acrossY) => {
    for (const share of shares) if (!hasInk(x + share * acrossX, y + share * acrossY)) return false;
    return true;
  };
}
