import type { EdgedPlane } from './griddedPlane.ts';
import { outlineKernels } from './kernels/outlineModule.ts';
import { PairByKernel } from './kernels/pairByKernel.ts';
import { PlainPair } from './outlines/plainPair.ts';
import type { PlanePair } from './planePair.ts';

/** Lays two planes on each other. */
export function pairOfPlanes(own: EdgedPlane, other: EdgedPlane): PlanePair {
  const loaded = outlineKernels();
  return loaded === null ? new PlainPair(own, other) : new PairByKernel(loaded, own, other);
}
