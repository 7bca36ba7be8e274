import { describe, expect, it } from 'vitest';
import { type WidthsAt, widthsAt } from '../../src/measurements/widthsAt.ts';
import type { Plate } from '../../src/plates/plate.ts';
import { createBitPlane, setBit } from '../../src/raster/bitPlane.ts';
import { pitchMmFromDpi } from '../../src/units/lengths.ts';
import { box, disc, drawShapes, minus, plateOf, reversed, ring, strip } from '../support/analyticShapes.ts';
import { seededRandom } from '../support/seededRandom.ts';

const dpi = 600;
const pitchMm = pitchMmFromDpi(dpi);
const searchMm = 1.2;

/** Asks at a place in pixels. */
function ask(plate: Plate, x: number, y: number): WidthsAt {
  return widthsAt(plate, { xMm: x * pitchMm, yMm: y * pitchMm }, searchMm);
}

/** By how many pixels a width misses the truth, which its error bar has to cover. */
function missPx(width: { widthMm: number; plusMinusMm: number } | null, truthPx: number, what: string): number {
  expect(width, what).not.toBeNull();
  const miss = Math.abs(width!.widthMm / pitchMm - truthPx);
  expect(miss, `${what}: ${width!.widthMm / pitchMm} for ${truthPx}`).toBeLessThanOrEqual(width!.plusMinusMm / pitchMm);
  return miss;
}

describe('the width at a place', () => {
  const anglesDeg = [0, 7, 22.5, 45, 61, 90, 118, 135, 163];

  it('of strips at many angles, asked all over them, and of the gap when reversed', () => {
    const random = seededRandom(3);
    for (const angleDeg of anglesDeg) {
      for (const widthPx of [2.4, 4.7, 9.2, 16.3, 24.8]) {
        const [cx, cy] = [150 + random(), 150 + random()];
        const bits = drawShapes(300, 300, [strip(cx, cy, 240, widthPx, angleDeg)]);
        const [ux, uy] = [Math.cos((angleDeg * Math.PI) / 180), -Math.sin((angleDeg * Math.PI) / 180)];
        for (const [plate, kind] of [
          [plateOf(bits, dpi), 'black'],
          [plateOf(reversed(bits), dpi), 'clear'],
        ] as const) {
          for (const [along, across] of [
            [0, 0],
            [-60, 0.3 * widthPx],
            [70, -0.25 * widthPx],
          ]) {
            const found = ask(plate, cx + along * ux - across * uy, cy + along * uy + across * ux);
            const what = `${kind} ${widthPx} px at ${angleDeg}°`;
            expect(found.at, what).toBe(kind);
            missPx(found[kind], widthPx, what);
            // Around the strip all is broader than was searched for.
            expect(found[kind === 'black' ? 'clear' : 'black'], what).toBeNull();
            const turn = Math.abs(found[kind]!.directionDeg - angleDeg) % 180;
            expect(Math.min(turn, 180 - turn), `${what}, its direction`).toBeLessThan(widthPx < 4 ? 6 : 3);
          }
        }
      }
    }
  });

  it('of a gap between two solids, and of the lines on both sides of it', () => {
    for (const angleDeg of anglesDeg) {
      const [nx, ny] = [Math.sin((angleDeg * Math.PI) / 180), Math.cos((angleDeg * Math.PI) / 180)];
      // Lines of 8.3 and 12.6 px with 10.4 px between them.
      const at = (offset: number, widthPx: number) =>
        strip(150.2 + offset * nx, 150.4 + offset * ny, 260, widthPx, angleDeg);
      const plate = plateOf(drawShapes(300, 300, [at(-(10.4 + 8.3) / 2, 8.3), at((10.4 + 12.6) / 2, 12.6)]), dpi);
      const inGap = ask(plate, 150.2 - 3 * nx, 150.4 - 3 * ny);
      expect(inGap.at).toBe('clear');
      missPx(inGap.clear, 10.4, `gap at ${angleDeg}°`);
      missPx(inGap.black, 8.3, `nearer line at ${angleDeg}°`);
      const onLine = ask(plate, 150.2 + 9 * nx, 150.4 + 9 * ny);
      expect(onLine.at).toBe('black');
      missPx(onLine.black, 12.6, `line at ${angleDeg}°`);
      missPx(onLine.clear, 10.4, `gap beside it at ${angleDeg}°`);
    }
  });

  it('of rings, all round, and of the clear disc in them', () => {
    for (const [middlePx, widthPx] of [
      [60, 6.6],
      [34, 9.4],
      [20, 4.2],
    ]) {
      const plate = plateOf(drawShapes(160, 160, [ring(80.3, 79.6, middlePx, widthPx)]), dpi);
      for (let angle = 0; angle < 2 * Math.PI; angle += 0.37) {
        const r = middlePx / 2;
        const found = ask(plate, 80.3 + r * Math.cos(angle), 79.6 + r * Math.sin(angle));
        missPx(found.black, widthPx, `ring ${middlePx}/${widthPx} at ${angle.toFixed(2)}`);
      }
      const inside = ask(plate, 80.3, 79.6);
      const holePx = middlePx - widthPx;
      if (holePx * pitchMm < searchMm - pitchMm) missPx(inside.clear, holePx, `hole of ${holePx} px`);
      else expect(inside.clear).toBeNull();
    }
  });

  it('of dots and islands', () => {
    for (const diameterPx of [3, 5.5, 9, 17]) {
      const bits = drawShapes(100, 100, [disc(50.3, 49.8, diameterPx)]);
      missPx(ask(plateOf(bits, dpi), 50.3, 49.8).black, diameterPx, `dot ${diameterPx}`);
      missPx(ask(plateOf(reversed(bits), dpi), 50.3, 49.8).clear, diameterPx, `island ${diameterPx}`);
    }
  });

  it('tells a narrow arm from the solid it leaves', () => {
    const plate = plateOf(drawShapes(300, 200, [box(20, 20, 120, 180), box(119, 90, 260, 99)]), dpi);
    missPx(ask(plate, 200, 94.5).black, 9, 'arm');
    expect(ask(plate, 60, 100).black).toBeNull();
    expect(ask(plate, 60, 100).clear).toBeNull();
  });

  it('of a slot cut into a solid from its edge', () => {
    const plate = plateOf(drawShapes(200, 200, [minus(box(20, 20, 180, 180), box(95, 100, 103, 200))]), dpi);
    const found = ask(plate, 99, 140);
    expect(found).toMatchObject({ at: 'clear' });
    missPx(found.clear, 8, 'slot');
    expect(found.clear!.directionDeg).toBeCloseTo(90, 0);
  });

  it('at the film’s edge and beyond it: film beyond is clear', () => {
    const plate = plateOf(drawShapes(200, 100, [box(0, 40, 200, 47)]), dpi);
    missPx(ask(plate, 2, 43).black, 7, 'line that runs off the film');
    missPx(ask(plate, 199.5, 43).black, 7, 'at the last column');
    expect(ask(plate, 100, 5).clear).toBeNull();
    expect(ask(plate, -30, 43)).toEqual({ at: 'clear', black: null, clear: null });
  });

  it('on pixels of unequal pitch', () => {
    for (const angleDeg of [0, 30, 90, 140]) {
      const drawn = strip(200, 200, 360, 12, angleDeg);
      const squeezed = { bounds: [0, 0, 400, 200] as const, holds: (x: number, y: number) => drawn.holds(x, 2 * y) };
      const plate = plateOf(drawShapes(400, 200, [squeezed]), 600, 300);
      const { black } = widthsAt(plate, { xMm: 200 * pitchMm, yMm: 200 * pitchMm }, searchMm);
      missPx(black, 12, `${angleDeg}°`);
    }
  });

  it('of blank and of solid film is nothing', () => {
    expect(ask(plateOf(createBitPlane(300, 300), dpi), 150, 150)).toEqual({ at: 'clear', black: null, clear: null });
    const solid = plateOf(reversed(createBitPlane(300, 300)), dpi);
    expect(ask(solid, 150, 150)).toEqual({ at: 'black', black: null, clear: null });
    const speck = createBitPlane(300, 300);
    setBit(speck, 150, 150);
    missPx(ask(plateOf(speck, dpi), 150.5, 150.5).black, 1, 'one pixel');
  });
});
