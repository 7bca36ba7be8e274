import { expect, it } from 'vitest';
import type { CellMap } from '../../src/measurements/halftoneCells.ts';
import { tonesOf } from '../../src/measurements/halftoneTones.ts';

it('gives a part an area where its cut cells have only clear cells near them', () => {
  const columns = 12;
  const none = () => new Float32Array(columns * columns);
  const ink = none();
  ink[0] = 5;
  const map: CellMap = {
    lattice: { fx: 2, fy: 0, isLines: false },
    phaseU: 0,
    phaseV: 0,
    join: 1,
    left: 0,
    top: 0,
    columns,
    rows: columns,
    cellMm: 0.5,
    attenuation: 1,
    counts: none().fill(16),
    ink,
  };
  const cells = Int32Array.from({ length: columns * columns }, (_, cell) => cell);
  const whole = cells.subarray(1);
  const { areaMm2 } = tonesOf(map, { cells, whole, telling: whole }, 12, none());
  // 143 whole cells and one cut in half, as nothing tells how.
  expect(areaMm2).toBeCloseTo(143.5 * 0.25, 6);
});
