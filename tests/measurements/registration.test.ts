import { describe, expect, it } from 'vitest';
import type { Mark, PlateMarks } from '../../src/measurements/marks.ts';
import { measureMarks } from '../../src/measurements/measureMarks.ts';
import { measureRegistration } from '../../src/measurements/measureRegistration.ts';
import {
  boxPart,
  drawParts,
  type Laid,
  laidPoint,
  type MarkDesign,
  markPart,
  type Part,
  seededNumbers,
} from '../support/marksPlates.ts';
import { gridOf } from '../support/overlapPlates.ts';

const grid = gridOf(160, 120, 600);
const straight: Laid = { dxMm: 0, dyMm: 0, turnDeg: 0, scale: 1 };
const corners: [number, number][] = [
  [9, 9],
  [151, 9],
  [9, 111],
  [151, 111],
];
const topAndBottom: [number, number][] = [
  [80, 9],
  [80, 111],
];

function marksOn(places: readonly [number, number][], design: MarkDesign, laid: Laid): Part[] {
  return places.map(([x, y]) => {
    const [lx, ly] = laidPoint(laid, grid, x, y);
    return markPart(design, lx, ly, 8 * laid.scale, 0.25 * laid.scale, -laid.turnDeg);
  });
}

function registered(
  design: MarkDesign,
  laid: Laid,
  places = corners,
  placesOfOther = places,
): { dx: number; dy: number; register: ReturnType<typeof measureRegistration> } {
  const register = measureRegistration(
    measureMarks([
      drawParts('ref', grid, [...marksOn(places, design, straight), boxPart(70, 60, 30, 20)]),
      drawParts('other', grid, [...marksOn(placesOfOther, design, laid), boxPart(95, 60, 30, 20)]),
    ]),
  );
  return { dx: laid.dxMm, dy: laid.dyMm, register };
}

describe('measureRegistration from drawn films', () => {
  const pitchMm = grid.pitchXMm;

  it('recovers shifts within a fifth of a pixel', () => {
    const next = seededNumbers(5);
    for (const places of [corners, topAndBottom]) {
      for (let i = 0; i < 4; i++) {
        const laid = { ...straight, dxMm: next() - 0.5, dyMm: next() - 0.5 };
        const { register } = registered('ring', laid, places);
        const [plate] = register!.plates;
        expect(register!.referencePlateId).toBe('ref');
        expect(plate.plateId).toBe('other');
        expect(plate.model).toBe('translation');
        expect(plate.marksUsed).toBe(places.length);
        expect(Math.abs(plate.dxMm - laid.dxMm)).toBeLessThan(0.2 * pitchMm);
        expect(Math.abs(plate.dyMm - laid.dyMm)).toBeLessThan(0.2 * pitchMm);
        expect(Math.abs(plate.rotationDeg!)).toBeLessThan(0.005);
        expect(Math.abs(plate.scale! - 1)).toBeLessThan(100e-6);
        expect(Math.abs(plate.worstOffsetMm - Math.hypot(laid.dxMm, laid.dyMm))).toBeLessThan(0.2 * pitchMm);
        expect(plate.residualMm).toBeLessThan(0.02);
      }
    }
  });

  it('recovers rotation within 0.005 degrees and scale within 100 ppm from rings', () => {
    for (const design of ['ring', 'circled', 'whiteCross', 'quarters'] as const) {
      for (const [turnDeg, scale] of [
        [0.25, 1],
        [-0.4, 1.0005],
        [0.08, 0.997],
        [0, 1.002],
      ]) {
        const laid = { dxMm: 0.213, dyMm: -0.157, turnDeg, scale };
        const [plate] = registered(design, laid).register!.plates;
        const label = `${design}, ${turnDeg} deg, scale ${scale}`;
        expect(plate.model, label).toBe('similarity');
        expect(Math.abs(plate.rotationDeg! - turnDeg), label).toBeLessThan(0.005);
        expect(Math.abs(plate.scale! - scale), label).toBeLessThan(100e-6);
        expect(Math.abs(plate.dxMm - laid.dxMm), label).toBeLessThan(0.2 * pitchMm);
        expect(Math.abs(plate.dyMm - laid.dyMm), label).toBeLessThan(0.2 * pitchMm);
        expect(plate.residualMm, label).toBeLessThan(0.01);
      }
    }
  });

  it('turns counter-clockwise as seen for a positive rotation', () => {
    const [plate] = registered('ring', { ...straight, turnDeg: 0.5 }).register!.plates;
    expect(plate.rotationDeg).toBeCloseTo(0.5, 2);
    // Counter-clockwise, the right-hand marks go up.
    const other = measureMarks([
      drawParts('ref', grid, marksOn(corners, 'ring', straight)),
      drawParts('other', grid, marksOn(corners, 'ring', { ...straight, turnDeg: 0.5 })),
    ])[1].marks;
    const right = other.filter((mark) => mark.xMm > 80);
    expect(Math.min(...right.map((mark) => mark.yMm))).toBeLessThan(9);
  });

  it('works with bare crosses within a pixel', () => {
    const [plate] = registered('cross', { ...straight, dxMm: 0.4, dyMm: -0.23 }).register!.plates;
    expect(Math.abs(plate.dxMm - 0.4)).toBeLessThan(0.5 * pitchMm);
    expect(Math.abs(plate.dyMm + 0.23)).toBeLessThan(0.5 * pitchMm);
    expect(plate.plusMinusMm).toBeGreaterThanOrEqual(0.5 * pitchMm);
  });

  it('recovers a film that lies far off', () => {
    const laid = { dxMm: 3.2, dyMm: -2.4, turnDeg: 0.9, scale: 1 };
    const [plate] = registered('ring', laid).register!.plates;
    expect(plate.marksUsed).toBe(4);
    expect(plate.rotationDeg).toBeCloseTo(0.9, 2);
    expect(plate.dxMm).toBeCloseTo(3.2, 1);
    expect(plate.dyMm).toBeCloseTo(-2.4, 1);
    expect(plate.worstOffsetMm).toBeGreaterThan(4);
  });

  it('says which mark is missing and registers by the others', () => {
    const films = [
      drawParts('ref', grid, marksOn(corners, 'ring', straight)),
      drawParts('other', grid, marksOn(corners.slice(0, 3), 'ring', { ...straight, dxMm: 0.3 })),
    ];
    const marks = measureMarks(films);
    expect(marks[1].missing).toHaveLength(1);
    expect(marks[1].missing[0].looked).toBe(true);
    const [plate] = measureRegistration(marks)!.plates;
    expect(plate.marksUsed).toBe(3);
    expect(plate.dxMm).toBeCloseTo(0.3, 2);
  });

  it('tells one moved mark from a moved film', () => {
    const movedBy = 0.35;
    const places = corners.map(([x, y], i): [number, number] => (i === 3 ? [x + movedBy, y] : [x, y]));
    for (const laid of [straight, { dxMm: 0.2, dyMm: 0.1, turnDeg: 0.2, scale: 1 }]) {
      const [plate] = registered('ring', laid, corners, places).register!.plates;
      expect(plate.marksUsed).toBe(3);
      expect(plate.residualMm).toBeCloseTo(movedBy, 1);
      const large = plate.residuals.filter((r) => Math.hypot(r.dxMm, r.dyMm) > 0.05);
      expect(large).toHaveLength(1);
      expect(large[0].xMm).toBeCloseTo(151, 0);
      expect(large[0].yMm).toBeCloseTo(111, 0);
      expect(Math.abs(plate.dxMm - laid.dxMm)).toBeLessThan(0.1);
      expect(plate.rotationDeg).toBeCloseTo(laid.turnDeg, 1);
    }
  });
});

describe('measureRegistration from given marks', () => {
  const mark = (xMm: number, yMm: number): Mark => ({
    kind: 'target',
    xMm,
    yMm,
    plusMinusMm: 0.004,
    lineWeightMm: 0.2,
    sizeMm: 8,
    reversed: false,
    cut: false,
    artDistanceMm: null,
  });
  const plateOf = (plateId: string, places: readonly (readonly [number, number])[]): PlateMarks => ({
    plateId,
    marks: places.map(([x, y]) => mark(x, y)),
    unconfirmed: [],
    missing: [],
    artHullMm: [],
  });

  it('is null without marks on two plates', () => {
    expect(measureRegistration([])).toBeNull();
    expect(measureRegistration([plateOf('a', corners)])).toBeNull();
    expect(measureRegistration([plateOf('a', corners), plateOf('b', [])])).toBeNull();
  });

  it('takes the plate with most marks for the reference, the first of equals', () => {
    const two = plateOf('b', corners.slice(0, 2));
    expect(measureRegistration([two, plateOf('a', corners), plateOf('c', corners)])!.referencePlateId).toBe('a');
  });

  it('says no more than one or two marks can tell', () => {
    const one = measureRegistration([plateOf('a', corners), plateOf('b', [[9.3, 9]])])!.plates[0];
    expect(one).toMatchObject({ model: 'translation', marksUsed: 1, rotationDeg: null, scale: null, residualMm: null });
    expect(one.dxMm).toBeCloseTo(0.3, 9);
    const two = measureRegistration([
      plateOf('a', topAndBottom),
      plateOf('b', [
        [80.2, 9],
        [79.8, 111],
      ]),
    ])!.plates[0];
    expect(two).toMatchObject({ model: 'similarity', marksUsed: 2, residualMm: null });
    // Top to the right, bottom to the left: clockwise.
    expect(two.rotationDeg).toBeCloseTo((-Math.atan2(0.4, 102) * 180) / Math.PI, 6);
  });

  it('goes to an affine fit for a film stretched one way', () => {
    const stretched = corners.map(([x, y]): [number, number] => [80 + (x - 80) * 1.002, y]);
    const [plate] = measureRegistration([plateOf('a', corners), plateOf('b', stretched)])!.plates;
    expect(plate.model).toBe('affine');
    expect(plate.residualMm).toBeLessThan(1e-9);
    expect(plate.scale).toBeCloseTo(Math.sqrt(1.002), 9);
    expect(plate.rotationDeg).toBeCloseTo(0, 9);
    expect(plate.worstOffsetMm).toBeCloseTo(0.142, 9);
  });

  it('gives back the transform the marks were made with', () => {
    const angle = (0.3 * Math.PI) / 180;
    const turned = corners.map(([x, y]): [number, number] => [
      80 + 1.001 * ((x - 80) * Math.cos(angle) + (y - 60) * Math.sin(angle)) + 0.1,
      60 + 1.001 * ((y - 60) * Math.cos(angle) - (x - 80) * Math.sin(angle)) - 0.2,
    ]);
    const [plate] = measureRegistration([plateOf('a', corners), plateOf('b', turned)])!.plates;
    expect(plate.rotationDeg).toBeCloseTo(0.3, 9);
    expect(plate.scale).toBeCloseTo(1.001, 9);
    expect(plate.dxMm).toBeCloseTo(0.1, 9);
    expect(plate.dyMm).toBeCloseTo(-0.2, 9);
  });
});
