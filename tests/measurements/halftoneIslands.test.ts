import { expect, it } from 'vitest';
import { measureHalftone } from '../../src/measurements/measureHalftone.ts';
import { withIsland } from '../acceptance/islandFilms.ts';
import { lineArt } from '../acceptance/otherFilms.ts';
import { seededRandom } from '../support/seededRandom.ts';

const dpi = 600;
const side = 3000;

it.each([1, 5, 7])('a small island of a tint is found among hatching, and nothing but it: seed %i', (seed) => {
  const random = seededRandom(seed);
  const art = lineArt('freehand', side, dpi, random);
  const screening = { dot: 'round', rulingLpi: 50, angleDeg: 22.5, phase: [0.3, 0.6] } as const;
  const [x, y] = [600 + 1800 * random(), 600 + 1800 * random()];
  const radius = (8 * dpi) / screening.rulingLpi;
  const plate = withIsland(art, dpi, { column: x, row: y, radius, gap: 12 }, screening, 0.4);
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

// In each of these, lines of the art lie on the island's lattice by chance.
it.each([
  ['freehand', 'square', 600, 11.26, 33.58, 0.38, 10.1, 4],
  ['freehand', 'diamond', 1200, 14.8, 63.52, 0.25, 11.9, 3],
  ['freehand', 'diamond', 1200, 14.8, 63.52, 0.25, 11.9, 10],
  ['rays', 'euclidean', 1200, 13.5, 39.3, 0.54, 9.3, 1],
  ['rays', 'square', 1200, 14, 32.3, 0.36, 8.9, 1],
] as const)('none of the art that touches it is taken for it: %s, %s at %i dpi', (...drawn) => {
  const [kind, dot, dpi, cellPx, angleDeg, tone, cells, seed] = drawn;
  const random = seededRandom(seed);
  const art = lineArt(kind, 2560, dpi, random);
  const screening = { dot, rulingLpi: dpi / cellPx, angleDeg, phase: [random(), random()] } as const;
  const place = () => 600 + 1360 * random();
  const island = { column: place(), row: place(), radius: cells * cellPx, gap: 0 };
  const { regions } = measureHalftone(withIsland(art, dpi, island, screening, tone));
  expect(regions.map(({ kind: read }) => read)).toEqual(['am']);
  expect(Math.abs(regions[0].rulingLpi! / screening.rulingLpi - 1)).toBeLessThan(0.005);
  const drawnMm2 = Math.PI * ((island.radius * 25.4) / dpi) ** 2;
  expect(Math.abs(regions[0].areaMm2 / drawnMm2 - 1)).toBeLessThan(0.4);
});
