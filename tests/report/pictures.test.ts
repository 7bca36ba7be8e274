import sharp from 'sharp';
import { describe, expect, it } from 'vitest';
import { cropPicturesOf, unitsPerMm } from '../../src/report/cropPicture.ts';
import { digestOf } from '../../src/report/digest.ts';
import type { Entry } from '../../src/report/entry.ts';
import { placesMapOf } from '../../src/report/placesMap.ts';
import { pngOf } from '../../src/report/png.ts';
import type { Shape } from '../../src/report/shapes.ts';
import { inspectionFixture } from '../support/inspectionFixture.ts';

const { report, pictures } = inspectionFixture();
const entries = [...digestOf(report).stops, ...digestOf(report).lookFirst].flatMap((group) => group.entries);
const entryOf = (id: string): Entry => entries.find((entry) => entry.check.id === id)!;
type PathShape = Extract<Shape, { kind: 'path' }>;
const paths = (shapes: readonly Shape[]) => shapes.filter((shape): shape is PathShape => shape.kind === 'path');

describe('an enlarged place', () => {
  it('is drawn at the scale it states', async () => {
    const [crop] = await cropPicturesOf({ report, pictures }, entryOf('thin-line'));
    expect(crop.enlargement).toBe('15×');
    // 3 mm of film at 15 times is 45 mm; 42 mm of that are shown.
    expect(crop.imageWidth / unitsPerMm).toBeCloseTo(45, 6);
    expect(crop.width / unitsPerMm).toBeCloseTo(42, 6);
    expect(crop.imageX / unitsPerMm).toBeCloseTo(-1.5, 6);
    const bar = paths(crop.overlay).find((shape) => shape.strokeWidth === 1.2 && shape.fill === 'none')!;
    const [from, to] = [...bar.d.matchAll(/[ML](\S+) /g)].map((match) => Number(match[1]));
    expect(crop.overlay.some((shape) => shape.kind === 'text' && shape.text === '1\u00a0mm')).toBe(true);
    expect((to - from) / unitsPerMm).toBeCloseTo(15, 2);
  });

  it('shows the threads of the mesh at true size', async () => {
    const [crop] = await cropPicturesOf({ report, pictures }, entryOf('thin-line'));
    const threads = paths(crop.overlay).find((shape) => shape.opacity !== undefined && shape.fill === 'none')!;
    // 43 threads a centimetre: one every 10 / 43 mm, 80 µm thick, 15 times as large.
    const lines = [...threads.d.matchAll(/M(\S+) 0L\1 /g)].map((match) => Number(match[1]));
    expect((lines[1] - lines[0]) / unitsPerMm).toBeCloseTo((15 * 10) / 43, 2);
    expect(threads.strokeWidth / unitsPerMm).toBeCloseTo(15 * 0.08, 6);
  });

  it('marks the measured span with its figure where a width was measured', async () => {
    for (const [id, text] of [
      ['thin-line', '0.21\u00a0mm'],
      ['short-trap', '0.08\u00a0mm'],
    ]) {
      const crops = await cropPicturesOf({ report, pictures }, entryOf(id));
      expect(crops).toHaveLength(3);
      for (const crop of crops) {
        expect(crop.overlay.some((shape) => shape.kind === 'text' && shape.text === text)).toBe(true);
      }
    }
  });

  it('draws no dimension line across a length or a share', async () => {
    const entry = entryOf('thin-line');
    const check = { ...entry.check, id: 'butt-joint' };
    const members = entry.members.map((member) => ({ ...member, check }));
    const sources = entry.sources.map((source) => ({ ...source, member: members[0] }));
    const turned = { ...entry, check, members, sources };
    const crops = { ...pictures, crops: pictures.crops.map((crop) => ({ ...crop, checkId: 'butt-joint' })) };
    const [crop] = await cropPicturesOf({ report, pictures: crops }, turned);
    expect(crop.overlay.filter((shape) => shape.kind === 'text')).toHaveLength(1);
  });

  it('is in ink colours over the shirt, or over the light table when ink and shirt are alike', async () => {
    const corner = async (garmentHex: string) => {
      const other = { ...report, ticket: { ...report.ticket, garmentHex } };
      const [crop] = await cropPicturesOf({ report: other, pictures }, entryOf('thin-line'));
      const { data } = await sharp(pngOf(crop.picture.pixels)).raw().toBuffer({ resolveWithObject: true });
      return [data[0], data[1], data[2]];
    };
    expect(await corner('#1b2a41')).toEqual([0x1b, 0x2a, 0x41]);
    // Coral on a coral shirt.
    expect(await corner('#f26a50')).toEqual([250, 250, 244]);
  });
});

describe('the map of places', () => {
  it('has every place where it lies on the film, those shown enlarged by number', async () => {
    const entry = entryOf('thin-line');
    const map = (await placesMapOf({ report, pictures }, entry, [0, 1, 2], new Map()))!;
    expect(map.width / map.height).toBeCloseTo(300 / 352, 6);
    const numbers = map.overlay.filter((shape) => shape.kind === 'text').map((shape) => shape.text);
    expect(numbers).toEqual(['1', '2', '3']);
    const first = entry.finding!.places[0];
    const label = map.overlay.find((shape) => shape.kind === 'text')!;
    expect((label as { x: number }).x / map.width).toBeCloseTo((first.xMm + first.widthMm / 2) / 300, 6);
    expect(map.caption).toBe('14 more places; the worst 8 are marked');
  });

  it('is left out where there is no place', async () => {
    expect(await placesMapOf({ report, pictures }, entryOf('extra-ink'), [], new Map())).toBeNull();
  });
});
