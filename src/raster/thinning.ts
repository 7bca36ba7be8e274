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
  /**
   * Stops after so many turns even if something could still be peeled. A turn takes nothing that depends on pixels
   * further than one away, so what is left depends on nothing further than `mostTurns` away. Default: no end.
   */
  readonly mostTurns?: number;
  /** Rows told of: from the first up to, not including, the second. Default: all. */
  readonly fromRow?: number;
  readonly toRow?: number;
}

/**
 * Told of 32 pixels where lines are or kept pixels of the shape beside them: the word of a row they stand in, the lines
 * and those kept pixels, the first pixel as the lowest bit. Words come row by row from the left.
 */
export type ThinnedVisitor = (row: number, word: number, lines: number, beside: number) => void;

/**
 * Peels the opaque shape layer by layer down to lines one pixel wide in its middle, joined as the shape was joined
 * (8-connected), with `kept` pixels standing throughout, and tells `visit` of the lines without the kept pixels.
 * `visit` must not call other kernels. Method: Guo and Hall, Parallel thinning with two-subiteration algorithms, CACM 32
 * (1989), algorithm A1. Those rules never open a hole of a single pixel, so such a hole is made two pixels wide
 * beforehand.
 */
export function visitThinned(plane: BitPlane, options: ThinningOptions, visit: ThinnedVisitor): void {
  const loaded = kernels();
  if (loaded === null) thinPlain(plane, options, visit);
  else thinByKernel(loaded, plane, options, visit);
}
