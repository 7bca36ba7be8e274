import { describe, expect, it } from 'vitest';
import { measureDetail } from '../../src/measurements/measureDetail.ts';
import { box, disc, drawShapes, minus, plateOf, reversed, ring, type Shape, strip } from '../support/analyticShapes.ts';
import { planeFromText } from '../support/asciiPlane.ts';
import { seededRandom } from '../support/seededRandom.ts';

const dpi = 600;
const pitchMm = 25.4 / dpi;
const px = (mm: number) => mm / pitchMm;

function detailOf(shapes: readonly Shape[], sidePx = 100, isReversed = false) {
  const plane = drawShapes(sidePx, sidePx, shapes);
  return measureDetail(plateOf(isReversed ? reversed(plane) : plane, dpi), { searchToMm: 1, refineBelowMm: 0.6 });
}

describe('dots and islands', () => {
  it('a disc is one dot, its negative one island, with its diameter, breadth and place', () => {
    const random = seededRandom(17);
    for (const diameter of [1.3, 1.6, 2, 2.5, 3, 4, 5, 6, 8, 10, 14, 18, 22]) {
      for (let k = 0; k < 10; k++) {
        const [x, y] = [50 + random(), 50 + random()];
        for (const isReversed of [false, true]) {
          const detail = detailOf([disc(x, y, diameter)], 100, isReversed);
          const own = isReversed ? detail.islands : detail.dots;
          const what = `${isReversed ? 'island' : 'dot'} of ${diameter} px at ${x.toFixed(2)}, ${y.toFixed(2)}`;
          // The smallest discs may miss every pixel centre but one, or hold two that share a corner.
          expect(own.length, what).toBe(1);
          expect([detail.lines, detail.gaps, isReversed ? detail.dots : detail.islands], what).toEqual([[], [], []]);
          const error = Math.abs(px(own[0].equivalentDiameterMm) - diameter);
          expect(error, what).toBeLessThanOrEqual(px(own[0].plusMinusMm));
          expect(px(own[0].plusMinusMm), what).toBeCloseTo(
            diameter < 5.5 ? 1 : diameter > 6.5 ? 0.5 : px(own[0].plusMinusMm),
          );
          expect(Math.abs(px(own[0].minWidthMm) - diameter), `${what}, its breadth`).toBeLessThan(1.2);
          const { xMm, yMm, widthMm, heightMm } = own[0].boxMm;
          expect(Math.abs(px(xMm + widthMm / 2) - x), what).toBeLessThan(1);
          expect(Math.abs(px(yMm + heightMm / 2) - y), what).toBeLessThan(1);
        }
      }
    }
  });

  it('bars up to three times as long as wide are dots, longer ones lines, never both', () => {
    for (const angle of [0, 17, 45, 77]) {
      for (const [length, width, isLine] of [
        [10, 4, false],
        [16, 12, false],
        [20, 8, false],
        [28, 8, true],
        [40, 10, true],
        [16, 4, true],
      ] as const) {
        const detail = detailOf([strip(50.3, 50.1, length, width, angle)]);
        const what = `${length} by ${width} px at ${angle}°`;
        expect([detail.dots.length, detail.lines.length, detail.gaps.length], what).toEqual(
          isLine ? [0, 1, 0] : [1, 0, 0],
        );
        const [place] = isLine ? detail.lines : detail.dots;
        expect(Math.abs(px(place.minWidthMm) - width), what).toBeLessThan(1);
      }
    }
  });

  it('a dot larger than the search is none, and no line either', () => {
    // 1 mm is 23.6 px; a disc of 26 px and a square of 24 px, as large as a disc of 27 px.
    for (const shape of [disc(50, 50, 26), box(38, 38, 62, 62)]) {
      expect(detailOf([shape])).toMatchObject({ dots: [], lines: [], gaps: [], islands: [], minDotMm: null });
    }
  });

  it('what is drawn with thin strokes is lines, however small it is', () => {
    const small = detailOf([ring(50, 50, 18, 2.6)]);
    expect([small.dots.length, small.lines.length]).toEqual([0, 1]);
    expect(Math.abs(px(small.minLineMm!) - 2.6)).toBeLessThanOrEqual(px(small.lines[0].plusMinusMm));
    // The film inside the ring, 15.4 px across, is an island.
    expect(small.islands.length).toBe(1);
    expect(Math.abs(px(small.minIslandMm!) - 15.4)).toBeLessThan(0.5);
  });

  it('film that reaches the edge of the plate is no island, a corner of film no island by its last pixel', () => {
    expect(detailOf([box(0, 0, 100, 40), box(0, 52, 100, 100), box(9, 0, 100, 100)]).islands).toEqual([]);
    const corner = planeFromText(`
      ##############
      ##############
      ##.###########
      ###.##########
      ##..##########
      ####..########
      ####...#######
      ##############
      ##############
    `);
    const detail = measureDetail(plateOf(corner, 50), { searchToMm: 1, refineBelowMm: 0.6 });
    expect(detail.islands.map(({ areaMm2 }) => Math.round(areaMm2 / (25.4 / 50) ** 2))).not.toContain(1);
  });

  it('the smallest comes first and is the one named', () => {
    const detail = detailOf([
      disc(20, 20, 12),
      disc(60, 20, 5),
      disc(20, 70, 9),
      minus(box(50, 50, 99, 99), disc(75, 75, 8.2)),
    ]);
    expect(detail.dots.map(({ equivalentDiameterMm }) => Math.round(px(equivalentDiameterMm)))).toEqual([5, 9, 12]);
    expect(detail.minDotMm).toBe(detail.dots[0].equivalentDiameterMm);
    expect(detail.islands.map(({ equivalentDiameterMm }) => Math.round(px(equivalentDiameterMm)))).toEqual([8]);
    expect(detail.minIslandMm).toBe(detail.islands[0].equivalentDiameterMm);
  });

  it('two pixels that share a corner are one dot and leave no gap between them', () => {
    const plane = drawShapes(64, 64, [
      box(32, 32, 33, 33),
      box(33, 33, 34, 34),
      box(20, 41, 21, 42),
      box(19, 42, 20, 43),
    ]);
    const detail = measureDetail(plateOf(plane, dpi), { searchToMm: 1, refineBelowMm: 0.6 });
    expect([detail.dots.length, detail.gaps.length, detail.lines.length]).toEqual([2, 0, 0]);
  });
});
