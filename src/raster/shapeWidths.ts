import type { BitPlane } from './bitPlane.ts';
import { EdgeFinder } from './edgeDistance.ts';
import { kernels } from './kernels/kernelModule.ts';
import { widthsByKernel } from './kernels/widthsByKernel.ts';

/** Pixels of a plane, or with `scale` 2 of a plane reduced to half of it. */
export interface ShapePoints {
  readonly columns: Int32Array;
  readonly rows: Int32Array;
  readonly scale: 1 | 2;
}

/**
 * Width of a shape (the opaque pixels, with `inverted` the clear ones) at each of many pixels near its middle, see
 * `EdgeFinder.widthAcross`. Of a reduced plane any of the four pixels on the shape will do, as the two sides are
 * measured together; 0 where none is. `rowPitch` is a pixel's height in units of its width.
 */
export function shapeWidths(
  plane: BitPlane,
  inverted: boolean,
  rowPitch: number,
  points: ShapePoints,
  limitPx: number,
): Float32Array {
  const loaded = kernels();
  return loaded === null
    ? widthsPlain(plane, inverted, rowPitch, points, limitPx)
    : widthsByKernel(loaded, plane, inverted, rowPitch, points, limitPx);
}

/** `shapeWidths` pixel by pixel. */
export function widthsPlain(
  plane: BitPlane,
  inverted: boolean,
  rowPitch: number,
  { columns, rows, scale }: ShapePoints,
  limitPx: number,
): Float32Array {
  const finder = new EdgeFinder(plane, inverted, rowPitch);
  return Float32Array.from(columns, (column, index) => {
    for (let part = 0; part < scale * scale; part++) {
      const c = scale * column + (part & 1);
      const r = scale * rows[index] + (part >> 1);
      if (scale === 1 || finder.holds(c, r)) return finder.widthAcross(c, r, limitPx);
    }
    return 0;
  });
}
