import { expect, it } from 'vitest';
import { finestIslandMm } from '../../src/mesh/detailRules.ts';
import { gainHeadroom } from '../../src/mesh/gainHeadroom.ts';
import { meshByFormula } from '../../src/mesh/meshGeometry.ts';
import { usableTonesOfMesh } from '../../src/mesh/toneRange.ts';

const cellUm = 25_400 / 50;

it('lines of 80 % leave a fifth of the cell, half of it to each edge', () => {
  expect(gainHeadroom('line', 50, 80, null)).toEqual({ closesUm: expect.closeTo(0.1 * cellUm, 6), holdsUm: null });
});

it('between round dots of half tone lies a circle as wide as the diagonal less a dot', () => {
  const { closesUm } = gainHeadroom('round', 50, 50, null);
  expect(Math.abs(closesUm - (Math.SQRT1_2 - Math.sqrt(0.5 / Math.PI)) * cellUm)).toBeLessThan(0.05);
});

it('what the mesh holds is gone when as much is left as its smallest island', () => {
  const { closesUm, holdsUm } = gainHeadroom('line', 50, 80, 0.06);
  expect(holdsUm).toBeCloseTo(closesUm - 30, 6);
  expect(gainHeadroom('line', 50, 95, 0.06).holdsUm).toBeCloseTo(0.025 * cellUm - 30, 6);
});

it.each(['round', 'euclidean', 'square', 'diamond', 'elliptical', 'line'] as const)(
  'no room is left at the darkest tone the mesh holds: %s',
  (form) => {
    const mesh = meshByFormula(90, 48);
    const { darkestPercent } = usableTonesOfMesh(form, 45, mesh);
    expect(gainHeadroom(form, 45, darkestPercent, finestIslandMm(mesh)).holdsUm).toBeCloseTo(0, 3);
  },
);
