import { expect, it } from 'vitest';
import { factsOfHalftone, leadOfHalftones, shownHalftones } from '../../src/report/halftoneFacts.ts';
import { paintReport } from '../../src/report/paintedReport.ts';
import { renderHtml } from '../../src/report/renderHtml.ts';
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
const report = { ...plain, plates: [{ ...first, halftone, meshBeats: [beats] }, ...others] };

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
  });
  expect(factsOfHalftone(shown[1], ' ').map(({ term }) => term)).not.toContain('Mesh');
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
