import { readFileSync } from 'node:fs';
import { inflateRawSync } from 'node:zlib';
import { afterEach, describe, expect, it } from 'vitest';
import { byteSourceOf } from '../../src/artwork/byteSource.ts';
import { comparePlates } from '../../src/plateArchive/comparePlates.ts';
import { PlateArchive } from '../../src/plateArchive/openArchive.ts';
import type { PlateFile } from '../../web/server/comparisons.ts';
import type { Comparison } from '../../web/shared/compare.ts';
import { bringChecked } from './support/checkedPlates.ts';
import { host, type TestReview, testReview } from './support/testReview.ts';

let review: TestReview;
afterEach(() => review.close());

const sidePx = 1100;
const pitchMm = 0.05;
const opened = async (plate: PlateFile | null) =>
  plate && PlateArchive.open(plate.facts, byteSourceOf(plate.file, readFileSync(plate.file)));
const compared = () =>
  testReview(null, {
    comparePlates: async ({ before, after, grid }) =>
      comparePlates({ before: await opened(before), after: await opened(after) }, grid),
  });

const within = (left: number, top: number, side: number) => (column: number, row: number) =>
  column >= left && row >= top && column < left + side && row < top + side;
const finding = (code: string, inkNames: string[], outcome = 'fail') => ({
  ...{ code, inkNames, outcome, placesTotal: 2, measured: { value: 0.2, unit: 'mm', plusMinus: 0.02 } },
});
const reportOf = (...findings: object[]) => ({
  films: [{ widthMm: 55, heightMm: 55 }],
  checks: [{ id: 'thin-line', title: 'Some lines are too thin to print', findings }],
});

/** The tiles of a group: 0 and 255, or their bytes. */
async function groupAt(path: string): Promise<(Uint8Array | number)[]> {
  const answer = await review.server.inject({ url: path, headers: { host } });
  expect(answer.statusCode).toBe(200);
  const bytes = answer.rawPayload;
  const tiles: (Uint8Array | number)[] = [];
  for (let at = 0; at < bytes.length; ) {
    const length = bytes.readUInt32LE(at);
    at += 4;
    if (length === 0 || length === 0xffffffff) tiles.push(length === 0 ? 0 : 255);
    else {
      tiles.push(inflateRawSync(bytes.subarray(at, at + length)));
      at += length;
    }
  }
  return tiles;
}

describe('two revisions beside each other', () => {
  it('tell where each ink changed and what became of each finding', async () => {
    review = await compared();
    const coral = within(100, 100, 300);
    await bringChecked(review, {
      ...{ sidePx, pitchMm, report: reportOf(finding('breaks-up', ['Coral']), finding('close-to-limit', ['Night'])) },
      inks: [
        { inkName: 'Coral', isBlack: coral },
        { inkName: 'Night', isBlack: within(600, 600, 40) },
        { inkName: 'Brook', isBlack: within(10, 10, 20) },
      ],
    });
    const moved = within(500, 510, 20);
    await bringChecked(review, {
      ...{ sidePx, pitchMm, report: reportOf(finding('breaks-up', ['CORAL']), finding('tapers-away', ['Coral'])) },
      inks: [
        { inkName: 'Night', isBlack: within(600, 600, 40) },
        { inkName: 'coral', isBlack: (column, row) => coral(column, row) || moved(column, row) },
        { inkName: 'Lagoon', isBlack: within(700, 10, 50) },
      ],
    });
    const answer = await review.ask('GET', '/api/jobs/1/compare/1/2');
    const { inks, findings, difference, after }: Comparison = answer.body;
    expect(after).toEqual({ revision: 2, filmsMm: [{ widthMm: 55, heightMm: 55 }] });
    expect(inks.map(({ inkName, kind }) => [inkName, kind])).toEqual([
      ['Night', 'same'],
      ['coral', 'changed'],
      ['Lagoon', 'added'],
      ['Brook', 'removed'],
    ]);
    expect(inks[1].places).toHaveLength(1);
    expect(inks[1].places[0].xMm).toBeCloseTo(500 * pitchMm, 9);
    expect(inks[1].places[0].yMm).toBeCloseTo(510 * pitchMm, 9);
    expect(inks[1].places[0].widthMm).toBeCloseTo(20 * pitchMm, 9);
    expect(inks[1].addedMm2).toBeCloseTo(400 * pitchMm ** 2, 9);
    expect(inks[3].goneMm2).toBeCloseTo(400 * pitchMm ** 2, 9);
    expect(findings.map(({ code, kind }) => [code, kind])).toEqual([
      ['breaks-up', 'stillThere'],
      ['tapers-away', 'new'],
      ['close-to-limit', 'fixed'],
    ]);
    expect(difference!.plates.map(({ plateId, widthPx }) => [plateId, widthPx])).toEqual([
      ['now', sidePx],
      ['gone', sidePx],
      ['added', sidePx],
    ]);
  });

  it('tell an ink that has another name from one that went and one that came', async () => {
    review = await compared();
    const art = within(100, 100, 300);
    await bringChecked(review, { sidePx, pitchMm, inks: [{ inkName: 'Coral', isBlack: art }] });
    const more = within(500, 510, 30);
    await bringChecked(review, {
      ...{ sidePx, pitchMm },
      inks: [
        { inkName: 'Lagoon', isBlack: within(700, 10, 90) },
        { inkName: 'Sunset', isBlack: (column, row) => art(column, row) || more(column, row) },
      ],
    });
    const { inks }: Comparison = (await review.ask('GET', '/api/jobs/1/compare/1/2')).body;
    expect(inks.map(({ inkName, nameBefore, kind }) => [inkName, nameBefore, kind])).toEqual([
      ['Lagoon', null, 'added'],
      ['Sunset', 'Coral', 'changed'],
    ]);
    expect(inks[1].places).toHaveLength(1);
  });

  it.each([0, 1, 2, 3])('show gone and added in the tiles of level %i', async (level) => {
    review = await compared();
    const [gone, added] = [within(30, 40, 8), within(500, 510, 24)];
    await bringChecked(review, { sidePx, pitchMm, inks: [{ inkName: 'Coral', isBlack: gone }] });
    await bringChecked(review, { sidePx, pitchMm, inks: [{ inkName: 'Coral', isBlack: added }] });
    const isSet = async (of: typeof gone, plate: number) => {
      // The middle of the shape, at this level.
      const [x, y] = of === gone ? [34 >> level, 44 >> level] : [512 >> level, 522 >> level];
      const tiles = await groupAt(`/api/jobs/1/compare/1/2/tiles/${level}/${x >> 9}/${y >> 9}`);
      const tile = tiles[plate];
      if (typeof tile === 'number') return tile === 255;
      const at = (y & 511) * 512 + (x & 511);
      return level === 0 ? ((tile[at >> 3] >> (at & 7)) & 1) === 1 : tile[at] > 0;
    };
    const seen = async (of: typeof gone) => Promise.all([0, 1, 2].map((plate) => isSet(of, plate)));
    expect(await seen(gone)).toEqual([false, true, false]);
    expect(await seen(added)).toEqual([true, false, true]);
    const beyond = await review.ask('GET', `/api/jobs/1/compare/1/2/tiles/${level}/9/9`);
    expect(beyond.status).toBe(404);
  });

  it('of one size are shown each by its own tiles, at levels that are made when asked for too', async () => {
    review = await compared();
    await bringChecked(review, { sidePx, pitchMm, inks: [{ inkName: 'Coral', isBlack: within(0, 0, 512) }] });
    await bringChecked(review, { sidePx, pitchMm, inks: [{ inkName: 'Coral', isBlack: within(600, 600, 90) }] });
    const lists = await Promise.all([1, 2].map((revision) => review.ask('GET', `/api/jobs/1/${revision}/plates`)));
    expect(lists[0].body.version).not.toBe(lists[1].body.version);
    const first = (await groupAt('/api/jobs/1/1/tiles/1/0/0'))[0] as Uint8Array;
    const second = (await groupAt('/api/jobs/1/2/tiles/1/0/0'))[0] as Uint8Array;
    expect([first[10 * 512 + 10], second[10 * 512 + 10]]).toEqual([255, 0]);
  });

  it('tell the findings where the plates of one were not kept', async () => {
    review = await compared();
    await bringChecked(review, { sidePx, pitchMm, inks: [], report: reportOf(finding('breaks-up', ['Coral'])) });
    await bringChecked(review, { sidePx, pitchMm, inks: [], report: reportOf() });
    const { body } = await review.ask('GET', '/api/jobs/1/compare/1/2');
    expect(body).toMatchObject({ inks: [], findings: [{ kind: 'fixed' }] });
    expect((await review.ask('GET', '/api/jobs/1/compare/1/7')).status).toBe(404);
  });
});
