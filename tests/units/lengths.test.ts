import { describe, expect, it } from 'vitest';
import {
  dpiFromPitchMm,
  inchesToMm,
  mmPerCssPixel,
  mmPerPica,
  mmToInches,
  mmToPoints,
  pitchMmFromDpi,
  pitchUmFromThreadsPerCm,
  pointsToMm,
  rulingLpiFromPerCm,
  threadsPerCmFromPerInch,
  threadsPerInchFromPerCm,
  umToMm,
} from '../../src/units/lengths.ts';

describe('lengths', () => {
  it('holds the definitions', () => {
    expect(inchesToMm(1)).toBe(25.4);
    expect(pointsToMm(72)).toBeCloseTo(25.4, 12);
    expect(mmPerPica * 6).toBeCloseTo(25.4, 12);
    expect(mmPerCssPixel * 96).toBeCloseTo(25.4, 12);
    expect(umToMm(312.5)).toBe(0.3125);
  });

  it('comes back where it started', () => {
    expect(mmToInches(inchesToMm(3.7))).toBeCloseTo(3.7, 12);
    expect(mmToPoints(pointsToMm(8))).toBeCloseTo(8, 12);
    expect(dpiFromPitchMm(pitchMmFromDpi(720))).toBeCloseTo(720, 9);
    expect(threadsPerInchFromPerCm(threadsPerCmFromPerInch(110))).toBeCloseTo(110, 12);
  });

  it('gives trade figures', () => {
    expect(pitchMmFromDpi(720)).toBeCloseTo(0.03528, 5); // 25.4 / 720
    expect(threadsPerInchFromPerCm(120)).toBeCloseTo(304.8, 9);
    expect(rulingLpiFromPerCm(40)).toBeCloseTo(101.6, 9);
    expect(pitchUmFromThreadsPerCm(43)).toBeCloseTo(232.558, 3);
  });
});
