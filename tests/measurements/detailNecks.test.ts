import { describe, expect, it } from 'vitest';
import { measureDetail } from '../../src/measurements/measureDetail.ts';
import { box, drawShapes, plateOf } from '../support/analyticShapes.ts';

describe('necks', () => {
  it.each([600, 1200, 2400])('the way between a short side and a long one is within its error bar at %d dpi', (dpi) => {
    const px = dpi / 25.4;
    const boxMm = (left: number, top: number, right: number, bottom: number) =>
      box(left * px, top * px, right * px, bottom * px);
    const plane = drawShapes(Math.round(8 * px), Math.round(6 * px), [boxMm(1, 2.4, 3.3, 3.1), boxMm(4, 0.8, 7, 5.2)]);
    const { gaps } = measureDetail(plateOf(plane, dpi), { searchToMm: 1, refineBelowMm: 0.9 });
    const neck = gaps.find(({ xMm, yMm }) => Math.abs(xMm - 3.65) < 0.35 && Math.abs(yMm - 2.75) < 0.6);
    expect(neck).toBeDefined();
    expect(Math.abs(neck!.minWidthMm - 0.7)).toBeLessThanOrEqual(neck!.plusMinusMm);
  });
});
