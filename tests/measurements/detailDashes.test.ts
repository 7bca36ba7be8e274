import { describe, expect, it } from 'vitest';
import { measureDetail } from '../../src/measurements/measureDetail.ts';
import { drawShapes, plateOf, strip } from '../support/analyticShapes.ts';
import { seededRandom } from '../support/seededRandom.ts';

const dpi = 600;

function kindsOf(cx: number, cy: number, lengthPx: number, widthPx: number, angleDeg: number) {
  const plate = plateOf(drawShapes(120, 120, [strip(cx, cy, lengthPx, widthPx, angleDeg)]), dpi);
  const { lines, gaps, dots } = measureDetail(plate, { searchToMm: 1, refineBelowMm: 0.6 });
  return [...lines.map(({ kind }) => kind), ...gaps.map(() => 'gap'), ...dots.map(() => 'dot')];
}

describe('dashes', () => {
  it.each([
    // The steps of the pixels make these widest by a hair at the far end.
    [60.7558, 60.4484, 30.83, 6.7414, 168.28],
    [60.8342, 60.818, 46.114, 9.536, 11.8868],
    [70, 96.9, 26, 5.6, -9.4],
  ])('at %f, %f, %f by %f px at %f° is a line, no point that thins out', (...dash) => {
    expect(kindsOf(...dash)).toEqual(['line']);
  });

  it('of any breadth and lie are one line each', () => {
    const random = seededRandom(11);
    for (let k = 0; k < 600; k++) {
      const widthPx = 4 + 6 * random();
      const dash = [60 + random(), 60 + random(), widthPx * (3.5 + 3 * random()), widthPx, 180 * random()] as const;
      expect(kindsOf(...dash), dash.map((value) => value.toFixed(3)).join(', ')).toEqual(['line']);
    }
  });
});
