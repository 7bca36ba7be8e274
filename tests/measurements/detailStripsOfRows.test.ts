import { expect, it } from 'vitest';
import { findRidges } from '../../src/measurements/detailRidges.ts';
import { disc, drawShapes, ring, type Shape, star, strip, wedge } from '../support/analyticShapes.ts';
import { seededRandom } from '../support/seededRandom.ts';

it('the middle lines do not depend on how many rows are worked on at once', () => {
  const random = seededRandom(61);
  const [widthPx, heightPx] = [700, 1100];
  const shapes: Shape[] = [];
  for (let k = 0; k < 60; k++) {
    const [x, y, turn] = [widthPx * random(), heightPx * random(), 180 * random()];
    shapes.push(strip(x, y, 30 + 600 * random() ** 2, 1 + 30 * random() ** 2, turn));
    shapes.push(
      [
        disc(x, y, 60 * random()),
        ring(x, y, 200 * random(), 1 + 12 * random()),
        star(y, x, 7, 60, 25),
        wedge(x, y, 300, 20, 0, turn),
      ][k % 4],
    );
  }
  const plane = drawShapes(widthPx, heightPx, shapes);
  for (const inverted of [false, true]) {
    for (const searchPx of [9, 24]) {
      const search = { inverted, leftOut: null, searchPx, rowPitch: 1 };
      const whole = findRidges(plane, { ...search, stripRows: 5000 });
      expect(whole.fine.count + whole.broad.count).toBeGreaterThan(50);
      for (const stripRows of [64, 130, 512]) {
        const { fine, broad } = findRidges(plane, { ...search, stripRows });
        expect(fine).toEqual(whole.fine);
        expect(broad).toEqual(whole.broad);
      }
    }
  }
});
