import fc from 'fast-check';
import { expect, it } from 'vitest';
import { textureAt } from '../../src/measurements/halftoneTexture.ts';
import type { Plate } from '../../src/plates/plate.ts';
import { bitAt, createBitPlane, setBit } from '../../src/raster/bitPlane.ts';
import { drawBlobs } from '../support/drawBlobs.ts';

const levels = { clear: 0, solid: 255 };

it('grain is told as pixels counted one by one tell it, clear beyond the plane', () => {
  const windows = fc.record({
    seed: fc.nat(1e6),
    noise: fc.constantFrom(0.01, 0.2, 0.5),
    left: fc.integer({ min: -60, max: 250 }),
    top: fc.integer({ min: -60, max: 150 }),
    side: fc.constantFrom(96, 128),
  });
  fc.assert(
    fc.property(windows, ({ seed, noise, left, top, side }) => {
      const bits = drawBlobs(seed, 300, 200, noise);
      const texture = textureAt({ bits, tone: null } as Plate, left, top, side, levels);
      let [black, across, down] = [0, 0, 0];
      const runs: number[] = [];
      for (let line = 0; line < side; line++) {
        for (const isRow of [true, false]) {
          const at = (k: number) => (isRow ? bitAt(bits, left + k, top + line) : bitAt(bits, left + line, top + k));
          let since = 0;
          for (let k = 0; k < side; k++) {
            if (isRow) black += at(k);
            if (k === 0 || at(k) === at(k - 1)) continue;
            if (isRow) across++;
            else down++;
            if (since > 0) runs.push(k - since);
            since = k;
          }
        }
      }
      const tone = black / side ** 2;
      expect(texture.tone).toBeCloseTo(tone, 12);
      if (tone === 0 || tone === 1 || runs.length === 0) return;
      runs.sort((a, b) => a - b);
      const short = runs[Math.ceil(0.1 * runs.length) - 1];
      const { mostGrain, leastDotPx } = texture.bounds;
      const changes = Math.min(across, down) / side ** 2 / (2 * tone * (1 - tone));
      expect(texture.grain / texture.dotPx).toBeCloseTo(changes, 9);
      expect(Math.abs(texture.dotPx - short)).toBeLessThan(1);
      expect(texture.grain).toBeLessThanOrEqual(mostGrain);
      expect(texture.dotPx).toBeGreaterThanOrEqual(leastDotPx);
    }),
    { numRuns: 60, seed: 71 },
  );
});

it('tells the period of what repeats both ways, and none of what does so one way only', () => {
  for (const [periodPx, repeatsDown] of [
    [2, true],
    [7, true],
    [33, true],
    [60, true],
    [12, false],
  ] as const) {
    const bits = createBitPlane(200, 200);
    const tile = drawBlobs(periodPx, periodPx, 200, 0.5);
    for (let row = 0; row < 200; row++) {
      for (let column = 0; column < 200; column++) {
        const inkOfTile =
          periodPx === 2 ? (row + column) % 2 : bitAt(tile, column % periodPx, repeatsDown ? row % periodPx : row);
        if (inkOfTile === 1) setBit(bits, column, row);
      }
    }
    const texture = textureAt({ bits, tone: null } as Plate, 40, 30, 128, levels);
    expect(texture.periodPx).toBe(repeatsDown ? periodPx : null);
  }
});
