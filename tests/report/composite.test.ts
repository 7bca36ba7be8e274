import sharp from 'sharp';
import { describe, expect, it } from 'vitest';
import { compositeOnShirt, slipOfPlate } from '../../src/report/composite.ts';
import { type Picture, paintLayers } from '../../src/report/paintLayers.ts';
import type { ToneImage } from '../../src/report/pictures.ts';
import { pngOf } from '../../src/report/png.ts';
import { inspectionFixture } from '../support/inspectionFixture.ts';

async function colourAt({ pixels }: Picture, xShare: number, yShare: number): Promise<string> {
  const { data, info } = await sharp(pngOf(pixels)).raw().toBuffer({ resolveWithObject: true });
  const at = (Math.floor(yShare * info.height) * info.width + Math.floor(xShare * info.width)) * info.channels;
  return `#${[0, 1, 2].map((channel) => data[at + channel].toString(16).padStart(2, '0')).join('')}`;
}

describe('the composite on the shirt', () => {
  it('shows each ink where it is uppermost and the shirt where none prints', async () => {
    const { report, pictures } = inspectionFixture();
    const picture = (await compositeOnShirt({ report, pictures }))!;
    expect(await colourAt(picture, 0.02, 0.02)).toBe('#1b2a41');
    // A place on the sun (90, 130 of 300 × 352 mm) is Coral over the white base.
    expect(await colourAt(picture, 90 / 300, 130 / 352)).toBe('#f2694e');
    // The sea at 150, 225 is Lagoon, the band at 150, 248 is Night over it, the sail at 130, 160 is the base alone.
    expect(await colourAt(picture, 150 / 300, 225 / 352)).toBe('#1f8a9e');
    expect(await colourAt(picture, 150 / 300, 248 / 352)).toBe('#131c33');
    expect(await colourAt(picture, 130 / 300, 160 / 352)).toBe('#f6f4ee');
  });

  it('follows the order of the plan', async () => {
    const { report, pictures } = inspectionFixture();
    const turned = { ...report, plan: { ...report.plan, order: [...report.plan.order].reverse() } };
    const picture = (await compositeOnShirt({ report: turned, pictures }))!;
    expect(await colourAt(picture, 90 / 300, 130 / 352)).toBe('#f6f4ee');
  });

  it('mixes half tones by their share and makes an overlap visible when seen through', async () => {
    const flat = (tone: number): ToneImage => ({
      widthPx: 2,
      heightPx: 2,
      tones: new Uint8Array(4).fill(tone),
      pitchXMm: 1,
      pitchYMm: 1,
    });
    const layers = [{ image: flat(51), colour: [255, 0, 0] as const }];
    const half = await paintLayers({ layers, ground: [0, 0, 0], sidePx: 100, inks: 'opaque' });
    // 51 of 255 is a fifth: 255 / 5 = 51.
    expect(await colourAt(half, 0.5, 0.5)).toBe('#330000');
    const two = [
      { image: flat(255), colour: [200, 100, 0] as const },
      { image: flat(255), colour: [0, 100, 200] as const },
    ];
    const onWhite = { layers: two, ground: [255, 255, 255] as const, sidePx: 100 };
    const opaque = await paintLayers({ ...onWhite, inks: 'opaque' });
    const seen = await paintLayers({ ...onWhite, inks: 'seeThrough' });
    expect(await colourAt(opaque, 0.5, 0.5)).toBe('#0064c8');
    expect(await colourAt(seen, 0.5, 0.5)).not.toBe('#0064c8');
  });

  it('draws a film as black on the light table, at the proportion of its pitches', async () => {
    const image: ToneImage = { widthPx: 40, heightPx: 10, tones: new Uint8Array(400), pitchXMm: 0.1, pitchYMm: 0.2 };
    image.tones.fill(255, 0, 200);
    const { report } = inspectionFixture();
    const slip = (await slipOfPlate({ report, pictures: { plates: new Map([['p1', image]]), crops: [] } }, 'p1'))!;
    expect(slip.pixels.widthPx / slip.pixels.heightPx).toBeCloseTo(2, 5);
    expect(await colourAt(slip, 0.5, 0.25)).toBe('#14161a');
    expect(await colourAt(slip, 0.5, 0.9)).toBe('#fafaf4');
  });

  it('is null when there are no plates', async () => {
    const { report } = inspectionFixture();
    expect(await compositeOnShirt({ report, pictures: { plates: new Map(), crops: [] } })).toBeNull();
  });
});
