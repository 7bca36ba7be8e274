import { afterEach, expect, it } from 'vitest';
import { bringChecked } from './support/checkedPlates.ts';
import { type TestReview, testReview } from './support/testReview.ts';

let review: TestReview;
afterEach(() => review.close());

const pitchMm = 0.02;
const sidePx = 1300;

it('tells the widths at a point as they were drawn, across tiles too', async () => {
  review = await testReview();
  // A bar of 25 pixels over the border of two tiles, and one of 40 pixels 30 pixels to its right.
  const isBlack = (column: number) => (column >= 500 && column < 525) || (column >= 555 && column < 595);
  await bringChecked(review, { sidePx, pitchMm, inks: [{ inkName: 'Ember', isBlack }] });

  const at = async (column: number, row: number) => {
    const place = `plate=p1&xMm=${(column + 0.5) * pitchMm}&yMm=${(row + 0.5) * pitchMm}`;
    return (await review.ask('GET', `/api/jobs/1/1/widths?${place}`)).body;
  };
  const inBar = await at(511, 515);
  expect(inBar.at).toBe('black');
  expect(inBar.black.widthMm).toBeCloseTo(25 * pitchMm, 3);
  // The middle of the bar; a pixel centre is at most half a pixel off it.
  expect(Math.abs(inBar.black.xMm - 512.5 * pitchMm)).toBeLessThanOrEqual(pitchMm / 2 + 1e-9);
  const between = await at(540, 1023);
  expect(between.at).toBe('clear');
  expect(between.clear.widthMm).toBeCloseTo(30 * pitchMm, 3);
  expect((await review.ask('GET', '/api/jobs/1/1/widths?plate=p9&xMm=1&yMm=1')).status).toBe(404);
  expect((await review.ask('GET', '/api/jobs/1/1/widths?plate=p1&xMm=x&yMm=1')).status).toBe(400);
});
