import { describe, expect, it } from 'vitest';
import {
  estimateFabricThicknessUm,
  meshByFormula,
  nominalOpeningUm,
  openAreaPercent,
  theoreticalInkVolumeCm3PerM2,
} from '../../src/mesh/meshGeometry.ts';
import { pitchUmFromThreadsPerCm, threadsPerCmFromPerInch, threadsPerInchFromPerCm } from '../../src/units/lengths.ts';

describe('mesh geometry against arithmetic', () => {
  it.each([
    // count/cm, thread µm, pitch 10000/n, opening p−d, open area 100(w/p)², thickness 1.55 d, volume D·A0/100
    [10, 260, 1000.0, 740.0, 54.8, 403, 220.7],
    [43, 80, 232.6, 152.6, 43.0, 124, 53.4],
    [77, 55, 129.9, 74.9, 33.2, 85, 28.3],
    [90, 48, 111.1, 63.1, 32.3, 74, 24.0],
    [120, 34, 83.3, 49.3, 35.0, 53, 18.5],
    [165, 31, 60.6, 29.6, 23.9, 48, 11.5],
  ])('%i/cm with %i µm thread', (threadsPerCm, threadUm, pitchUm, openingUm, openPercent, thicknessUm, volume) => {
    const mesh = meshByFormula(threadsPerCm, threadUm);
    expect(pitchUmFromThreadsPerCm(threadsPerCm)).toBeCloseTo(pitchUm, 1);
    expect(Math.abs(mesh.openingUm - openingUm)).toBeLessThan(0.051);
    expect(Math.abs(openAreaPercent(mesh) - openPercent)).toBeLessThan(0.051);
    expect(Math.abs(estimateFabricThicknessUm(threadUm) - thicknessUm)).toBeLessThanOrEqual(0.51);
    expect(Math.abs(theoreticalInkVolumeCm3PerM2(mesh) - volume)).toBeLessThan(0.051);
  });
});

describe('mesh geometry against published fabrics', () => {
  it.each([
    // A mesh maker's specification page, 90/cm: thread, opening µm, open area %, thickness µm, volume cm³/m². It calculates.
    [40, 73, 42, 59, 25],
    [48, 65, 33, 72, 24],
    [54, 59, 27, 84, 23],
  ])('90-%i by its maker', (threadUm, openingUm, openPercent, thicknessUm, volume) => {
    // The page rounds the count: its pitch is 113 µm (225 per inch), not 111 (90/cm), so its own pitch is used here.
    const perCm = threadsPerCmFromPerInch(225);
    expect(Math.abs(nominalOpeningUm(perCm, threadUm) - openingUm)).toBeLessThanOrEqual(0.5);
    const mesh = { threadsPerCm: perCm, threadUm, openingUm };
    expect(Math.abs(openAreaPercent(mesh) - openPercent)).toBeLessThanOrEqual(1);
    expect(
      Math.abs(theoreticalInkVolumeCm3PerM2({ ...mesh, fabricThicknessUm: thicknessUm }) - volume),
    ).toBeLessThanOrEqual(0.5);
    // The thickness model is within 5.1 % on the plain rows published.
    expect(Math.abs(estimateFabricThicknessUm(threadUm) / thicknessUm - 1)).toBeLessThan(0.052);
  });

  it('keeps within 5.1 % of the thickness published for 120-40 in Screen Printing magazine, June 2009', () => {
    // 63 µm published; model 1.55 · 40 = 62.
    expect(Math.abs(estimateFabricThicknessUm(40) / 63 - 1)).toBeLessThan(0.051);
  });

  it('gives the twill of 190-31 its 55 µm (AGH University of Krakow, technical data on investigated fabrics)', () => {
    // 1.77 · 31 = 54.87. Its published opening of 16 µm opens 9 %: (16 / 52.63)² = 9.2 %.
    expect(Math.round(estimateFabricThicknessUm(31, 'twill'))).toBe(55);
    expect(Math.round(openAreaPercent({ threadsPerCm: 190, openingUm: 16 }))).toBe(9);
  });
});

describe('mesh geometry against woven wire cloth', () => {
  it.each([
    // ISO 3310-1 apertures and preferred wires: opening, wire, then count/cm, count/in and open area % by ISO 9044 terms.
    [1000, 560, 6.4, 16.3, 41.1],
    [500, 315, 12.3, 31.2, 37.6],
    [250, 160, 24.4, 62.0, 37.2],
    [150, 100, 40.0, 101.6, 36.0],
    [125, 90, 46.5, 118.1, 33.8],
    [106, 71, 56.5, 143.5, 35.9],
    [75, 50, 80.0, 203.2, 36.0],
    [63, 45, 92.6, 235.2, 34.0],
    [45, 32, 129.9, 329.9, 34.2],
    [38, 30, 147.1, 373.5, 31.2],
    [20, 20, 250.0, 635.0, 25.0],
  ])('aperture %i µm, wire %i µm', (openingUm, threadUm, perCm, perInch, openPercent) => {
    const threadsPerCm = 10_000 / (openingUm + threadUm);
    expect(nominalOpeningUm(threadsPerCm, threadUm)).toBeCloseTo(openingUm, 6);
    expect(Math.abs(threadsPerCm - perCm)).toBeLessThan(0.051);
    expect(Math.abs(threadsPerInchFromPerCm(threadsPerCm) - perInch)).toBeLessThan(0.051);
    expect(Math.abs(openAreaPercent({ threadsPerCm, openingUm }) - openPercent)).toBeLessThan(0.051);
  });

  it.each([
    // Market-grade inch table: meshes per inch, wire in inches, published open area %. Worst deviation known 0.5 point.
    [20, 0.016, 46.2],
    [30, 0.012, 40.8],
    [40, 0.01, 36.0],
    [60, 0.0075, 30.5],
    [80, 0.0055, 31.4],
    [100, 0.0045, 30.3],
    [200, 0.0021, 33.6],
    [325, 0.0014, 30.0],
  ])('%i per inch, wire %d in', (perInch, wireInches, publishedPercent) => {
    const mesh = meshByFormula(threadsPerCmFromPerInch(perInch), wireInches * 25_400);
    expect(Math.abs(openAreaPercent(mesh) - publishedPercent)).toBeLessThanOrEqual(0.5);
  });
});
