import type { BitPlane } from './bitPlane.ts';
import type { Component, ComponentOptions } from './component.ts';
import { visitComponentsPlain } from './componentsPlain.ts';
import { visitByKernel } from './kernels/componentsByKernel.ts';
import { kernels } from './kernels/kernelModule.ts';

/**
 * Calls `visit` for every connected part of the opaque pixels (of the clear ones with `inverted`), each as soon as its
 * last row has passed. The component handed over is used again afterwards: copy what is to be kept. Memory grows with
 * the number of parts on one row, not with the plane. `visit` must not call other kernels.
 */
export function visitComponents(
  plane: BitPlane,
  options: ComponentOptions,
  visit: (component: Component) => void,
): void {
  const loaded = kernels();
  if (loaded === null) visitComponentsPlain(plane, options, visit);
  else visitByKernel(loaded, plane, options, visit);
}
