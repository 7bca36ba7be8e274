import { describe, expect, it } from 'vitest';
import { scaleOf } from '../../../src/readers/bitmap/scaleOf.ts';

const square = (ppi: number) => ({ ppiX: ppi, ppiY: ppi });

describe('the size of a bitmap film', () => {
  it('takes a resolution that makes sense', () => {
    expect(scaleOf(square(720), 7200, 7200, {})).toEqual({
      pitchXMm: 25.4 / 720,
      pitchYMm: 25.4 / 720,
      scaleKnown: true,
      notes: [],
    });
  });

  it('keeps unequal pitches and says so', () => {
    const scale = scaleOf({ ppiX: 204, ppiY: 98 }, 1728, 1100, {});
    expect(scale.scaleKnown).toBe(true);
    expect([scale.pitchXMm, scale.pitchYMm]).toEqual([25.4 / 204, 25.4 / 98]);
    expect(scale.notes).toEqual([expect.objectContaining({ code: 'unequal-resolution', affects: 'nothing' })]);
  });

  it.each([
    ['none', null, 3000],
    ['zero', square(0), 3000],
    ['19 ppi', square(19), 500],
    ['12,001 ppi', square(12_001), 3000],
    ['not a number', square(Number.NaN), 3000],
    // 30,000 pixels at 72 ppi would be a film of more than 10 m.
    ['a film of ten metres', square(72), 30_000],
  ])('assumes 300 ppi where the file says %s, and asks for --dpi', (_, stated, pixels) => {
    const scale = scaleOf(stated, pixels, pixels, {});
    expect(scale.scaleKnown).toBe(false);
    expect(scale.pitchXMm).toBe(25.4 / 300);
    expect(scale.notes).toEqual([
      expect.objectContaining({
        code: 'resolution-missing',
        affects: 'size',
        message: expect.stringContaining('--dpi'),
      }),
    ]);
  });

  it('takes the resolution given only where the file has none', () => {
    const given = scaleOf(null, 100, 100, { dpi: 1440 });
    expect(given).toMatchObject({ scaleKnown: true, pitchXMm: 25.4 / 1440 });
    expect(given.notes.map(({ code }) => code)).toEqual(['resolution-given']);
    expect(scaleOf(square(720), 100, 100, { dpi: 1440 }).pitchXMm).toBe(25.4 / 720);
  });
});
