import fc from 'fast-check';
import { expect, it } from 'vitest';
import { lendKernels } from '../../../src/raster/kernels/kernelModule.ts';
import { PowerSpectrumByKernel } from '../../../src/raster/kernels/powerSpectrumByKernel.ts';
import { type PowerSpectrum, spectrumColumns, spectrumSide } from '../../../src/raster/powerSpectrum.ts';
import { PowerSpectrumPlain } from '../../../src/raster/powerSpectrumPlain.ts';
import { windowSpectrum } from '../../../src/raster/windowSpectrum.ts';
import { drawBlobs } from '../../support/drawBlobs.ts';
import { seededRandom } from '../../support/seededRandom.ts';

const plain = new PowerSpectrumPlain();
const byKernel = new PowerSpectrumByKernel(lendKernels()!);
const both: readonly PowerSpectrum[] = [plain, byKernel];

it('the kernels are in use', () => {
  expect(windowSpectrum()).toBeInstanceOf(PowerSpectrumByKernel);
});

it('windows of a plane are read alike', () => {
  const windows = fc.record({
    seed: fc.nat(1e6),
    width: fc.integer({ min: 1, max: 700 }),
    height: fc.integer({ min: 1, max: 400 }),
    left: fc.integer({ min: -300, max: 500 }),
    top: fc.integer({ min: -200, max: 300 }),
    factor: fc.constantFrom(1, 2, 3, 4, 9, 16, 40, 64, 130),
  });
  fc.assert(
    fc.property(windows, ({ seed, width, height, left, top, factor }) => {
      const bits = drawBlobs(seed, width, height, 0.1);
      for (const spectrum of both) spectrum.read({ bits, tone: null }, left, top, factor);
      let most = 0;
      for (let at = 0; at < plain.samples.length; at++) {
        most = Math.max(most, Math.abs(plain.samples[at] - byKernel.samples[at]));
      }
      expect(most).toBeLessThan(1e-6);
    }),
    { numRuns: 60, seed: 61 },
  );
});

it('the power of what turns evenly lies on its own frequency, and spectra are alike', () => {
  const random = seededRandom(62);
  for (let turn = 0; turn < 20; turn++) {
    const column = Math.floor(5 + 50 * random());
    const row = Math.floor(-50 + 100 * random());
    for (const spectrum of both) {
      for (let c = 0; c < spectrumSide; c++) {
        for (let r = 0; r < spectrumSide; r++) {
          const angle = (2 * Math.PI * (c * column + r * row)) / spectrumSide;
          spectrum.samples[c * spectrumSide + r] = 0.3 + 0.2 * Math.cos(angle + turn) + 0.01 * Math.sin(c * r + turn);
        }
      }
      spectrum.transform();
      const at = ((row + spectrumSide) % spectrumSide) * spectrumColumns + column;
      expect(spectrum.strongest(1, 2.5)[0]).toBe(at);
      // Half of the amplitude, times the sum of the weights both ways.
      expect(spectrum.power[at] / (0.1 * (spectrumSide / 2) ** 2) ** 2).toBeCloseTo(1, 1);
    }
    const strongest = plain.power.reduce((a, b) => Math.max(a, b));
    let most = 0;
    for (let at = 0; at < plain.power.length; at++) {
      most = Math.max(most, Math.abs(plain.power[at] - byKernel.power[at]));
    }
    expect(most / strongest).toBeLessThan(1e-5);
  }
});

it('a window of one tone has no power at all', () => {
  for (const tone of [0, 1, 0.3]) {
    for (const spectrum of both) {
      spectrum.samples.fill(tone);
      spectrum.transform();
      expect(spectrum.power.every((value) => value === 0)).toBe(true);
    }
  }
});

it('peaks, rings and lattices are told alike of the same spectrum', () => {
  const lattices = fc.record({
    seed: fc.nat(1e6),
    steps: fc.constantFrom(2, 5, 1000),
    fx: fc.double({ min: -1, max: 1, noNaN: true }),
    fy: fc.double({ min: -1, max: 1, noNaN: true }),
    turnsX: fc.double({ min: 1, max: 40, noNaN: true }),
    turnsY: fc.double({ min: 1, max: 40, noNaN: true }),
    across: fc.constantFrom(0, 6),
    leastTurns: fc.constantFrom(0, 2.5, 20),
    most: fc.integer({ min: 1, max: 12 }),
  });
  fc.assert(
    fc.property(lattices, ({ seed, steps, across, leastTurns, most, ...lattice }) => {
      const random = seededRandom(seed);
      const count = 40;
      const rings = Uint16Array.from(plain.power, () => Math.floor(count * random()));
      for (let at = 0; at < plain.power.length; at++) {
        const power = Math.floor(steps * random());
        for (const spectrum of both) spectrum.power[at] = power;
      }
      expect(byKernel.strongest(most, leastTurns)).toEqual(plain.strongest(most, leastTurns));
      expect(byKernel.byRing(rings, count)).toEqual(plain.byRing(rings, count));
      const asked = { ...lattice, order: 6, across };
      expect(byKernel.onLattice(asked)).toEqual(plain.onLattice(asked));
      for (let turn = 0; turn < 40; turn++) {
        const [column, row] = [70 * random() - 2, 140 * random() - 70];
        expect(byKernel.peakNear(column, row)).toEqual(plain.peakNear(column, row));
      }
    }),
    { numRuns: 60, seed: 63 },
  );
});
