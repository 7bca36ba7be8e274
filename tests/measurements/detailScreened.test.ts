import { describe, expect, it } from 'vitest';
import { measureDetail } from '../../src/measurements/measureDetail.ts';
import { createBitPlane } from '../../src/raster/bitPlane.ts';
import { disc, drawShapes, plateOf, ring, type Shape, strip } from '../support/analyticShapes.ts';
import { type DotShape, drawHalftone, noisePlane } from '../support/halftone.ts';
import { seededRandom } from '../support/seededRandom.ts';

const options = { searchToMm: 1, refineBelowMm: 0.6 };

function tint(dpi: number, rulingLpi: number, angleDeg: number, shape: DotShape, tone: number, sidePx: number) {
  const plane = createBitPlane(sidePx, sidePx);
  drawHalftone(plane, dpi, { rulingLpi, angleDeg, shape, toneAt: () => tone, bounds: [0, 0, sidePx, sidePx] });
  return measureDetail(plateOf(plane, dpi), options);
}

describe('halftone', () => {
  const cases = [600, 1200].flatMap((dpi) =>
    [35, 45, 55, 65].flatMap((rulingLpi) =>
      (['round', 'euclid', 'ellipse', 'diamond'] as const).flatMap((shape, k) =>
        [
          [5, 50],
          [20, 60],
          [40, 80],
          [50, 95],
        ][(k + rulingLpi) % 4].map((tonePercent) => ({
          dpi,
          rulingLpi,
          shape,
          tonePercent,
          angleDeg: [22.5, 45, 7.5, 15][(k + dpi / 600) % 4],
        })),
      ),
    ),
  );
  it.each(cases)('$shape dots of $rulingLpi lpi at $angleDeg° and $dpi dpi, $tonePercent %, are tone', (the) => {
    const detail = tint(
      the.dpi,
      the.rulingLpi,
      the.angleDeg,
      the.shape,
      the.tonePercent / 100,
      the.dpi === 600 ? 450 : 800,
    );
    expect(detail.screened.sharePercent).toBeGreaterThan(95);
    expect([detail.lines.length, detail.gaps.length, detail.dots.length, detail.islands.length]).toEqual([0, 0, 0, 0]);
    expect([detail.minLineMm, detail.minGapMm, detail.minDotMm, detail.minIslandMm]).toEqual([null, null, null, null]);
  });

  it.each([
    [600, 2, 10],
    [600, 3, 50],
    [1200, 4, 30],
    [1200, 4, 80],
  ])('dots set at random at %i dpi, %i px large, %i percent, are tone', (dpi, dotPx, tonePercent) => {
    const plane = noisePlane(700, 700, dotPx, tonePercent / 100, seededRandom(5));
    const detail = measureDetail(plateOf(plane, dpi), options);
    expect(detail.screened.sharePercent).toBeGreaterThan(95);
    expect([detail.lines.length, detail.gaps.length, detail.dots.length, detail.islands.length]).toEqual([0, 0, 0, 0]);
  });

  it('a halftone beside line art is left out, the line art is not', () => {
    const lines: Shape[] = [strip(1000, 200, 300, 5, 20), ring(1050, 600, 160, 9), disc(950, 900, 8)];
    const plane = drawShapes(1200, 1000, lines);
    drawHalftone(plane, 600, {
      rulingLpi: 45,
      angleDeg: 22.5,
      shape: 'round',
      toneAt: (across) => 0.1 + 0.8 * across,
      bounds: [64, 64, 704, 936],
    });
    const detail = measureDetail(plateOf(plane, 600), options);
    const toMm = 25.4 / 600;
    expect(detail.screened.boxesMm.length).toBe(1);
    const [area] = detail.screened.boxesMm;
    // Tiles of 64 px cover the picture and at most one tile more on each side.
    expect(area.xMm).toBeGreaterThanOrEqual(0);
    expect(area.xMm + area.widthMm).toBeGreaterThanOrEqual(700 * toMm);
    expect(area.xMm + area.widthMm).toBeLessThanOrEqual(769 * toMm);
    expect(detail.screened.sharePercent).toBeGreaterThan(40);
    expect(detail.screened.sharePercent).toBeLessThan(62);
    // 640 by 872 px of cells of 13.3 px: about 3140 dots, one each.
    expect(detail.screened.spotCount).toBeGreaterThan(2500);
    expect(detail.screened.spotCount).toBeLessThan(3800);
    const far = detail.lines.filter(({ xMm }) => xMm > 780 * toMm);
    expect(far.map(({ minWidthMm }) => Math.round(minWidthMm / toMm))).toEqual([5, 9]);
    expect(detail.dots.filter(({ boxMm }) => boxMm.xMm > 780 * toMm).length).toBe(1);
  });

  it('a row or a small patch of dots is line art', () => {
    const row = Array.from({ length: 30 }, (_, k) => disc(40 + 20 * k, 300, 9));
    expect(measureDetail(plateOf(drawShapes(700, 600, row), 600), options)).toMatchObject({
      screened: { sharePercent: 0, boxesMm: [], areasMm2: [], innerAreasMm2: [], spotCount: 0 },
    });
    const patch = Array.from({ length: 25 }, (_, k) => disc(300 + 14 * (k % 5), 300 + 14 * Math.floor(k / 5), 7));
    const detail = measureDetail(plateOf(drawShapes(700, 600, patch), 600), options);
    expect([detail.screened.sharePercent, detail.dots.length]).toEqual([0, 25]);
  });

  it('lines close together are a hatch, not tone', () => {
    const hatch = Array.from({ length: 50 }, (_, k) => strip(350, 20 + 13 * k, 600, 5, 30));
    const detail = measureDetail(plateOf(drawShapes(700, 700, hatch), 600), options);
    expect(detail.screened.sharePercent).toBe(0);
    expect(Math.abs(detail.minLineMm! * (600 / 25.4) - 5)).toBeLessThan(0.5);
  });
});
