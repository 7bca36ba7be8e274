import { afterEach, expect, it } from 'vitest';
import { archivePlate } from '../../src/plateArchive/archivePlate.ts';
import { createBitPlane, setBit } from '../../src/raster/bitPlane.ts';
import { type TestReview, testReview } from './support/testReview.ts';

let review: TestReview;
afterEach(() => review.close());

const pitchMm = 0.02;
const sidePx = 1300;

it('tells the widths at a point as they were drawn, across tiles too', async () => {
  review = await testReview();
  const bits = createBitPlane(sidePx, sidePx);
  // A bar of 25 pixels over the border of two tiles, and one of 40 pixels 30 pixels to its right.
  for (let row = 0; row < sidePx; row++) {
    for (let column = 500; column < 525; column++) setBit(bits, column, row);
    for (let column = 555; column < 595; column++) setBit(bits, column, row);
  }
  const grid = { widthPx: sidePx, heightPx: sidePx, pitchXMm: pitchMm, pitchYMm: pitchMm };
  const { facts, bytes } = archivePlate({
    ...{ id: 'p1', inkId: 'i1', filmId: 'f1', grid, bits, tone: null, verified: true },
    toneHistogram: new Float64Array(256),
  });
  const { jobs, blobs } = review.store;
  const uploads = [await review.upload('bars.svg', '<svg/>')];
  await review.ask('POST', '/api/jobs', { uploads, by: 'Mila' });
  const { lease } = (await jobs.claim({ workerId: 'hand', leaseMs: 60_000 }))!;
  const plate = { ...facts, plateId: 'p1', inkId: 'i1', inkName: 'Ember', displayHex: '#000000', filmId: 'f1' };
  const list = JSON.stringify({ tileSidePx: 512, plates: [{ ...plate, file: 'p1.plate' }] });
  const artifacts = [
    { kind: 'other' as const, name: 'plates/plates.json', ...(await blobs.put(Buffer.from(list))) },
    { kind: 'other' as const, name: 'plates/p1.plate', ...(await blobs.put(bytes)) },
  ];
  await jobs.finish(lease, { verdict: 'pass', reason: null, artifacts, inkNames: ['Ember'], timings: {} });

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
