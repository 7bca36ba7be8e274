import { describe, expect, it } from 'vitest';
import { measureHalftone } from '../../src/measurements/measureHalftone.ts';
import { apartDeg, layPatches, patchedPlate, regionsAt } from '../support/halftonePlates.ts';
import { type ScreenShape, screenOf, spotFunctions } from '../support/screenedPlane.ts';

// What is expected is what the patches were drawn with: dots of known ruling, angle and tone, asked at pixel middles.
const tints = [0.03, 0.05, 0.1, 0.25, 0.4, 0.5, 0.6, 0.75, 0.9, 0.95, 0.97];

const films: readonly (readonly [ScreenShape, number, number, number])[] = [
  ['round', 57.3, 124.6, 600],
  ['euclidean', 45.17, 22.5, 720],
  ['square', 51.8, 105.8, 720],
  ['diamond', 26.4, 92.9, 360],
  ['elliptical', 51.5, 84.5, 720],
  ['line', 42.7, 130.7, 600],
];

describe('dots on a lattice', () => {
  it.each(films)('are told: %s, %f lpi at %f°, %i dpi', (shape, rulingLpi, angleDeg, dpi) => {
    const side = Math.max(10, 12 * (25.4 / rulingLpi));
    const patches = layPatches(tints.length, 4, side, 2.5);
    const black = screenOf({ rulingLpi, angleDeg, spot: spotFunctions[shape], phase: [0.31, 0.77] });
    const plate = patchedPlate(patches, dpi, (patch, x, y) => black(x, y, tints[patch]));
    const { regions } = measureHalftone(plate);
    const isChained = shape === 'line' || shape === 'elliptical';
    for (const [index, patch] of patches.entries()) {
      const found = regionsAt(regions, patch);
      expect(found.map(({ kind }) => kind)).toEqual(['am']);
      const [region] = found;
      expect(Math.abs(region.rulingLpi! / rulingLpi - 1)).toBeLessThan(0.002);
      const round = isChained ? 180 : 90;
      const want = isChained ? angleDeg : angleDeg % 90;
      expect(apartDeg(region.angleDeg!, want, round)).toBeLessThan(0.1);
      expect(region.angleDeg).toBeLessThan(round);
      expect(region.dotShape).toBe(shape);
      expect(Math.abs(region.toneMinPercent! - 100 * tints[index])).toBeLessThan(1.5);
      expect(Math.abs(region.toneMaxPercent! - 100 * tints[index])).toBeLessThan(1.5);
      expect(Math.abs(region.areaMm2 / side ** 2 - 1)).toBeLessThan(0.1);
      expect(region.areaByToneMm2.reduce((sum, area) => sum + area, 0)).toBeCloseTo(region.areaMm2, 3);
      expect(region.pixelsPerCell).toBeCloseTo(dpi / rulingLpi, 1);
      expect(region.greyLevels).toBe(Math.floor(region.pixelsPerCell! ** 2) + 1);
      expect(region.softEdgePercent).toBeNull();
    }
  });
});

describe('tints whose cells lie nearly along the pixels', () => {
  const films = [
    ['round', 36, 1.09, 48.5],
    ['euclidean', 21.6, 90.81, 44.4],
    ['line', 26.1, 179.27, 35.1],
    ['round', 21.6, 89.14, 47.6],
  ] as const;
  it.each(films)('keep their tone over all cells: %s, %f lpi at %f°', (shape, rulingLpi, angleDeg, tonePercent) => {
    const patches = layPatches(1, 1, 22 * (25.4 / rulingLpi), 2.5);
    const black = screenOf({ rulingLpi, angleDeg, spot: spotFunctions[shape], phase: [0.31, 0.77] });
    const [region] = measureHalftone(patchedPlate(patches, 720, (_, x, y) => black(x, y, tonePercent / 100))).regions;
    expect(Math.abs(region.toneMinPercent! - tonePercent)).toBeLessThan(1);
    expect(Math.abs(region.toneMaxPercent! - tonePercent)).toBeLessThan(1);
  });
});

it('takes a third of the pitch of lines half black for no ruling of its own', () => {
  for (const [rulingLpi, angleDeg] of [
    [160, 102.4],
    [160, 120],
    [100, 77],
  ]) {
    const black = screenOf({ rulingLpi, angleDeg, spot: spotFunctions.line, phase: [0.3, 0.6] });
    const { regions } = measureHalftone(patchedPlate(layPatches(1, 1, 6.6, 1), 2400, (_, x, y) => black(x, y, 0.5)));
    expect(regions.map(({ kind, dotShape }) => [kind, dotShape])).toEqual([['am', 'line']]);
    expect(Math.abs(regions[0].rulingLpi! / rulingLpi - 1)).toBeLessThan(0.002);
  }
});
