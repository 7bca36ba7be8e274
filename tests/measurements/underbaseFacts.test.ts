import { describe, expect, it } from 'vitest';
import { measureUnderbase } from '../../src/measurements/measureUnderbase.ts';
import type { UnderbaseFit } from '../../src/measurements/overlap.ts';
import {
  circle,
  drawPlate,
  either,
  gridOf,
  grownBy,
  rectangle,
  regularPolygon,
  type Shape,
} from '../support/overlapPlates.ts';

const grid = gridOf(24, 20, 720);
const pitchMm = grid.pitchXMm;
const searchToMm = 1;

function fitOf(base: Shape, ...tops: Shape[]): UnderbaseFit {
  const plates = tops.map((shape, index) => drawPlate(`top${index + 1}`, grid, shape));
  return measureUnderbase(drawPlate('base', grid, base), plates, { searchToMm });
}

describe('how far a base stands back', () => {
  it('is spread as a base out of place makes it: the choke less the slip by its cosine', () => {
    const [chokeMm, slipMm] = [0.2, 0.4];
    const fit = fitOf(circle(12 + slipMm, 10, 7 - chokeMm), circle(12, 10, 7));
    const totalMm = 2 * Math.PI * 6.9;
    const readMm = fit.insetLengthMm + fit.flushLengthMm + fit.peekLengthMm;
    expect(Math.abs(readMm / totalMm - 1)).toBeLessThan(0.02);
    // It peeks where 0.4 · cos t > 0.2: within 60° of the slip.
    expect(Math.abs(fit.peekLengthMm / totalMm - 1 / 3)).toBeLessThan(0.04);
    for (const [read, share] of [
      [fit.chokeSpread!.p5Mm, 0.05],
      [fit.chokeSpread!.p25Mm, 0.25],
      [fit.chokeSpread!.medianMm, 0.5],
      [fit.chokeSpread!.p75Mm, 0.75],
      [fit.chokeSpread!.p95Mm, 0.95],
    ]) {
      expect(Math.abs(read - (chokeMm - slipMm * Math.cos(Math.PI * share))), `share ${share}`).toBeLessThan(pitchMm);
    }
    const binsMm = fit.chokeByLength.reduce((sum, { lengthMm }) => sum + lengthMm, 0);
    expect(binsMm).toBeCloseTo(readMm, 6);
    expect(fit.chokeByLength[0].toMm).toBeGreaterThan(-0.2 - pitchMm);
    expect(fit.chokeByLength[0].toMm).toBeLessThan(-0.1);
    expect(fit.chokeByLength.at(-1)!.toMm).toBeGreaterThan(0.55);
  });

  it('is 0 all round for a base as large as its colour', () => {
    const fit = fitOf(circle(12, 10, 5), circle(12, 10, 5));
    expect(Math.abs(fit.flushLengthMm / (10 * Math.PI) - 1)).toBeLessThan(0.02);
    expect(fit.insetLengthMm + fit.peekLengthMm).toBe(0);
    expect(fit.chokeByLength).toHaveLength(1);
  });
});

describe('colour without base and base without colour', () => {
  it('are measured by area, each plate for itself', () => {
    const fit = fitOf(either(circle(6, 10, 3.7), rectangle(18, 5, 4, 4)), circle(6, 10, 4), rectangle(18, 14, 5, 4));
    expect(fit.tops.map(({ plateId }) => plateId)).toEqual(['top1', 'top2']);
    expect(Math.abs(fit.tops[0].areaMm2 / (16 * Math.PI) - 1)).toBeLessThan(0.005);
    expect(Math.abs(fit.tops[0].bareAreaMm2 / (Math.PI * (16 - 3.7 ** 2)) - 1)).toBeLessThan(0.02);
    expect(Math.abs(fit.tops[1].bareAreaMm2 / 20 - 1)).toBeLessThan(0.02);
    expect(Math.abs(fit.exposedAreaMm2 / 16 - 1)).toBeLessThan(0.02);
    expect(fit.exposed).toHaveLength(1);
    expect(Math.abs(fit.exposed[0].areaMm2 / 16 - 1)).toBeLessThan(0.02);
    expect(fit.exposed[0].boxMm.xMm).toBeCloseTo(16, 1);
    expect(fit.exposed[0].boxMm.widthMm).toBeCloseTo(4, 1);
  });

  it('lie apart from each other by more than the search, to a pixel', () => {
    // A colour 2 mm high that reaches from 0.6 mm off the base to 1.5 mm off it, and one that ends within 1 mm.
    const base = (x: number) => x - 10;
    const fit = fitOf(base, rectangle(11.05, 5, 0.9, 2), rectangle(10.7, 15, 0.56, 2));
    expect(fit.unbased).toHaveLength(1);
    expect(fit.unbased[0].plateId).toBe('top1');
    expect(Math.abs(fit.unbased[0].boxMm.xMm - 11)).toBeLessThan(1.5 * pitchMm);
    expect(Math.abs(fit.unbased[0].areaMm2 - 0.5 * 2)).toBeLessThan(2 * 2 * pitchMm);
    // The base ends at 10 mm, and all of it but 1 mm round each colour is exposed: of what is `off` mm away, a strip
    // 1 − off wide and 2 mm high and two halves of a segment of the circle.
    const taken = (off: number) => 2 * (1 - off) + Math.acos(off) - off * Math.sqrt(1 - off ** 2);
    expect(fit.exposed).toHaveLength(1);
    expect(Math.abs(fit.exposed[0].areaMm2 - (10 * 20 - taken(0.6) - taken(0.42)))).toBeLessThan(20 * pitchMm);
    expect(Math.abs(fit.exposedAreaMm2 - 10 * 20)).toBeLessThan(20 * pitchMm);
  });

  it('a base that only peeks is no exposed part', () => {
    const fit = fitOf(circle(12, 10, 5.2), circle(12, 10, 5));
    expect(fit.exposed).toEqual([]);
    expect(Math.abs(fit.exposedAreaMm2 / (Math.PI * (5.2 ** 2 - 25)) - 1)).toBeLessThan(0.02);
  });
});

describe('strips of colour the choke took the base from', () => {
  const body = rectangle(6, 10, 8, 12);
  const second = rectangle(20, 10, 6, 12);
  const chokeMm = 0.3;

  it('are found on their own, as arms and as bridges, with width and length', () => {
    for (const turnDeg of [0, 12]) {
      const lone = rectangle(12, 2, 9, 0.4, turnDeg / 3);
      const arm = rectangle(12, 15, 6, 0.36, turnDeg / 6);
      const bridge = rectangle(13.5, 9, 8, 0.5, turnDeg);
      const fit = measureUnderbase(
        drawPlate('base', grid, either(grownBy(body, -chokeMm), grownBy(second, -chokeMm))),
        [drawPlate('wide', grid, either(body, second)), drawPlate('fine', grid, either(lone, arm, bridge))],
        { searchToMm },
      );
      expect(fit.bareStrips, `${turnDeg} deg`).toHaveLength(3);
      const [first, middle, last] = fit.bareStrips;
      // The lone strip all along; the bridge between the bodies; the arm from the body it stands on.
      for (const [strip, widthMm, lengthMm] of [
        [first, 0.4, 9],
        [middle, 0.5, 7],
        [last, 0.36, 5],
      ] as const) {
        expect(Math.abs(strip.widthMm - widthMm)).toBeLessThan(pitchMm);
        expect(Math.abs(strip.lengthMm - lengthMm)).toBeLessThan(0.8);
        expect(strip.plateIds).toEqual(['fine']);
      }
      expect(Math.abs(first.yMm - 2)).toBeLessThan(0.5);
      expect(Math.abs(middle.yMm - 9)).toBeLessThan(0.8);
    }
  });

  it('are not what the choke takes from corners, nor fine lines with base below', () => {
    for (const colour of [body, regularPolygon(12, 10, 3, 4, 11), regularPolygon(12, 10, 5, 6, 3), circle(12, 10, 6)]) {
      expect(fitOf(grownBy(colour, -chokeMm), colour).bareStrips).toEqual([]);
    }
    const line = rectangle(12, 10, 16, 0.4, 20);
    expect(fitOf(rectangle(12, 10, 22, 18), line).bareStrips).toEqual([]);
    expect(fitOf(grownBy(line, -0.1), line).bareStrips).toEqual([]);
  });
});
