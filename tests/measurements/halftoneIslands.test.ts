import { expect, it } from 'vitest';
import { measureHalftone } from '../../src/measurements/measureHalftone.ts';
import { bitAt } from '../../src/raster/bitPlane.ts';
import { lineArt } from '../acceptance/otherFilms.ts';
import { filmOf, isDark } from '../acceptance/screenedFilms.ts';
import { seededRandom } from '../support/seededRandom.ts';

const dpi = 600;
const side = 3000;

it.each([1, 5, 7])('a small island of a tint is found among hatching, and nothing but it: seed %i', (seed) => {
  const random = seededRandom(seed);
  const art = lineArt('freehand', side, dpi, random);
  const screening = { dot: 'round', rulingLpi: 50, angleDeg: 22.5, phase: [0.3, 0.6] } as const;
  const [x, y] = [600 + 1800 * random(), 600 + 1800 * random()];
  const radius = (8 * dpi) / screening.rulingLpi;
  const plate = filmOf(side, side, dpi, (column, row) => {
    const away = Math.hypot(column - x, row - y);
    if (away < radius) return isDark(screening, 0.4, (column + 0.5) / dpi, (row + 0.5) / dpi);
    return away >= radius + 12 && bitAt(art.bits, column, row) === 1;
  });
  const { regions } = measureHalftone(plate);
  expect(regions.map(({ kind }) => kind)).toEqual(['am']);
  const [{ rulingLpi, angleDeg, boxMm }] = regions;
  expect(Math.abs(rulingLpi! / 50 - 1)).toBeLessThan(0.005);
  expect(Math.abs(angleDeg! - 22.5)).toBeLessThan(0.3);
  const pitchMm = 25.4 / dpi;
  expect(boxMm.xMm).toBeLessThan((x - 0.9 * radius) * pitchMm);
  expect(boxMm.xMm + boxMm.widthMm).toBeGreaterThan((x + 0.9 * radius) * pitchMm);
  expect(boxMm.yMm).toBeLessThan((y - 0.9 * radius) * pitchMm);
  expect(boxMm.yMm + boxMm.heightMm).toBeGreaterThan((y + 0.9 * radius) * pitchMm);
});
