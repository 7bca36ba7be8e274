import { describe, expect, it } from 'vitest';
import { measureUnderbase } from '../../src/measurements/measureUnderbase.ts';
import {
  both,
  circle,
  drawPlate,
  either,
  gridOf,
  grownBy,
  outside,
  rectangle,
  type Shape,
} from '../support/overlapPlates.ts';

const searchToMm = 1;

describe('measureUnderbase', () => {
  for (const dpi of [600, 720, 1200]) {
    it(`reads drawn chokes and peeks within a pixel at ${dpi} dpi`, () => {
      const grid = gridOf(16, 16, dpi);
      const pitchMm = grid.pitchXMm;
      for (const colour of [circle(8.01, 7.98, 5), rectangle(8, 8.03, 8, 6, 17), rectangle(8, 8, 9, 7)]) {
        for (const chokePx of [0, 1, 3, 7, 12]) {
          const top = drawPlate('top', grid, colour);
          const fit = measureUnderbase(drawPlate('base', grid, grownBy(colour, -chokePx * pitchMm)), [top], {
            searchToMm,
          });
          expect(Math.abs(fit.minChokeMm! / pitchMm - chokePx), `choke ${chokePx}`).toBeLessThan(1);
          expect(Math.abs(fit.medianChokeMm! / pitchMm - chokePx), `choke ${chokePx}`).toBeLessThan(0.6);
          expect(fit.peeks).toEqual([]);
          expect(fit.unbased).toEqual([]);
        }
        for (const peekPx of [2, 6]) {
          const top = drawPlate('top', grid, colour);
          const fit = measureUnderbase(drawPlate('base', grid, grownBy(colour, peekPx * pitchMm)), [top], {
            searchToMm,
          });
          expect(fit.minChokeMm).toBeNull();
          expect(Math.abs(fit.peeks[0].overlapMm / pitchMm - peekPx), `peek ${peekPx}`).toBeLessThan(1);
        }
      }
    });
  }

  const grid = gridOf(24, 20, 720);
  const pitchMm = grid.pitchXMm;

  it('finds the side where a base out of place peeks', () => {
    const colour = rectangle(12, 10, 12, 8);
    const fit = measureUnderbase(
      drawPlate('base', grid, grownBy(rectangle(12.4, 10, 12, 8), -0.2)),
      [drawPlate('top', grid, colour)],
      { searchToMm },
    );
    expect(fit.peeks).toHaveLength(1);
    expect(Math.abs(fit.peeks[0].overlapMm - 0.2)).toBeLessThan(pitchMm);
    expect(fit.peeks[0].xMm).toBeCloseTo(18.1, 1);
    expect(fit.peeks[0].lengthMm).toBeGreaterThan(7);
    expect(Math.abs(fit.medianChokeMm! - 0.2)).toBeLessThan(pitchMm);
  });

  it('takes colours that meet for one, and slits between them for no peek', () => {
    const left = drawPlate('left', grid, rectangle(7, 10, 10, 10));
    const right = drawPlate('right', grid, rectangle(17.1, 10, 10, 10));
    const fit = measureUnderbase(drawPlate('base', grid, rectangle(12.05, 10, 19.6, 9.5)), [left, right], {
      searchToMm,
    });
    expect(fit.peeks).toEqual([]);
    expect(Math.abs(fit.minChokeMm! - 0.25)).toBeLessThan(pitchMm);
    expect(Math.abs(fit.medianChokeMm! - 0.25)).toBeLessThan(pitchMm);
  });

  it('does not call white that prints on its own a peek', () => {
    const panel = rectangle(12, 10, 16, 14);
    const window = rectangle(12, 10, 6, 5, 10);
    const top = drawPlate('top', grid, both(panel, outside(window)));
    const fit = measureUnderbase(drawPlate('base', grid, grownBy(panel, -0.25)), [top], { searchToMm });
    expect(fit.peeks).toEqual([]);
    expect(Math.abs(fit.minChokeMm! - 0.25)).toBeLessThan(pitchMm);
  });

  it('reports parts with no base below and no others', () => {
    const body = circle(7, 10, 5);
    const lost: Shape = rectangle(18, 5, 8, 0.3, 12);
    const forgotten = rectangle(18, 14, 5, 4);
    const top = drawPlate('top', grid, either(body, lost));
    const second = drawPlate('second', grid, forgotten);
    const fit = measureUnderbase(drawPlate('base', grid, grownBy(body, -0.3)), [top, second], { searchToMm });
    expect(fit.unbased.map((part) => part.plateId)).toEqual(['second', 'top']);
    expect(fit.unbased[0].areaMm2).toBeCloseTo(20, 0);
    expect(fit.unbased[0].boxMm.xMm).toBeCloseTo(15.5, 1);
    expect(fit.unbased[0].boxMm.widthMm).toBeCloseTo(5, 1);
    expect(fit.unbased[1].areaMm2).toBeCloseTo(2.4, 0);
    expect(Math.abs(fit.minChokeMm! - 0.3)).toBeLessThan(pitchMm);
  });

  it('reports all of a colour when there is no base at all', () => {
    const fit = measureUnderbase(
      drawPlate('base', grid, () => 1),
      [drawPlate('top', grid, circle(12, 10, 4))],
      {
        searchToMm,
      },
    );
    expect(fit.minChokeMm).toBeNull();
    expect(fit.unbased).toHaveLength(1);
    expect(fit.unbased[0].areaMm2 / (16 * Math.PI)).toBeCloseTo(1, 1);
  });

  it('measures films of different resolutions', () => {
    const colour = circle(12, 10, 6);
    const fit = measureUnderbase(
      drawPlate('base', gridOf(24, 20, 600), grownBy(colour, -0.3)),
      [drawPlate('top', grid, colour)],
      { searchToMm },
    );
    expect(Math.abs(fit.medianChokeMm! - 0.3)).toBeLessThan(fit.plusMinusMm);
    expect(Math.abs(fit.minChokeMm! - 0.3)).toBeLessThan(1.2 * fit.plusMinusMm);
  });
});
