import { afterAll, beforeAll, describe, expect, it, vi } from 'vitest';
import { measureOverlap } from '../../src/measurements/measureOverlap.ts';
import { measureUnderbase } from '../../src/measurements/measureUnderbase.ts';
import { circle, drawPlate, either, gridOf, grownBy, outside, rectangle, sector } from '../support/overlapPlates.ts';

const grid = gridOf(24, 18, 600);
const finer = gridOf(24, 18, 850, 720);
const art = either(circle(7, 8, 4.1), rectangle(17, 9, 7.3, 5.2, 17), sector(12, 1.2, 20, 70), circle(1.5, 15, 0.4));
const ink = drawPlate('ink', grid, grownBy(art, 0.12));
const laps = drawPlate('laps', grid, outside(grownBy(art, -0.12)));
const gaps = drawPlate('gaps', grid, outside(grownBy(art, 0.4)));
const finerLaps = drawPlate('finer', finer, outside(grownBy(art, -0.1)));
const base = drawPlate('base', grid, grownBy(art, -0.25));
const strips = drawPlate('strips', finer, either(rectangle(5, 16, 6, 0.5, 3), rectangle(20, 15, 5, 0.6)));
const boxes = [{ xMm: 15, yMm: 5, widthMm: 3, heightMm: 3.3 }];

/** The two ways of measuring, loaded anew where there is no WebAssembly. */
const plain = {} as { measureOverlap: typeof measureOverlap; measureUnderbase: typeof measureUnderbase };

describe('two plates compared without WebAssembly', () => {
  beforeAll(async () => {
    vi.stubGlobal('WebAssembly', undefined);
    vi.resetModules();
    plain.measureOverlap = (await import('../../src/measurements/measureOverlap.ts')).measureOverlap;
    plain.measureUnderbase = (await import('../../src/measurements/measureUnderbase.ts')).measureUnderbase;
    const { outlineKernels } = await import('../../src/raster/kernels/outlineModule.ts');
    const { kernels } = await import('../../src/raster/kernels/kernelModule.ts');
    expect([outlineKernels(), kernels()]).toEqual([null, null]);
  });
  afterAll(() => vi.unstubAllGlobals());

  it('overlap, butt and gap as with it', () => {
    for (const [own, other, options] of [
      [ink, laps, {}],
      [laps, ink, { screenedBoxes: boxes }],
      [ink, gaps, { ignoreBoxes: boxes }],
      [ink, gaps, { covers: [base, drawPlate('cover', grid, circle(7, 8, 6))] }],
      [ink, finerLaps, { screenedBoxes: boxes }],
      [finerLaps, ink, {}],
    ] as const) {
      const overlap = measureOverlap(own, other, { searchToMm: 1, ...options });
      expect(overlap!.overlaps.length + overlap!.gaps.length).toBeGreaterThan(0);
      expect(plain.measureOverlap(own, other, { searchToMm: 1, ...options })).toEqual(overlap);
    }
  });

  it('have the choke and the bare strips they have with it', () => {
    const fit = measureUnderbase(base, [ink, strips], { searchToMm: 1 });
    expect(Math.min(fit.chokes.length, fit.bareStrips.length)).toBeGreaterThan(0);
    expect(plain.measureUnderbase(base, [ink, strips], { searchToMm: 1 })).toEqual(fit);
  });
});
