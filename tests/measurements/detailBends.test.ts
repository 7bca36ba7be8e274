import { describe, expect, it } from 'vitest';
import { measureDetail } from '../../src/measurements/measureDetail.ts';
import { pitchMmFromDpi } from '../../src/units/lengths.ts';
import { drawShapes, plateOf, reversed, ring } from '../support/analyticShapes.ts';

/** Rings have one width all round, however tight they bend; a square section of it is the truth. */
describe('widths of what is bent', () => {
  const rings = [
    { middleMm: 1, widthMm: 0.3 },
    { middleMm: 2, widthMm: 0.54 },
    { middleMm: 4, widthMm: 0.54 },
    { middleMm: 6, widthMm: 0.8 },
  ];
  it.each([600, 1200, 2400])('at %i dpi: within half a pixel of rings of 1 to 6 mm, black or clear', (dpi) => {
    const pitchMm = pitchMmFromDpi(dpi);
    for (const { middleMm, widthMm } of rings) {
      const sidePx = Math.ceil((middleMm + widthMm + 2.4) / pitchMm);
      const bits = drawShapes(sidePx, sidePx, [
        ring(sidePx / 2 + 0.3, sidePx / 2 - 0.2, middleMm / pitchMm, widthMm / pitchMm),
      ]);
      for (const inverted of [false, true]) {
        const plate = plateOf(inverted ? reversed(bits) : bits, dpi);
        const { lines, gaps } = measureDetail(plate, { searchToMm: 0.9, refineBelowMm: 0.9 });
        const places = inverted ? gaps : lines;
        const what = `${inverted ? 'clear' : 'black'} ring of ${middleMm} mm, ${widthMm} mm wide`;
        expect(places.length, what).toBeGreaterThan(0);
        const place = places.reduce((longest, one) => (one.lengthMm > longest.lengthMm ? one : longest));
        expect(Math.abs(place.minWidthMm - widthMm) / pitchMm, what).toBeLessThan(0.5);
        expect(Math.abs(place.medianWidthMm - widthMm) / pitchMm, `${what}, its median`).toBeLessThan(1);
      }
    }
  });
});
