import { describe, expect, it } from 'vitest';
import type { BoxMm } from '../../src/geometry/box.ts';
import type { Detail, NarrowPlace, SpotPlace } from '../../src/measurements/detail.ts';
import { measureDetail } from '../../src/measurements/measureDetail.ts';
import type { BitPlane } from '../../src/raster/bitPlane.ts';
import { pitchMmFromDpi } from '../../src/units/lengths.ts';
import { drawShapes, plateOf, reversed } from '../support/analyticShapes.ts';
import { detailPage, doubled, mirrored, shifted, turned } from '../support/detailPage.ts';

/**
 * The same art turned, mirrored, moved, written at twice the resolution, reversed or spread over two plates has the same
 * fine detail. What that is stands in other tests; here the program is held against itself in other attitudes only.
 */
const dpi = 600;
const pitchMm = pitchMmFromDpi(dpi);
const sidePx = 1200;
const options = { searchToMm: 1, refineBelowMm: 0.6 };

const page = detailPage();
const plane = drawShapes(sidePx, sidePx, Object.values(page).flat());
const measure = (bits: BitPlane, atDpi = dpi): Detail => measureDetail(plateOf(bits, atDpi), options);
const original = measure(plane);

type Place = (x: number, y: number) => readonly [number, number];
const sideMm = sidePx * pitchMm;

function movedBox({ xMm, yMm, widthMm, heightMm }: BoxMm, move: Place): BoxMm {
  const [a, b] = [move(xMm, yMm), move(xMm + widthMm, yMm + heightMm)];
  return {
    xMm: Math.min(a[0], b[0]),
    yMm: Math.min(a[1], b[1]),
    widthMm: Math.abs(a[0] - b[0]),
    heightMm: Math.abs(a[1] - b[1]),
  };
}

function overlapShare(a: BoxMm, b: BoxMm): number {
  const across = Math.min(a.xMm + a.widthMm, b.xMm + b.widthMm) - Math.max(a.xMm, b.xMm);
  const down = Math.min(a.yMm + a.heightMm, b.yMm + b.heightMm) - Math.max(a.yMm, b.yMm);
  if (across <= 0 || down <= 0) return 0;
  return (across * down) / Math.max(a.widthMm * a.heightMm, b.widthMm * b.heightMm);
}

/** Each place of one list is matched by one of the other: same kind, same place, same width within both error bars. */
function expectSameStretches(
  found: readonly NarrowPlace[],
  expected: readonly NarrowPlace[],
  move: Place,
  what: string,
  allowedPx = 0,
) {
  const left = [...found];
  for (const place of expected) {
    const where = movedBox(place.boxMm, move);
    const said = `${what}: ${place.kind} of ${(place.minWidthMm / pitchMm).toFixed(2)} px at ${(place.xMm / pitchMm).toFixed(0)}, ${(place.yMm / pitchMm).toFixed(0)}`;
    left.sort((a, b) => overlapShare(b.boxMm, where) - overlapShare(a.boxMm, where));
    const other = left.shift();
    expect(other && overlapShare(other.boxMm, where), `${said} is there`).toBeGreaterThan(0.35);
    expect(other!.kind, said).toBe(place.kind);
    if (place.kind === 'line') {
      const bar = place.plusMinusMm + other!.plusMinusMm + allowedPx * pitchMm;
      expect(Math.abs(other!.minWidthMm - place.minWidthMm), `${said} has its width`).toBeLessThanOrEqual(bar);
      expect(Math.abs(other!.medianWidthMm - place.medianWidthMm), `${said}, its median`).toBeLessThanOrEqual(
        bar + 3 * pitchMm,
      );
    }
    // A point that thins out slowly gains and loses length by pixels that its width gains and loses.
    const perPixel = place.kind === 'taper' ? place.lengthMm / (2 * place.medianWidthMm) : 0;
    const slack = Math.max(5, 2 * perPixel) * pitchMm + 0.5 * place.medianWidthMm + 0.02 * place.lengthMm;
    expect(Math.abs(other!.lengthMm - place.lengthMm), `${said} has its length`).toBeLessThanOrEqual(slack);
  }
  expect(
    left.map(({ kind, xMm, yMm, minWidthMm }) =>
      [kind, xMm, yMm, minWidthMm].map((v) => (typeof v === 'number' ? Math.round(v / pitchMm) : v)).join(' '),
    ),
    `${what}: nothing else`,
  ).toEqual([]);
}

function expectSameSpots(found: readonly SpotPlace[], expected: readonly SpotPlace[], move: Place, what: string) {
  expect(found.length, `${what}: as many`).toBe(expected.length);
  for (const place of expected) {
    const where = movedBox(place.boxMm, move);
    const other = found.find(({ boxMm }) => overlapShare(boxMm, where) > 0.8);
    expect(other, `${what}: ${place.equivalentDiameterMm} is there`).toBeDefined();
    expect(other!.equivalentDiameterMm, what).toBeCloseTo(place.equivalentDiameterMm, 9);
  }
}

function expectSame(found: Detail, expected: Detail, move: Place, allowedPx = 0): void {
  expectSameStretches(found.lines, expected.lines, move, 'lines', allowedPx);
  expectSameStretches(found.gaps, expected.gaps, move, 'gaps', allowedPx);
  expectSameSpots(found.dots, expected.dots, move, 'dots');
  expectSameSpots(found.islands, expected.islands, move, 'islands');
}

describe('the same page in another attitude', () => {
  it('has something of everything on it', () => {
    expect(original.lines.filter(({ kind }) => kind === 'line').length).toBeGreaterThan(35);
    expect(original.lines.filter(({ kind }) => kind === 'taper').length).toBeGreaterThan(5);
    expect(original.gaps.length).toBeGreaterThan(10);
    expect(original.dots.length).toBeGreaterThan(3);
    expect(original.islands.length).toBeGreaterThan(2);
    expect(original.screened.sharePercent).toBe(0);
  });

  it('turned by a quarter, a half and three quarters', () => {
    const quarter = turned(plane);
    const half = turned(quarter);
    expectSame(measure(quarter), original, (x, y) => [sideMm - y, x]);
    expectSame(measure(half), original, (x, y) => [sideMm - x, sideMm - y]);
    expectSame(measure(turned(half)), original, (x, y) => [y, sideMm - x]);
  });

  it('mirrored', () => {
    expectSame(measure(mirrored(plane)), original, (x, y) => [sideMm - x, y]);
  });

  it.each([
    [1, 0],
    [0, 1],
    [13, 7],
    [33, 64],
  ])('moved by %i columns and %i rows', (right, down) => {
    expectSame(measure(shifted(plane, right, down)), original, (x, y) => [x + right * pitchMm, y + down * pitchMm]);
  });

  it('written with four pixels for each', () => {
    // At twice the resolution the program cannot know that edges were sampled at half of it.
    expectSame(measure(doubled(plane), 2 * dpi), original, (x, y) => [x, y], 0.5);
  });

  it('spread over two plates', () => {
    const parts = Object.values(page);
    const halves = [0, 1].map((half) =>
      measure(drawShapes(sidePx, sidePx, parts.filter((_, k) => k % 2 === half).flat())),
    );
    const both = (of: (detail: Detail) => readonly NarrowPlace[]) => halves.flatMap(of);
    expectSameStretches(
      both(({ lines }) => lines),
      original.lines,
      (x, y) => [x, y],
      'lines',
    );
    expectSameStretches(
      both(({ gaps }) => gaps),
      original.gaps,
      (x, y) => [x, y],
      'gaps',
    );
    expectSameSpots(
      halves.flatMap(({ dots }) => dots),
      original.dots,
      (x, y) => [x, y],
      'dots',
    );
    expectSameSpots(
      halves.flatMap(({ islands }) => islands),
      original.islands,
      (x, y) => [x, y],
      'islands',
    );
  });

  it('reversed: lines become gaps and gaps lines, dots islands and islands dots', () => {
    // The page's own margin of black is broad; the film's end lies beyond it.
    const negative = measure(reversed(plane));
    expectSameStretches(negative.gaps, original.lines, (x, y) => [x, y], 'gaps');
    expectSameStretches(negative.lines, original.gaps, (x, y) => [x, y], 'lines');
    expectSameSpots(negative.islands, original.dots, (x, y) => [x, y], 'islands');
    expectSameSpots(negative.dots, original.islands, (x, y) => [x, y], 'dots');
  });
});
