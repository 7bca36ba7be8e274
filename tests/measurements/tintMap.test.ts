import { expect, it } from 'vitest';
import type { TintMap } from '../../src/measurements/halftone.ts';
import { measureHalftone } from '../../src/measurements/measureHalftone.ts';
import { tonesOfTintMap } from '../../src/report/tintSquares.ts';
import { diffused } from '../acceptance/otherFilms.ts';
import { filmOf, isDark } from '../acceptance/screenedFilms.ts';

const dpi = 600;
const pitchMm = 25.4 / dpi;

/** Squares whose middle lies well within a shape, with their tone and their place in pixels. */
function squaresOf(map: TintMap): { percent: number | null; column: number; row: number }[] {
  return tonesOfTintMap(map).flatMap((tones, down) =>
    tones.map((percent, across) => ({
      percent,
      column: (map.xMm + (across + 0.5) * map.pitchMm) / pitchMm,
      row: (map.yMm + (down + 0.5) * map.pitchMm) / pitchMm,
    })),
  );
}

it('the tones of a slope lie where they were drawn, and there are none beside it', () => {
  const screening = { dot: 'round', rulingLpi: 45, angleDeg: 22.5, phase: [0.2, 0.7] } as const;
  const radius = 900;
  // From 10 to 70 % across, from 0 to 20 % more downwards.
  const toneAt = (column: number, row: number) => 0.1 + (0.6 * column) / 2000 + (0.2 * row) / 2000;
  const plate = filmOf(2000, 2000, dpi, (column, row) =>
    Math.hypot(column - 1000, row - 1000) > radius
      ? false
      : isDark(screening, toneAt(column, row), (column + 0.5) / dpi, (row + 0.5) / dpi),
  );
  const [region, ...others] = measureHalftone(plate).regions;
  expect(others).toEqual([]);
  const squares = squaresOf(region.tintMap!);
  const inside = squares.filter(({ column, row }) => Math.hypot(column - 1000, row - 1000) < radius - 80);
  expect(inside.length).toBeGreaterThan(1000);
  for (const { percent, column, row } of inside) {
    expect(Math.abs(percent! - 100 * toneAt(column, row)), `${column} ${row}`).toBeLessThan(2);
  }
  const off = inside.map(({ percent, column, row }) => percent! - 100 * toneAt(column, row));
  expect(Math.abs(off.reduce((a, b) => a + b) / off.length)).toBeLessThan(0.3);
  const outside = squares.filter(({ column, row }) => Math.hypot(column - 1000, row - 1000) > radius + 40);
  expect(outside.length).toBeGreaterThan(300);
  expect(outside.every(({ percent }) => percent === null)).toBe(true);
});

it('scattered dots have one too', () => {
  const plate = diffused(1600, dpi, 4, (across) => 0.1 + 0.8 * across);
  const [{ kind, tintMap }] = measureHalftone(plate).regions;
  expect(kind).toBe('fm');
  const squares = squaresOf(tintMap!).filter(({ percent }) => percent !== null);
  expect(squares.length).toBeGreaterThan(200);
  for (const { percent, column } of squares) {
    expect(Math.abs(percent! - 10 - (80 * column) / 1600), `${column}`).toBeLessThan(4);
  }
});

it('a long part keeps to so many squares, and the darkest tone to two digits', () => {
  const screening = { dot: 'line', rulingLpi: 40, angleDeg: 30, phase: [0, 0] } as const;
  const plate = filmOf(6000, 800, dpi, (column, row) => isDark(screening, 0.5, column / dpi, row / dpi));
  const { rows } = measureHalftone(plate).regions[0].tintMap!;
  expect(rows.every((row) => row.length === 160 && /^(\d\d|--)+$/.test(row))).toBe(true);
  expect(rows.length).toBe(Math.ceil(rows[0].length / 2 / (6000 / 800)));
});
