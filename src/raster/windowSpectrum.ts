import { lendKernels } from './kernels/kernelModule.ts';
import { PowerSpectrumByKernel } from './kernels/powerSpectrumByKernel.ts';
import type { PowerSpectrum } from './powerSpectrum.ts';
import { PowerSpectrumPlain } from './powerSpectrumPlain.ts';

let spectrum: PowerSpectrum | undefined;

/** The spectrum of the window transformed last, one a thread. */
export function windowSpectrum(): PowerSpectrum {
  if (spectrum === undefined) {
    // Its memory is kept: other kernels work between one window and the next.
    const lent = lendKernels();
    spectrum = lent === null ? new PowerSpectrumPlain() : new PowerSpectrumByKernel(lent);
  }
  return spectrum;
}
