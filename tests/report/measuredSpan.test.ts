import { describe, expect, it } from 'vitest';
import type { Place } from '../../src/findings/finding.ts';
import { spanOfPlace } from '../../src/report/measuredSpan.ts';
import type { Crop } from '../../src/report/pictures.ts';
import { paintTones, type Shape, stroke } from '../support/paintedTones.ts';

const box = { xMm: 10, yMm: 20, widthMm: 3, heightMm: 3 };

function cropOf(...shapes: Shape[]): Crop {
  const layers = shapes.map((shape, index) => ({ plateId: `p${index + 1}`, image: paintTones(shape, box, 120) }));
  return { checkId: 'thin-line', findingIndex: 0, placeIndex: 0, filmId: 'f1', xMm: box.xMm, yMm: box.yMm, layers };
}

const middle: Place = { filmId: 'f1', xMm: 10.8, yMm: 20.8, widthMm: 1.4, heightMm: 1.4, value: 0.3 };
/** Pixels are 0.025 mm. */
const twoPixelsMm = 0.05;

describe('the measured span of a place', () => {
  it.each([0, 30, 45, 90, 150])('crosses a line at %d degrees square to it', (angleDeg) => {
    const [c, s] = [Math.cos((angleDeg * Math.PI) / 180), Math.sin((angleDeg * Math.PI) / 180)];
    const span = spanOfPlace(cropOf(stroke(11.5 - 9 * c, 21.5 - 9 * s, 11.5 + 9 * c, 21.5 + 9 * s, 0.3)), middle)!;
    const [dx, dy] = [span.x2Mm - span.x1Mm, span.y2Mm - span.y1Mm];
    expect(Math.abs(Math.hypot(dx, dy) - 0.3)).toBeLessThanOrEqual(twoPixelsMm);
    // Square to the line within the 11.25 degrees between the directions tried.
    expect(Math.abs(dx * c + dy * s) / Math.hypot(dx, dy)).toBeLessThanOrEqual(Math.sin((11.25 * Math.PI) / 180));
  });

  it('crosses a clear gap between two solids', () => {
    const solids: Shape = (x) => x < 11.35 || x > 11.65;
    const span = spanOfPlace(cropOf(solids), middle)!;
    expect(Math.min(span.x1Mm, span.x2Mm)).toBeCloseTo(11.35, 1);
    expect(Math.max(span.x1Mm, span.x2Mm)).toBeCloseTo(11.65, 1);
  });

  it('crosses the overlap of two plates, not either of them', () => {
    const span = spanOfPlace(
      cropOf(
        (x) => x < 11.6,
        (x) => x > 11.3,
      ),
      middle,
    )!;
    expect(Math.min(span.x1Mm, span.x2Mm)).toBeCloseTo(11.3, 1);
    expect(Math.max(span.x1Mm, span.x2Mm)).toBeCloseTo(11.6, 1);
  });

  it('is not made up where nothing of that width is seen', () => {
    expect(spanOfPlace(cropOf(stroke(10, 21.5, 13, 21.5, 1.2)), { ...middle, value: 0.3 })).toBeNull();
    expect(
      spanOfPlace(
        cropOf(() => true),
        middle,
      ),
    ).toBeNull();
    expect(
      spanOfPlace(
        cropOf(() => false),
        { ...middle, value: 0 },
      ),
    ).toBeNull();
  });
});
