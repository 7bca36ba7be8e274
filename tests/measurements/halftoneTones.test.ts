import { expect, it } from 'vitest';
import type { CellMap } from '../../src/measurements/halftoneCells.ts';
import { tonesOf } from '../../src/measurements/halftoneTones.ts';
import { measureHalftone } from '../../src/measurements/measureHalftone.ts';
import { type Dot, wedge } from '../acceptance/screenedFilms.ts';

it('gives a part an area where its cut cells have only clear cells near them', () => {
  const columns = 12;
  const none = () => new Float32Array(columns * columns);
  const ink = none();
  ink[0] = 5;
  const map: CellMap = {
    lattice: { fx: 2, fy: 0, isLines: false },
    phaseU: 0,
    phaseV: 0,
    join: 1,
    left: 0,
    top: 0,
    columns,
    rows: columns,
    cellMm: 0.5,
    meanCount: 16,
    attenuation: 1,
    counts: none().fill(16),
    ink,
  };
  const cells = Int32Array.from({ length: columns * columns }, (_, cell) => cell);
  const whole = cells.subarray(1);
  const { areaMm2 } = tonesOf(map, { cells, whole, telling: whole }, 12, none());
  // 143 whole cells and one cut in half, as nothing tells how.
  expect(areaMm2).toBeCloseTo(143.5 * 0.25, 6);
});

it('tells the lightest tones of lines that are missing in part, as they are finer than a pixel and lie along them', () => {
  const tones = [0.03, 0.05, 0.1, 0.2, 0.3, 0.4, 0.5, 0.6, 0.75, 0.15, 0.5, 0.65];
  for (const [rulingLpi, angleDeg, dpi] of [
    [112.1, 0.37, 1440],
    [81.6, 0, 1200],
    [81.6, 90, 1200],
  ]) {
    const screening = { dot: 'line', rulingLpi, angleDeg, phase: [0.2, 0.3] } as const;
    const [region] = measureHalftone(wedge(screening, dpi, tones, Math.round((16 * dpi) / rulingLpi), 4)).regions;
    expect(Math.abs(region.toneMinPercent! - 3), `at ${angleDeg}°`).toBeLessThan(1);
  }
});

it('tells the darkest tones, whose holes lie where cells meet', () => {
  const tones = [0.03, 0.05, 0.1, 0.2, 0.3, 0.4, 0.5, 0.6, 0.75, 0.85, 0.9, 0.95, 0.97, 0.5, 0.15, 0.65];
  for (const [dot, rulingLpi, angleDeg] of [
    ['diamond', 68.5, 56.4],
    ['line', 61.9, 1.7],
  ] as const satisfies readonly (readonly [Dot, number, number])[]) {
    const screening = { dot, rulingLpi, angleDeg, phase: [0.35, 0.8] as const };
    const [region] = measureHalftone(wedge(screening, 1200, tones, Math.round((16 * 1200) / rulingLpi), 4)).regions;
    expect(Math.abs(region.toneMaxPercent! - 97), dot).toBeLessThan(1);
    expect(Math.abs(region.toneMinPercent! - 3), dot).toBeLessThan(1);
  }
});
