import { describe, expect, it } from 'vitest';
import { measureOpacity } from '../../src/measurements/measureOpacity.ts';
import { bitAt, createBitPlane } from '../../src/raster/bitPlane.ts';
import { box, drawShapes, plateOf } from '../support/analyticShapes.ts';
import { drawHalftone } from '../support/halftone.ts';
import { seededRandom } from '../support/seededRandom.ts';
import { erf, platePainted as painted } from '../support/tonePlates.ts';

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

describe('what is grey and what is not, at 600 dpi', () => {
  const at600 = (widthPx: number, heightPx: number, toneOf: (column: number, row: number) => number) =>
    painted(widthPx, heightPx, 600, toneOf);
  /** A falling edge at a column, blurred by a Gaussian. */
  const blurredEdge = (column: number, edge: number, sigmaPx: number) =>
    Math.round((255 * (1 - erf((column + 0.5 - edge) / (Math.SQRT2 * sigmaPx)))) / 2);

  it.each([0.5, 1, 1.8])('edges blurred by %f px are edges, however they lie', (sigmaPx) => {
    for (const angleDeg of [0, 30, 45, 90]) {
      const [c, s] = [Math.cos((angleDeg * Math.PI) / 180), Math.sin((angleDeg * Math.PI) / 180)];
      const plate = at600(300, 300, (column, row) => blurredEdge((column - 150) * c + (row - 150) * s, 0, sigmaPx));
      const { semiOpaquePercent, softScreenedPercent } = measureOpacity(plate);
      // A few pixels where a slanted edge leaves the film have nothing to be told by.
      expect(semiOpaquePercent, `${angleDeg}°`).toBeLessThan(0.02);
      expect(softScreenedPercent, `${angleDeg}°`).toBe(0);
    }
  });

  it('a scan’s noise on a soft edge changes nothing', () => {
    const random = seededRandom(5);
    const plate = at600(300, 300, (column) => {
      const noise = Math.round(6 * (random() - 0.5));
      return Math.min(255, Math.max(0, blurredEdge(column, 150, 1.5) + noise));
    });
    expect(measureOpacity(plate).semiOpaquePercent).toBeLessThan(0.1);
  });

  it('a slow fade of 2 mm is grey, and varied', () => {
    // 48 px from opaque to clear: tones 11 … 244 lie on 46 of them or so.
    const plate = at600(300, 200, (column) => Math.round(255 * Math.min(1, Math.max(0, (170 - column) / 48))));
    const opacity = measureOpacity(plate);
    expect(opacity.semiOpaquePercent).toBeGreaterThan((100 * 40) / 300);
    expect(opacity.semiOpaquePercent).toBeLessThan((100 * 48) / 300);
    expect(opacity.semiOpaqueAreas.map(({ kind }) => kind)).toEqual(['varied']);
  });

  it('a grey bar of half a millimetre beside black is grey, and flat', () => {
    // 12 px of tone 120 between 130 px of black and clear film.
    const plate = at600(300, 200, (column) => (column < 130 ? 255 : column < 142 ? 120 : 0));
    const opacity = measureOpacity(plate);
    expect(opacity.semiOpaquePercent).toBeCloseTo((100 * 12) / 300, 6);
    const [{ boxMm, kind, meanTonePercent }] = opacity.semiOpaqueAreas;
    expect([kind, opacity.semiOpaqueAreas.length]).toEqual(['flat', 1]);
    expect(boxMm.xMm).toBeCloseTo((130 * 25.4) / 600, 9);
    expect(boxMm.widthMm).toBeCloseTo((12 * 25.4) / 600, 9);
    expect(meanTonePercent).toBeCloseTo((100 * 120) / 255, 6);
  });

  it.each([
    [45, 22.5, 0.4],
    [55, 22.5, 0.5],
    [65, 45, 0.3],
  ])('a halftone of %i lpi at %f° with blurred dots is none of it grey', (rulingLpi, angleDeg, tone) => {
    // Dots drawn at three times the resolution and averaged over 5 by 5 of its pixels: soft over 1.7 px.
    const fine = createBitPlane(1800, 1800);
    drawHalftone(fine, 1800, {
      rulingLpi,
      angleDeg,
      shape: 'round',
      toneAt: () => tone,
      bounds: [300, 300, 1500, 1500],
    });
    const plate = at600(600, 600, (column, row) => {
      let sum = 0;
      for (let y = 3 * row - 1; y < 3 * row + 4; y++) {
        for (let x = 3 * column - 1; x < 3 * column + 4; x++) sum += bitAt(fine, x, y);
      }
      return Math.round((255 * sum) / 25);
    });
    const opacity = measureOpacity(plate);
    expect(opacity.semiOpaquePercent).toBeLessThan(0.3);
    if (opacity.softScreenedPercent === 0) return;
    const [area] = opacity.softScreenedAreas;
    expect(area.boxMm.xMm).toBeGreaterThan((90 * 25.4) / 600);
    expect(area.boxMm.xMm + area.boxMm.widthMm).toBeLessThan((510 * 25.4) / 600);
  });

  it('a halftone so soft that its dots run into each other is told from a grey by its dots', () => {
    // A wave of 11 px, 55 lpi, from 20 to 90 % in both directions: nowhere clear, nowhere opaque.
    const wave = (column: number, row: number) => {
      if (column < 64 || column >= 256 || row < 64 || row >= 224) return 0;
      const [u, v] = [(2 * Math.PI * column) / 11, (2 * Math.PI * row) / 11];
      return Math.round(255 * (0.55 + 0.175 * (Math.cos(u) + Math.cos(v))));
    };
    const opacity = measureOpacity(at600(320, 288, wave));
    expect(opacity.semiOpaqueAreas).toEqual([]);
    expect(opacity.softScreenedPercent).toBeCloseTo((100 * 192 * 160) / (320 * 288), 6);
    expect(Math.abs(opacity.softScreenedAreas[0].meanTonePercent - 55)).toBeLessThan(1.5);
  });

  it('a picture in tones is grey, not a halftone', () => {
    // Slow waves of 6 and 9 mm, and grain of 3 % on them.
    const random = seededRandom(9);
    const plate = at600(512, 512, (column, row) => {
      const picture = 128 + 60 * Math.sin(column / 23) * Math.cos(row / 34);
      return Math.round(picture + 16 * (random() - 0.5));
    });
    const opacity = measureOpacity(plate);
    expect(opacity.semiOpaquePercent).toBeGreaterThan(99);
    expect(opacity.semiOpaqueAreas.map(({ kind }) => kind)).toEqual(['varied']);
    expect(opacity.softScreenedPercent).toBe(0);
  });
});
