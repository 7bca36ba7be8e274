import type { BitPlane } from './bitPlane.ts';
import { kernels } from './kernels/kernelModule.ts';
import { thinByKernel } from './kernels/thinByKernel.ts';
import type { Outside } from './morphology.ts';
import { thinPlain } from './thinPlain.ts';

export interface ThinningOptions {
  /** Takes the plane's clear pixels for the shape. */
  readonly inverted: boolean;
  /** What lies beyond the plane's edges; where that is of the shape's kind, it is kept. Default: clear. */
  readonly outside?: Outside;
  /** Pixels that are never peeled, in the same layout; null: none. Those outside the shape are not looked at. */
  readonly kept: BitPlane | null;
}

/**
 * Peels the opaque shape layer by layer down to lines one pixel wide in its middle, joined as the shape was joined
 * (8-connected), with `kept` pixels standing throughout. Answers the lines without the kept pixels.
 * Method: Guo and Hall, Parallel thinning with two-subiteration algorithms, CACM 32 (1989), algorithm A1.
 * Those rules never open a hole of a single pixel, so such a hole
 * is made two pixels wide beforehand.
 */
export function thinnedLines(plane: BitPlane, options: ThinningOptions): BitPlane {
  const loaded = kernels();
  return loaded === null ? thinPlain(plane, options) : thinByKernel(loaded, plane, options);
}
