import { describe, expect, it } from 'vitest';
import { finestDotMm, finestGapMm, finestIslandMm, finestLineMm } from '../../src/mesh/detailRules.ts';
import { meshByFormula } from '../../src/mesh/meshGeometry.ts';

describe('what a mesh holds', () => {
  it.each([
    // w + 2d = 10000/n + d, in µm.
    [43, 80, 313],
    [43, 71, 304],
    [62, 64, 225],
    [77, 48, 178],
    [77, 55, 185],
    [90, 48, 159],
    [120, 34, 117],
    [150, 31, 98],
  ])('%i-%i: a line of %i µm', (threadsPerCm, threadUm, lineUm) => {
    const mesh = meshByFormula(threadsPerCm, threadUm);
    expect(Math.round(finestLineMm(mesh) * 1000)).toBe(lineUm);
    expect(finestDotMm(mesh)).toBe(finestLineMm(mesh));
    // 50 µm of spread at both edges.
    expect(finestGapMm(mesh)).toBeCloseTo(finestLineMm(mesh) + 0.1, 9);
    expect(finestGapMm(mesh, 150)).toBeCloseTo(finestLineMm(mesh) + 0.3, 9);
  });

  it('uses the opening of the data sheet when there is one', () => {
    // 45 + 2 · 34 = 113 µm.
    expect(finestLineMm({ openingUm: 45, threadUm: 34 })).toBeCloseTo(0.113, 9);
  });

  it('needs islands of √2 openings where the thread is thin, of the line rule where it is thick', () => {
    // 10-100: w = 900; √2 · 900 = 1272.8 over 900 + 200 = 1100.
    expect(finestIslandMm(meshByFormula(10, 100))).toBeCloseTo(1.2728, 4);
    // 43-80: √2 · 152.6 = 215.7 under 312.6.
    expect(finestIslandMm(meshByFormula(43, 80))).toBeCloseTo(0.3126, 4);
  });
});
