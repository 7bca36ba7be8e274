import { describe, expect, it } from 'vitest';
import { narrowReading } from '../../src/checks/narrowDetail.ts';
import { measureDetail } from '../../src/measurements/measureDetail.ts';
import { withTones } from '../../src/measurements/softDetail.ts';
import type { Plate } from '../../src/plates/plate.ts';
import { areaOver } from '../../src/raster/toneArea.ts';
import { pitchMmFromDpi } from '../../src/units/lengths.ts';
import { askOf } from '../support/askFixture.ts';
import { erf, platePainted } from '../support/tonePlates.ts';

const dpi = 600;
const pitchMm = pitchMmFromDpi(dpi);
const sidePx = 160;
const search = { searchToMm: 1.2, refineBelowMm: 0.9 };

/** A strip of a width in pixels blurred by a Gaussian: its tone at a distance from its middle line, 0 to 1. */
function blurredStrip(widthPx: number, sigmaPx: number): (awayPx: number) => number {
  const scale = Math.SQRT2 * sigmaPx;
  return (away) => (erf((away + widthPx / 2) / scale) - erf((away - widthPx / 2) / scale)) / 2;
}

/** Where a falling function of the distance passes a half, twice. */
function widthAtHalf(toneAt: (awayPx: number) => number): number {
  let [inside, outside] = [0, 100];
  for (let k = 0; k < 60; k++) {
    const middle = (inside + outside) / 2;
    if (toneAt(middle) > 0.5) inside = middle;
    else outside = middle;
  }
  return 2 * inside;
}

function plateOfStrip(
  toneAt: (awayPx: number) => number,
  angleDeg: number,
  shiftPx: number,
  inverted: boolean,
  samples: number,
): Plate {
  const [c, s] = [Math.cos((angleDeg * Math.PI) / 180), -Math.sin((angleDeg * Math.PI) / 180)];
  return platePainted(sidePx, sidePx, dpi, (column, row) => {
    let sum = 0;
    for (let k = 0; k < samples * samples; k++) {
      const x = column + ((k % samples) + 0.5) / samples - sidePx / 2 - shiftPx;
      const y = row + (Math.floor(k / samples) + 0.5) / samples - sidePx / 2 - shiftPx;
      if (Math.abs(x * c + y * s) < 55) sum += toneAt(y * c - x * s);
    }
    const tone = Math.round((255 * sum) / samples ** 2);
    return inverted ? 255 - tone : tone;
  });
}

function measured(plate: Plate, inverted: boolean) {
  const detail = withTones(plate, measureDetail(plate, search));
  return inverted ? detail.gaps : detail.lines;
}

describe('widths of soft strips at half tone', () => {
  const angles = [0, 90, 45, 17, 63];
  const rows = [0.6, 1, 1.5, 2.5].flatMap((sigmaPx) =>
    [3.1, 5.4, 8.7, 14.2].filter((widthPx) => widthPx > 2 * sigmaPx).map((widthPx) => ({ sigmaPx, widthPx })),
  );
  it.each(rows)(
    '$widthPx px blurred by $sigmaPx px: within a tenth of a pixel, and within the bar',
    ({ sigmaPx, widthPx }) => {
      const toneAt = blurredStrip(widthPx, sigmaPx);
      const truthPx = widthAtHalf(toneAt);
      // 10 to 90 % of a Gaussian's integral lie 2.563 standard deviations apart.
      const softPx = 2.563 * sigmaPx;
      for (const inverted of [false, true]) {
        for (const [k, angleDeg] of angles.entries()) {
          const places = measured(plateOfStrip(toneAt, angleDeg, 0.3 * k, inverted, 1), inverted);
          expect(places).toHaveLength(1);
          const [{ minWidthMm, plusMinusMm, softOverMm }] = places;
          const what = `${inverted ? 'gap' : 'line'} at ${angleDeg}°`;
          expect(Math.abs(minWidthMm / pitchMm - truthPx), what).toBeLessThan(0.1);
          expect(Math.abs(minWidthMm / pitchMm - truthPx), `${what}, within its bar`).toBeLessThanOrEqual(
            plusMinusMm / pitchMm,
          );
          if (toneAt(0) < 0.999) continue;
          // 40 and 60 % lie 0.507 standard deviations apart, on both edges.
          expect(plusMinusMm / pitchMm, `${what}, its bar grows with softness`).toBeGreaterThan(0.45 * sigmaPx);
          expect(plusMinusMm / pitchMm, `${what}, its bar`).toBeLessThan(0.25 + 0.6 * sigmaPx);
          if (softPx > 1.8) expect(softOverMm! / pitchMm, `${what}, how soft`).toBeCloseTo(softPx, 0);
        }
      }
    },
  );
});

describe('smoothed edges of sharp art', () => {
  it.each([3, 4.4, 5.4, 8.7, 14.2])('%f px: the tones add up to the width', (widthPx) => {
    for (const angleDeg of [0, 90, 45, 17, 63]) {
      for (const shiftPx of [0, 0.3, 0.6]) {
        const plate = plateOfStrip((away) => (Math.abs(away) < widthPx / 2 ? 1 : 0), angleDeg, shiftPx, false, 12);
        const [{ minWidthMm, plusMinusMm, softOverMm }] = measured(plate, false);
        expect(Math.abs(minWidthMm / pitchMm - widthPx), `${angleDeg}° ${shiftPx}`).toBeLessThan(0.1);
        expect(plusMinusMm / pitchMm).toBeLessThan(0.5);
        expect(softOverMm).toBeUndefined();
      }
    }
  });
});

describe('soft spots', () => {
  const discPlate = (diameterPx: number, sigmaPx: number, inverted: boolean): Plate =>
    platePainted(120, 120, dpi, (column, row) => {
      // The tone of a disc falls with the way to its rim as that of an edge does.
      const away = Math.hypot(column + 0.5 - 60.3, row + 0.5 - 59.6) - diameterPx / 2;
      const tone = Math.round((255 * (1 - erf(away / (Math.SQRT2 * sigmaPx)))) / 2);
      return inverted ? 255 - tone : tone;
    });

  it.each([6, 9.3, 14.8])('a disc of %f px at half tone, black or clear', (diameterPx) => {
    for (const inverted of [false, true]) {
      for (const sigmaPx of [0.6, 1]) {
        const plate = discPlate(diameterPx, sigmaPx, inverted);
        const detail = withTones(plate, measureDetail(plate, search));
        const spots = inverted ? detail.islands : detail.dots;
        expect(spots).toHaveLength(1);
        expect(Math.abs(spots[0].equivalentDiameterMm / pitchMm - diameterPx)).toBeLessThan(0.1);
        expect(spots[0].plusMinusMm / pitchMm).toBeGreaterThan(0.45 * sigmaPx);
        expect(inverted ? detail.minIslandMm : detail.minDotMm).toBe(spots[0].equivalentDiameterMm);
      }
    }
  });

  it('leaves hard pixels as they were measured, on a plate with tones elsewhere too', () => {
    const plate = platePainted(200, 160, dpi, (column, row) => {
      if (column > 150) return 90;
      return (row >= 40 && row < 46 && column > 20 && column < 120) || Math.hypot(column - 60, row - 100) < 5 ? 255 : 0;
    });
    const hard = measureDetail(plate, search);
    expect([hard.lines.length, hard.dots.length]).toEqual([1, 1]);
    expect(withTones(plate, hard)).toEqual(hard);
  });

  it('two spots too near each other keep their pixels’ size', () => {
    const plate = platePainted(120, 120, dpi, (column, row) => {
      const away = Math.min(...[-5, 5].map((x) => Math.hypot(column + 0.5 - 60 - x, row + 0.5 - 60))) - 4;
      return Math.round((255 * (1 - erf(away))) / 2);
    });
    const hard = measureDetail(plate, search);
    expect(withTones(plate, hard).dots).toEqual(hard.dots);
  });
});

describe('area over a level', () => {
  it('of a slope is where the slope passes the level', () => {
    // Tones 0, 51, 102, … along a row: 127.5 is passed half-way between the third pixel and the fourth.
    const tones = Uint8Array.from({ length: 18 }, (_, k) => 51 * (k % 6));
    expect(areaOver(tones, 6, 3, 127.5)).toBeCloseTo(2 * 2.5, 9);
    expect(areaOver(tones, 6, 3, 51)).toBeCloseTo(2 * 4, 9);
  });

  it('of one corner is a triangle', () => {
    expect(areaOver(Uint8Array.of(200, 0, 0, 0), 2, 2, 50)).toBeCloseTo((0.75 * 0.75) / 2, 9);
    expect(areaOver(Uint8Array.of(0, 200, 200, 200), 2, 2, 50)).toBeCloseTo(1 - (0.25 * 0.25) / 2, 9);
  });
});

describe('the reading of a soft line', () => {
  it('says how soft its edges are', () => {
    const plate = plateOfStrip(blurredStrip(12, 2), 20, 0, false, 1);
    const [place] = measured(plate, false);
    const [facts] = askOf().plates;
    // 2.563 · 2 px of 0.0423 mm are 0.22 mm.
    expect(narrowReading(facts, place).detail).toBe('Its edges are soft over 0.22 mm.');
  });
});
