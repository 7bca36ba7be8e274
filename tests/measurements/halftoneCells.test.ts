import { describe, expect, it } from 'vitest';
import { fillCells } from '../../src/measurements/halftoneCells.ts';
import { layHalftoneTiles, toneLevelsOf } from '../../src/measurements/halftoneTiles.ts';
import { layPatches, patchedPlate } from '../support/halftonePlates.ts';

describe('the cells of a lattice', () => {
  it('are none where no tile is asked for', () => {
    const plate = patchedPlate(layPatches(1, 1, 10, 2), 600, () => false);
    const levels = toneLevelsOf(plate);
    const tiles = layHalftoneTiles(plate, levels);
    const { map } = fillCells(plate, { fx: 2, fy: 0.5, isLines: false }, [0, 0], tiles, () => false, levels);
    expect(map.counts.length).toBeLessThan(20);
    expect(map.counts.every((count) => count === 0)).toBe(true);
  });
});
