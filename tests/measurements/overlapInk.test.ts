import { describe, expect, it } from 'vitest';
import { edgedPlane, InkField } from '../../src/measurements/overlapInk.ts';
import { bitAt, createBitPlane, setBit } from '../../src/raster/bitPlane.ts';
import { seededRandom } from '../support/seededRandom.ts';

describe('going over a plane step by step', () => {
  it('finds the first ink or clear film that a look at every step finds, over blank parts and off the film too', () => {
    const random = seededRandom(11);
    const bits = createBitPlane(150, 130);
    for (let disc = 0; disc < 5; disc++) {
      const [x, y, r] = [150 * random(), 130 * random(), 4 + 20 * random()];
      for (let row = 0; row < 130; row++) {
        for (let column = 0; column < 150; column++) {
          if (Math.hypot(column - x, row - y) < r) setBit(bits, column, row);
        }
      }
    }
    const grid = { widthPx: 150, heightPx: 130, pitchXMm: 0.04, pitchYMm: 0.05 };
    const plane = edgedPlane({ grid, bits });
    let found = 0;
    for (const inverted of [false, true]) {
      const field = new InkField(plane, inverted);
      for (let go = 0; go < 3000; go++) {
        const x = 6 * (1.2 * random() - 0.1);
        const y = 6.5 * (1.2 * random() - 0.1);
        const turn = 2 * Math.PI * Math.round(random() * 16) * (random() < 0.3 ? 1 / 16 : random());
        const [dx, dy] = [0.04 * Math.cos(turn), 0.04 * Math.sin(turn)];
        const wanted = go & 1;
        let expected = 0;
        for (let k = 1; k <= 60 && expected === 0; k++) {
          const column = Math.floor((x + (0.75 + k) * dx) / 0.04);
          const row = Math.floor((y + (0.75 + k) * dy) / 0.05);
          const isOff = column < 0 || row < 0 || column >= 150 || row >= 130;
          const ink = isOff ? Number(inverted) : bitAt(bits, column, row) ^ Number(inverted);
          if (ink === wanted) expected = k;
        }
        if (expected > 0) found++;
        expect(field.firstStep(wanted, x, y, dx, dy, 0.75, 60, plane.cells)).toBe(expected);
      }
    }
    expect(found).toBeGreaterThan(1000);
  });
});
