import type { Plate } from '../plates/plate.ts';
import { type PowerSpectrum, spectrumColumns, spectrumSide } from '../raster/powerSpectrum.ts';
import type { ToneImage } from '../raster/toneImage.ts';
import type { HalftoneRegion } from './halftone.ts';
import { type SpectrumScale, scaleOf } from './halftonePeaks.ts';
import { isSameLattice } from './halftoneRegions.ts';
import { factorFor, LatticeWindows } from './halftoneWindow.ts';

/** The spectrum of a window of a halftone. */
export interface LatticeSpectrum {
  /** Square, no frequency in the middle; 0 = a hundred-thousandth of the strongest power or less, 255 = that itself. */
  readonly image: ToneImage;
  /** Frequency at the middle of each side, lines an inch. */
  readonly reachLpi: number;
}

const sidePx = 121;
const reachRulings = 2.6;
const decades = 5;
/** Where windows are tried, as shares of the part's box. */
const places = [0.5, 0.25, 0.75, 0.1, 0.9];

/** The spectrum of the first window over a halftoned part that shows its lattice; null where none does, or it has none. */
export function latticeSpectrum(
  plate: Pick<Plate, 'grid' | 'bits' | 'tone'>,
  { rulingLpi, angleDeg, boxMm }: Pick<HalftoneRegion, 'rulingLpi' | 'angleDeg' | 'boxMm'>,
): LatticeSpectrum | null {
  if (rulingLpi === null || angleDeg === null) return null;
  const { pitchXMm, pitchYMm } = plate.grid;
  const ruling = rulingLpi / 25.4;
  const angle = (angleDeg * Math.PI) / 180;
  const lattice = { fx: ruling * Math.cos(angle), fy: -ruling * Math.sin(angle), isLines: false };
  const factor = factorFor(1 / ruling, Math.max(pitchXMm, pitchYMm));
  const windows = new LatticeWindows(plate);
  for (const down of places) {
    for (const across of places) {
      const xMm = boxMm.xMm + across * boxMm.widthMm;
      const yMm = boxMm.yMm + down * boxMm.heightMm;
      const seen = windows.lookAt(xMm / pitchXMm, yMm / pitchYMm, factor);
      if (seen === null || !isSameLattice(seen, lattice)) continue;
      return drawn(windows.spectrum, scaleOf(factor * pitchXMm, factor * pitchYMm), ruling);
    }
  }
  return null;
}

function drawn(spectrum: PowerSpectrum, scale: SpectrumScale, ruling: number): LatticeSpectrum {
  const { power } = spectrum;
  // The outermost frequencies of a window have no neighbour on one side.
  const most = (spectrumSide / 2 - 1) / Math.max(scale.turnsX, scale.turnsY);
  const reach = Math.min(reachRulings * ruling, most);
  let strongest = 0;
  for (const value of power) strongest = Math.max(strongest, value);
  const tones = new Uint8Array(sidePx * sidePx);
  const half = (sidePx - 1) / 2;
  for (let row = 0; row < sidePx; row++) {
    for (let column = 0; column < sidePx; column++) {
      const c = Math.round(((column - half) / half) * reach * scale.turnsX);
      const r = Math.round(((row - half) / half) * reach * scale.turnsY);
      // Real samples: what turns one way turns the other as strongly.
      const [cc, rr] = c < 0 ? [-c, -r] : [c, r];
      const share = power[((rr + spectrumSide) % spectrumSide) * spectrumColumns + cc] / strongest;
      tones[row * sidePx + column] = Math.round(255 * Math.max(0, 1 + Math.log10(Math.max(share, 1e-12)) / decades));
    }
  }
  return { image: { widthPx: sidePx, heightPx: sidePx, tones, pitchXMm: 1, pitchYMm: 1 }, reachLpi: 25.4 * reach };
}
