import { describe, expect, it } from 'vitest';
import { measureMarks } from '../../src/measurements/measureMarks.ts';
import { measureRegistration } from '../../src/measurements/measureRegistration.ts';
import type { Plate } from '../../src/plates/plate.ts';
import { boxPart, discPart, drawParts, type Laid, laidPoint, markPart, type Part } from '../support/marksPlates.ts';
import { gridOf, outside } from '../support/overlapPlates.ts';
import { seededRandom } from '../support/seededRandom.ts';

const grid = gridOf(160, 120, 300);
const straight: Laid = { dxMm: 0, dyMm: 0, turnDeg: 0, scale: 1 };
const corners: [number, number][] = [
  [9, 9],
  [151, 9],
  [9, 111],
  [151, 111],
];

/** Shapes in a field on one plate, the field with openings for them on the other; trapped by so much. */
function pairOfPlates(laid: Laid, trapMm: number, withMarks: boolean, marksLaid: Laid = laid): [Plate, Plate] {
  const random = seededRandom(8);
  const shapes = Array.from({ length: 14 }, (_, k) => {
    const x = 30 + 100 * random();
    const y = 28 + 64 * random();
    const size = 6 + 8 * random();
    return { isDisc: k % 2 === 0, x, y, size, turn: 90 * random() };
  });
  const partsOf = (by: Laid, grow: number): Part[] =>
    shapes.map(({ isDisc, x, y, size, turn }) => {
      const [px, py] = laidPoint(by, grid, x, y);
      const side = size * by.scale + 2 * grow;
      return isDisc ? discPart(px, py, side / 2) : boxPart(px, py, side, side, turn - by.turnDeg);
    });
  const marks = (by: Laid) =>
    withMarks ? corners.map(([x, y]) => markPart('ring', ...laidPoint(by, grid, x, y), 8, 0.25, -by.turnDeg)) : [];
  const field = boxPart(80, 60, 116, 80);
  const openings = partsOf(straight, 0).map((part) => outside(part.shape));
  const base: Part = {
    ...field,
    shape: (x, y) => Math.max(field.shape(x, y), ...openings.map((shape) => shape(x, y))),
  };
  return [
    drawParts('a', grid, [base, ...marks(straight)]),
    drawParts('b', grid, [...partsOf(laid, trapMm), ...marks(marksLaid)]),
  ];
}

describe('the fit of art to art', () => {
  it('recovers shift, turn and scale from the outlines alone, whatever the trap', () => {
    const cases: readonly (readonly [number, Laid])[] = [
      [0, straight],
      [0.25, { dxMm: 0.31, dyMm: -0.22, turnDeg: 0, scale: 1 }],
      [0, { dxMm: -0.4, dyMm: 0.15, turnDeg: 0.25, scale: 1 }],
      [0.25, { dxMm: 0.1, dyMm: 0.1, turnDeg: -0.1, scale: 1.002 }],
    ];
    for (const [trapMm, laid] of cases) {
      const plates = pairOfPlates(laid, trapMm, false);
      const [plate] = measureRegistration(measureMarks(plates), plates)!.plates;
      const label = JSON.stringify({ trapMm, ...laid });
      expect(plate.marksUsed, label).toBe(0);
      const { artFit } = plate;
      expect(artFit!.edges, label).toBeGreaterThan(60);
      // Half a pixel over the 40 mm from the middle of the art to its edge.
      expect(Math.abs(artFit!.rotationDeg - laid.turnDeg), label).toBeLessThan(0.045);
      expect(Math.abs(artFit!.scale - laid.scale), label).toBeLessThan(8e-4);
      expect(Math.abs(artFit!.dxMm - laid.dxMm), label).toBeLessThan(0.06);
      expect(Math.abs(artFit!.dyMm - laid.dyMm), label).toBeLessThan(0.06);
    }
  });

  it('agrees with the marks of a film that moved whole, and not where only the art moved', () => {
    const laid = { dxMm: 0.3, dyMm: 0.2, turnDeg: 0.1, scale: 1 };
    const whole = pairOfPlates(laid, 0.2, true);
    const [together] = measureRegistration(measureMarks(whole), whole)!.plates;
    expect(together.marksUsed).toBe(4);
    expect(together.artFit!.offMarks!.displacementMm).toBeLessThan(0.06);
    const apart = pairOfPlates({ ...straight, dxMm: 0.5 }, 0.2, true, straight);
    const [art] = measureRegistration(measureMarks(apart), apart)!.plates;
    expect(art.worstOffsetMm).toBeLessThan(0.01);
    expect(art.artFit!.offMarks!.displacementMm).toBeGreaterThan(0.42);
    expect(art.artFit!.offMarks!.displacementMm).toBeLessThan(0.58);
  });

  it('says nothing of art that has no outlines in common', () => {
    const random = seededRandom(3);
    const scattered = () =>
      Array.from({ length: 40 }, () => discPart(15 + 130 * random(), 15 + 90 * random(), 1 + 4 * random()));
    const plates = [drawParts('a', grid, scattered()), drawParts('b', grid, scattered())];
    expect(measureRegistration(measureMarks(plates), plates)).toBeNull();
  });
});
