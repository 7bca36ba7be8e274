import sharp from 'sharp';
import { describe, expect, it } from 'vitest';
import { byteSourceOf } from '../../src/artwork/byteSource.ts';
import { artPartPainter } from '../../src/inspect/artPart.ts';
import { archivePlate } from '../../src/plateArchive/archivePlate.ts';
import { PlateArchive } from '../../src/plateArchive/openArchive.ts';
import { createBitPlane, setBit } from '../../src/raster/bitPlane.ts';
import type { ReportJson } from '../../src/report/reportJson.ts';

const pitchMm = 0.05;
const sidePx = 1_000;

/** A film of 50 mm with bars of one pixel, and one pixel between them, from 20 mm across on. */
const { facts, bytes } = (() => {
  const bits = createBitPlane(sidePx, sidePx);
  for (let row = 0; row < sidePx; row++) for (let column = 400; column < sidePx; column += 2) setBit(bits, column, row);
  const grid = { widthPx: sidePx, heightPx: sidePx, pitchXMm: pitchMm, pitchYMm: pitchMm };
  return archivePlate({
    ...{ id: 'p1', inkId: 'i1', filmId: 'f1', grid, tone: null, verified: true },
    ...{ bits, toneHistogram: new Float64Array(256) },
  });
})();
const report = {
  plates: [{ id: 'p1', inkId: 'i1', filmId: 'f1' }],
  inks: [{ id: 'i1', displayHex: '#c02010' }],
  plan: { order: [{ what: 'ink', inkId: 'i1' }] },
  ticket: { garmentHex: '#ffffff' },
} as unknown as ReportJson;
const open = () => PlateArchive.open(facts, byteSourceOf('p1.plate', bytes));

describe('a part of the art painted from its plates', () => {
  it('shows every pixel of the film where there is room for it, in the colours of ink and garment', async () => {
    const paint = artPartPainter(report, new Set(['p1']), open)!;
    // From 18 to 22 mm: 40 pixels of bare garment, then 40 of bars.
    const png = await paint({ xMm: 18, yMm: 5, widthMm: 4, heightMm: 2 }, 640);
    const { data, info } = await sharp(png).removeAlpha().raw().toBuffer({ resolveWithObject: true });
    expect([info.width, info.height]).toEqual([80, 40]);
    const colourAt = (column: number) => [...data.subarray(3 * column, 3 * column + 3)];
    const [ink, bare] = [
      [0xc0, 0x20, 0x10],
      [255, 255, 255],
    ];
    expect(Array.from({ length: 40 }, (_, column) => colourAt(column))).toEqual(Array(40).fill(bare));
    for (let column = 40; column < 80; column++) expect(colourAt(column)).toEqual(column % 2 === 0 ? ink : bare);
  });

  it('is not painted where a plate was not kept', () => {
    expect(artPartPainter(report, new Set(), open)).toBeNull();
  });
});
