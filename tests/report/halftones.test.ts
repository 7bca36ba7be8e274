import { expect, it } from 'vitest';
import { factsOfHalftone, leadOfHalftones, partKey, shownHalftones } from '../../src/report/halftoneFacts.ts';
import { paintReport } from '../../src/report/paintedReport.ts';
import { renderHtml } from '../../src/report/renderHtml.ts';
import { tintPicturesOf } from '../../src/report/tintPictures.ts';
import { toneChart } from '../../src/report/toneChart.ts';
import { halftoneRegionOf } from '../support/askFixture.ts';
import { inspectionFixture } from '../support/inspectionFixture.ts';

const { report: plain, pictures } = inspectionFixture();
const part = halftoneRegionOf();
const beats = {
  region: 0,
  meshRatio: 4.343,
  heldTonesPercent: [9, 88] as const,
  beats: [
    {
      rulingOrder: [1, 0] as const,
      meshOrder: [0, 4] as const,
      periodMm: 3.214,
      directionDeg: 30,
      modulationPercent: 12.34,
      tonePercent: 40,
    },
  ],
};
const { kind, rulingLpi, angleDeg, dotShape, toneMinPercent, toneMaxPercent, windows } = part;
const most = { kind, rulingLpi, angleDeg, dotShape, toneMinPercent, toneMaxPercent, windows };
const [first, ...others] = plain.plates.map((plate) => ({ ...plate, halftone: null, meshBeats: [] }));
const halftone = { ...most, regions: Array.from({ length: 6 }, () => part), regionsTotal: 6 };
const headroom = { region: 0, darkestPercent: 80, closesUm: 113.6, holdsUm: 24.4, plusMinusUm: 2.6, tonePercent: 8 };
const report = { ...plain, plates: [{ ...first, halftone, meshBeats: [beats], gainHeadroom: [headroom] }, ...others] };

it('a halftone is told with all that was measured of it', () => {
  const shown = shownHalftones(report);
  expect(shown.length).toBe(4);
  expect(leadOfHalftones(report)).toMatch(/^6 halftoned parts .* 2 smaller ones not\.$/);
  expect(Object.fromEntries(factsOfHalftone(shown[0], ' ').map(({ term, value }) => [term, value]))).toEqual({
    Kind: 'dots on a lattice',
    Ruling: '45.00 ± 0.02 lpi, 17.7/cm',
    Angle: '22.50° ± 0.02°',
    Shape: 'round',
    Tones: '10.0 to 80.0 % ± 0.5',
    Area: '80.0 cm²',
    Cell: '13.3 pixels, 178 tones',
    'Read in': '12 of 12 windows',
    Mesh: '4.34 threads to a line; beats every 3.21 mm, at most 12.3 % at 40 %',
    'Dot gain': 'the holes of 80.0 % close when every edge grows by 114 ± 3 µm; the mesh holds them up to 24 ± 3 µm',
  });
  expect(factsOfHalftone(shown[1], ' ').map(({ term }) => term)).not.toContain('Mesh');
  expect(shown[0].part.softEdgePercent).toBeNull();
  const grey = { ...shown[0], part: { ...shown[0].part, softEdgePercent: 12.34 } };
  expect(factsOfHalftone(grey, ' ')).toContainEqual({ term: 'Soft edges', value: '12.3 % of the dots’ edges' });
});

it('what dots may gain is told without a mesh too, and when there is no room', () => {
  const [shown] = shownHalftones(report);
  const saidOf = (more: Partial<typeof headroom> | { holdsUm: null; tonePercent: null }) =>
    factsOfHalftone({ ...shown, headroom: { ...headroom, ...more } }, ' ').find(({ term }) => term === 'Dot gain')!
      .value;
  expect(saidOf({ holdsUm: null, tonePercent: null })).toBe(
    'the holes of 80.0 % close when every edge grows by 114 ± 3 µm',
  );
  expect(saidOf({ holdsUm: -2, tonePercent: -0.5 })).toBe(
    'the holes of 80.0 % close when every edge grows by 114 ± 3 µm; the mesh only just holds them, if at all',
  );
  expect(saidOf({ holdsUm: -4, tonePercent: -1 })).toBe(
    'no room: the mesh does not hold the holes of 80.0 %; they close at 114 ± 3 µm an edge',
  );
});

it('its tones are drawn where they lie, those the mesh does not hold hatched', async () => {
  const tintMap = { xMm: 100, yMm: 80, pitchMm: 2, rows: ['--050540', '05050540', '40404095', '4040----'] };
  const regions = [{ ...part, tintMap }];
  const one = {
    ...report,
    plates: [{ ...report.plates[0], halftone: { ...halftone, regions, regionsTotal: 1 } }, ...others],
  };
  const picture = (await tintPicturesOf(one)).get(partKey(first.id, 0))!;
  expect(picture.label).toBe(
    'Tint map of White base, 100 × 80 mm; 5 to 95 %; too light for the mesh 38 %, too dark 8 % of it',
  );
  // Drawn square: 42 mm of 4 squares, 3 light ones in the first two rows and a dark one at the end of the third.
  const side = picture.width / 4;
  expect(picture.height).toBe(picture.width);
  const strokes = picture.overlay[0].kind === 'path' ? picture.overlay[0].d.split('M').slice(1) : [];
  const ends = strokes.map((stroke) => [...stroke.matchAll(/[-\d.]+/g)].map(Number));
  expect(ends.length).toBeGreaterThan(6);
  const squares = new Set(
    ends.map(([x1, y1, x2, y2]) => `${Math.floor((x1 + x2) / 2 / side)} ${Math.floor((y1 + y2) / 2 / side)}`),
  );
  for (const square of squares) expect(['1 0', '2 0', '0 1', '1 1', '2 1', '3 2']).toContain(square);
  expect(squares.has('3 2')).toBe(true);
  const isRising = ([x1, y1, x2, y2]: number[]) => (y2 - y1) * (x2 - x1) < 0;
  for (const stroke of ends) expect(isRising(stroke)).toBe(Math.max(stroke[1], stroke[3]) < 2.01 * side);
  const page = renderHtml(await paintReport({ report: one, pictures }));
  expect(page).toContain('Tones over 100');
  expect(
    (await tintPicturesOf({ ...one, plates: [{ ...one.plates[0], meshBeats: [] }] })).get(partKey(first.id, 0))!
      .overlay,
  ).toEqual([]);
  expect((await tintPicturesOf(report)).size).toBe(0);
});

it('its tones are drawn as columns, and what the mesh does not hold is hatched', () => {
  const areaByToneMm2 = new Array<number>(101).fill(0);
  areaByToneMm2[10] = 50;
  areaByToneMm2[60] = 100;
  const drawing = toneChart({ areaByToneMm2, heldTonesPercent: [9, 88] });
  const columns = drawing.shapes.find((shape) => shape.kind === 'path' && shape.fill === 'text');
  // From 10 to 254 units for 0 to 100 %; the higher column is twice as high.
  const boxes = columns?.kind === 'path' ? [...columns.d.matchAll(/[-\d.]+/g)].map(Number) : [];
  expect(boxes[0]).toBeCloseTo(10 + 24.4 - 1.22 + 0.2, 1);
  expect(drawing.label).toBe(
    'Area by tone: 0 to 25 %: 33 %, 25 to 50 %: 0 %, 50 to 75 %: 67 %, 75 to 100 %: 0 %; the mesh holds 9 to 88 %',
  );
  const ticks = toneChart({ areaByToneMm2, heldTonesPercent: null });
  expect(ticks.shapes.length).toBeLessThan(drawing.shapes.length);
});

it('pages show halftones where there are any', async () => {
  const shown = renderHtml(await paintReport({ report, pictures }));
  expect(shown).toContain('<h2 id="halftones">Halftones</h2>');
  expect(shown.split('Area by tone: ').length).toBe(5);
  const image = { widthPx: 11, heightPx: 11, tones: new Uint8Array(121), pitchXMm: 1, pitchYMm: 1 };
  const spectra = [{ plateId: first.id, region: 1, image, reachLpi: 117 }];
  const ringed = renderHtml(await paintReport({ report, pictures: { ...pictures, spectra } }));
  expect(ringed.split('Spectrum to 117 lpi, 45.0 lpi at 22.5° ringed').length).toBe(2);
  expect(shown).not.toContain('Spectrum');
  const none = renderHtml(await paintReport({ report: { ...report, plates: [first, ...others] }, pictures }));
  expect(none).not.toContain('id="halftones"');
});
