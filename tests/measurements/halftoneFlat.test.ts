import { describe, expect, it } from 'vitest';
import { measureHalftone } from '../../src/measurements/measureHalftone.ts';
import { type Dot, filmOf, isDark, type Screening, tonesCounted } from '../acceptance/screenedFilms.ts';
import { seededRandom } from '../support/seededRandom.ts';

/** A tint over the whole film, or over all but a margin. */
function tint(screening: Screening, dpi: number, tone: number, sidePx: number, marginPx = 0) {
  const isIn = (at: number) => at >= marginPx && at < sidePx - marginPx;
  return filmOf(
    sidePx,
    sidePx,
    dpi,
    (column, row) => isIn(column) && isIn(row) && isDark(screening, tone, (column + 0.5) / dpi, (row + 0.5) / dpi),
  );
}

describe('a single tint of lines', () => {
  it.each([
    [96.1, 114.2, 720, 0.1],
    [35.7, 117.9, 1200, 0.12],
    [35.7, 62.1, 1200, 0.9],
  ])('has the angle of its lines: %f lpi at %f°, %i dpi, tone %f', (rulingLpi, angleDeg, dpi, tone) => {
    const { regions } = measureHalftone(tint({ dot: 'line', rulingLpi, angleDeg, phase: [0.1, 0.2] }, dpi, tone, 900));
    expect(regions.map(({ kind, dotShape, dotShapeClass }) => [kind, dotShape, dotShapeClass])).toEqual([
      ['am', 'line', 'line'],
    ]);
    expect(Math.abs(regions[0].angleDeg! - angleDeg)).toBeLessThan(0.1);
  });
});

describe('a single light tint', () => {
  it.each(['square', 'diamond'] as const)('has the shape of its dots: %s', (dot) => {
    const screening = { dot, rulingLpi: 22, angleDeg: 33, phase: [0.1, 0.3] as const };
    expect(measureHalftone(tint(screening, 1440, 0.1, 1600)).regions.map(({ dotShape }) => dotShape)).toEqual([dot]);
  });

  it('has its tone where there is room for whole tiles between the dots', () => {
    const screening = { dot: 'round', rulingLpi: 19, angleDeg: 33, phase: [0.1, 0.3] } as const;
    const [region] = measureHalftone(tint(screening, 2400, 0.1, 2900, 80)).regions;
    expect(Math.abs(region.toneMinPercent! - 10)).toBeLessThan(0.2);
    expect(Math.abs(region.toneMaxPercent! - 10)).toBeLessThan(0.2);
  });
});

describe('a tint along the pixels or across their corners', () => {
  const films: readonly (readonly [Dot, number, number, number, number])[] = [
    ['square', 0, 20, 720, 0.42],
    ['square', 0.4, 22.6, 2400, 0.42],
    ['square', 90, 12, 1200, 0.3],
    ['square', 0.4, 32, 1200, 0.42],
    ['diamond', 45, 24, 1200, 0.42],
    ['euclidean', 45, 16, 2400, 0.5],
    ['line', 0, 24, 1200, 0.42],
    ['line', 90, 32, 1200, 0.3],
    ['elliptical', 0, 24, 1200, 0.5],
  ];
  it.each(films)(
    'is of dots on a lattice: %s at %f°, cells of %f px, %i dpi, tone %f',
    (dot, angleDeg, cellPx, dpi, tone) => {
      const screening: Screening = { dot, rulingLpi: dpi / cellPx, angleDeg, phase: [0.17, 0.31] };
      const { regions } = measureHalftone(tint(screening, dpi, tone, 700));
      expect(regions.map(({ kind }) => kind)).toEqual(['am']);
      expect(Math.abs(regions[0].rulingLpi! / screening.rulingLpi - 1)).toBeLessThan(0.002);
    },
  );
});

describe('the smallest and the largest tone of a tint', () => {
  // Pixels and dots beat on these films, so that they have more than the tone drawn.
  const films: readonly (readonly [Dot, number, number, number, number])[] = [
    ['square', 83.7, 81.8, 600, 0.139],
    ['round', 197.2, 8.8, 1200, 0.305],
    ['round', 23.1, 45.1, 720, 0.412],
    ['line', 236.8, 179.6, 1440, 0.695],
  ];
  it.each(films)(
    'are those of its pixels, at its edges too: %s, %f lpi at %f°, %i dpi, tone %f',
    (dot, rulingLpi, angleDeg, dpi, tone) => {
      const screening: Screening = { dot, rulingLpi, angleDeg, phase: [0.6, 0.9] };
      const cellPx = dpi / rulingLpi;
      const side = Math.round(Math.max(620, 22 * cellPx)) + 160;
      const plate = tint(screening, dpi, tone, side, 80);
      const box = [80, 80, side - 80, side - 80] as const;
      const { least, most } = tonesCounted(plate, screening, dpi, cellPx < 10 ? 7 : 5, box, seededRandom(4));
      const [region] = measureHalftone(plate).regions;
      expect(Math.abs(region.toneMinPercent! - least)).toBeLessThan(1);
      expect(Math.abs(region.toneMaxPercent! - most)).toBeLessThan(1);
    },
  );
});
