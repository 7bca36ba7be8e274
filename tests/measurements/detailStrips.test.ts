import { describe, expect, it } from 'vitest';
import { measureDetail } from '../../src/measurements/measureDetail.ts';
import { drawShapes, plateOf, reversed, strip } from '../support/analyticShapes.ts';
import { seededRandom } from '../support/seededRandom.ts';

const lengthPx = 200;
const sidePx = 300;

interface Measured {
  readonly what: string;
  readonly angleDeg: number;
  readonly widthPx: number;
  readonly errorPx: number;
  readonly medianErrorPx: number;
  readonly plusMinusPx: number;
  readonly lengthErrorPx: number;
  readonly turnDeg: number;
}

/** Draws straight strips at odd places, measures them as lines and, reversed, as gaps. */
function measureStrips(dpi: number, anglesDeg: readonly number[], widthsPx: readonly number[]): Measured[] {
  const random = seededRandom(dpi);
  const inPixels = (mm: number) => (mm * dpi) / 25.4;
  const measured: Measured[] = [];
  for (const angleDeg of anglesDeg) {
    for (const widthPx of widthsPx) {
      const bits = drawShapes(sidePx, sidePx, [strip(150 + random(), 150 + random(), lengthPx, widthPx, angleDeg)]);
      for (const plane of [bits, reversed(bits)]) {
        const detail = measureDetail(plateOf(plane, dpi), { searchToMm: 1, refineBelowMm: 0.6 });
        const own = plane === bits ? detail.lines : detail.gaps;
        const other = plane === bits ? detail.gaps : detail.lines;
        const what = `${plane === bits ? 'line' : 'gap'} of ${widthPx} px at ${angleDeg}° and ${dpi} dpi`;
        expect([own.length, own[0]?.kind, other.length, detail.dots.length, detail.islands.length], what).toEqual([
          1,
          'line',
          0,
          0,
          0,
        ]);
        const turn = Math.abs(own[0].directionDeg - angleDeg) % 180;
        measured.push({
          what,
          angleDeg,
          widthPx,
          errorPx: inPixels(own[0].minWidthMm) - widthPx,
          medianErrorPx: inPixels(own[0].medianWidthMm) - widthPx,
          plusMinusPx: inPixels(own[0].plusMinusMm),
          lengthErrorPx: inPixels(own[0].lengthMm) - lengthPx,
          turnDeg: Math.min(turn, 180 - turn),
        });
      }
    }
  }
  return measured;
}

function rms(values: readonly number[]): number {
  return Math.sqrt(values.reduce((sum, value) => sum + value * value, 0) / values.length);
}

/** Slanted so that the edges pass the pixel rows at many different places. */
const slantedDeg = [7, 15, 22.5, 30, 40, 50, 60, 75, 105, 123, 157.5, 170];
/** Along the pixels or their diagonal: an edge passes every row at the same place, so a pixel is all that is known. */
const alongPixelsDeg = [0, 45, 90, 135];

describe('width of straight strips', () => {
  it.each([
    [600, [1.5, 2.3, 3, 4.4, 6.2, 7.9, 8.3, 10.6, 13.7, 17.2, 20.5, 22.4]],
    [720, [1.8, 3.3, 7.4, 8, 12.1, 18.8, 25.3]],
    [1200, [1.6, 3.7, 8.8, 15.1, 24.6, 33.3, 40]],
  ])('at %i dpi lies within half a pixel at any slant', (dpi, widthsPx) => {
    const measured = measureStrips(dpi, slantedDeg, widthsPx);
    for (const { what, errorPx, plusMinusPx, lengthErrorPx, widthPx, turnDeg } of measured) {
      expect(Math.abs(errorPx), what).toBeLessThanOrEqual(0.5);
      expect(Math.abs(errorPx), `${what}, within its bar`).toBeLessThanOrEqual(plusMinusPx);
      expect(Math.abs(lengthErrorPx), `${what}, its length`).toBeLessThanOrEqual(Math.max(5, 0.75 * widthPx));
      expect(turnDeg, `${what}, its direction`).toBeLessThan(2);
    }
    const broad = measured.filter(({ widthPx }) => widthPx >= 3);
    expect(rms(broad.map(({ errorPx }) => errorPx))).toBeLessThan(0.15);
    expect(rms(broad.map(({ medianErrorPx }) => medianErrorPx))).toBeLessThan(0.1);
    // A third of a pixel is claimed where the edge is long enough to bear it out.
    expect(Math.max(...broad.map(({ plusMinusPx }) => plusMinusPx))).toBeLessThan(0.61);
  });

  it('along the pixels and their diagonal is known to a pixel, and says so', () => {
    for (const { what, angleDeg, errorPx, plusMinusPx } of measureStrips(
      600,
      alongPixelsDeg,
      [1.5, 3.4, 5.2, 9.9, 16, 21.7],
    )) {
      // n pixels stand for anything between n − 1 and n + 1; on the diagonal rows lie 0.71 px apart.
      const stepPx = angleDeg % 90 === 0 ? 1 : Math.SQRT1_2;
      expect(Math.abs(errorPx), what).toBeLessThanOrEqual(stepPx);
      expect(plusMinusPx, what).toBeCloseTo(stepPx, 2);
    }
  });

  it('a degree off the pixel rows uses the steps of the edge', () => {
    const measured = measureStrips(600, [1, 89, 44, 91.3], [3.4, 5.7, 10.3, 18.6]);
    for (const { what, errorPx, plusMinusPx } of measured) {
      expect(Math.abs(errorPx), what).toBeLessThanOrEqual(Math.max(0.6, plusMinusPx));
      expect(Math.abs(errorPx), `${what}, within its bar`).toBeLessThanOrEqual(plusMinusPx);
    }
    expect(rms(measured.map(({ medianErrorPx }) => medianErrorPx))).toBeLessThan(0.15);
  });

  it('on pixels of unequal pitch, as fax-like films have, still measures millimetres', () => {
    // 600 by 300 dpi: a strip drawn in units of a 600 dpi pixel; rows are two of them high.
    for (const angleDeg of [20, 65, 110, 150]) {
      const drawn = strip(300, 300, 400, 10, angleDeg);
      const squeezed = { bounds: drawn.bounds, holds: (x: number, y: number) => drawn.holds(x, 2 * y) };
      const plane = drawShapes(600, 300, [{ ...squeezed, bounds: [0, 0, 600, 300] }]);
      const detail = measureDetail(plateOf(plane, 600, 300), { searchToMm: 1, refineBelowMm: 0.6 });
      expect([detail.lines.length, detail.gaps.length, detail.dots.length], `${angleDeg}°`).toEqual([1, 0, 0]);
      const [line] = detail.lines;
      expect(Math.abs(line.minWidthMm - (10 * 25.4) / 600), `${angleDeg}°`).toBeLessThanOrEqual(line.plusMinusMm);
      expect(line.plusMinusMm).toBeLessThanOrEqual(25.4 / 300);
      expect(Math.abs(line.directionDeg - angleDeg), `${angleDeg}°`).toBeLessThan(2);
      expect(Math.abs(line.lengthMm - (400 * 25.4) / 600), `${angleDeg}°`).toBeLessThan(0.5);
    }
  });

  it('broader than was searched for is not reported', () => {
    for (const widthPx of [24.8, 27, 40, 80]) {
      const plane = drawShapes(sidePx, sidePx, [strip(150, 150, lengthPx, widthPx, 20)]);
      const detail = measureDetail(plateOf(plane, 600), { searchToMm: 1, refineBelowMm: 0.6 });
      expect([detail.lines, detail.gaps, detail.minLineMm], `${widthPx} px`).toEqual([[], [], null]);
    }
  });
});
