import { describe, expect, it } from 'vitest';
import { measureOpacity } from '../../src/measurements/measureOpacity.ts';
import { createBitPlane } from '../../src/raster/bitPlane.ts';
import { box, drawShapes, plateOf } from '../support/analyticShapes.ts';
import { platePainted as painted } from '../support/tonePlates.ts';

const dpi = 254; // 0.1 mm a pixel

const platePainted = (widthPx: number, heightPx: number, toneOf: (column: number, row: number) => number) =>
  painted(widthPx, heightPx, dpi, toneOf);

describe('opacity', () => {
  it('of plain art: coverage, box, nothing in between', () => {
    // 200 × 100 of 400 × 300 px: 16.67 %; box from 5 mm, 4 mm, 20 by 10 mm.
    const plate = plateOf(drawShapes(400, 300, [box(50, 40, 250, 140)]), dpi);
    const opacity = measureOpacity(plate);
    expect(opacity.coveragePercent).toBeCloseTo((100 * 200 * 100) / (400 * 300), 9);
    expect(opacity.inkedBoxMm!.xMm).toBeCloseTo(5, 9);
    expect(opacity.inkedBoxMm!.yMm).toBeCloseTo(4, 9);
    expect(opacity.inkedBoxMm!.widthMm).toBeCloseTo(20, 9);
    expect(opacity.inkedBoxMm!.heightMm).toBeCloseTo(10, 9);
    expect(opacity).toMatchObject({
      semiOpaquePercent: 0,
      maxInkPercent: 100,
      toneMinPercent: null,
      semiOpaqueAreas: [],
    });
  });

  it('of a clear plate: no ink, no box', () => {
    const opacity = measureOpacity(plateOf(createBitPlane(40, 30), dpi));
    expect(opacity).toMatchObject({ coveragePercent: 0, maxInkPercent: 0, inkedBoxMm: null });
  });

  it('smoothed edges of opaque art are not semi-opaque', () => {
    // A tilted edge with one row of tones between, as an anti-aliased fill leaves it.
    const plate = platePainted(300, 300, (column, row) => {
      const depth = row - 100 - 0.3 * column;
      return Math.max(0, Math.min(255, Math.round(255 * (depth + 0.5))));
    });
    expect(plate.toneHistogram.slice(11, 245).reduce((sum, count) => sum + count)).toBeGreaterThan(200);
    expect(measureOpacity(plate)).toMatchObject({ semiOpaquePercent: 0, semiOpaqueAreas: [], toneMinPercent: null });
  });

  it('a tint and a ramp are found with their area, tone and place', () => {
    // Tint 102/255 = 40 % on 60 × 50 px at (30, 20); a ramp of tones 60 … 139 on 80 × 40 px at (200, 200).
    const plate = platePainted(330, 300, (column, row) => {
      if (column >= 30 && column < 90 && row >= 20 && row < 70) return 102;
      if (column >= 200 && column < 280 && row >= 200 && row < 240) return 60 + column - 200;
      return 0;
    });
    const opacity = measureOpacity(plate);
    const [ramp, tint] = opacity.semiOpaqueAreas;
    expect(opacity.semiOpaqueAreas.length).toBe(2);
    expect(opacity.semiOpaquePercent).toBeCloseTo((100 * (60 * 50 + 80 * 40)) / (330 * 300), 9);
    expect(ramp.areaMm2).toBeCloseTo(80 * 40 * 0.01, 9);
    expect(ramp.meanTonePercent).toBeCloseTo((100 * 99.5) / 255, 6);
    expect(tint.areaMm2).toBeCloseTo(60 * 50 * 0.01, 9);
    expect(tint.meanTonePercent).toBeCloseTo(40, 9);
    expect(
      [tint.boxMm.xMm, tint.boxMm.yMm, tint.boxMm.widthMm, tint.boxMm.heightMm].map((v) => Math.round(v * 10)),
    ).toEqual([30, 20, 60, 50]);
    // The outermost pixel of each side has clear film next to it; the tones inside run from 61 to 138.
    expect(opacity.toneMinPercent).toBeCloseTo((100 * 61) / 255, 9);
    expect(opacity.toneMaxPercent).toBeCloseTo((100 * 138) / 255, 9);
    expect(opacity.maxInkPercent).toBeCloseTo((100 * 139) / 255, 9);
  });

  it('a plate of one tone all over is semi-opaque all over', () => {
    const opacity = measureOpacity(platePainted(300, 200, () => 128));
    // The outermost pixels have nothing but film beyond them, which is clear and no edge.
    expect(opacity.semiOpaquePercent).toBeCloseTo(100, 9);
    expect(opacity.coveragePercent).toBeCloseTo((100 * 128) / 255, 9);
    expect(opacity.semiOpaqueAreas.length).toBe(1);
  });

  it('does not look at the plate differently a second time', () => {
    const plate = platePainted(300, 300, (column, row) => (column * 7 + row * 13) % 256);
    expect(measureOpacity(plate)).toEqual(measureOpacity(plate));
  });
});
