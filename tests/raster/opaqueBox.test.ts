import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { bitAt, createBitPlane, setBit } from '../../src/raster/bitPlane.ts';
import { opaqueBox } from '../../src/raster/opaqueBox.ts';

const planes = fc
  .record({
    widthPx: fc.integer({ min: 1, max: 140 }),
    heightPx: fc.integer({ min: 1, max: 30 }),
    dots: fc.array(fc.tuple(fc.nat(139), fc.nat(29)), { maxLength: 30 }),
  })
  .map(({ widthPx, heightPx, dots }) => {
    const plane = createBitPlane(widthPx, heightPx);
    for (const [column, row] of dots) if (column < widthPx && row < heightPx) setBit(plane, column, row);
    return plane;
  });

describe('box of opaque pixels', () => {
  it('equal a look at every pixel', () => {
    fc.assert(
      fc.property(planes, (plane) => {
        const columns: number[] = [];
        const rows: number[] = [];
        for (let row = 0; row < plane.heightPx; row++) {
          for (let column = 0; column < plane.widthPx; column++) {
            if (bitAt(plane, column, row) === 0) continue;
            columns.push(column);
            rows.push(row);
          }
        }
        expect(opaqueBox(plane)).toEqual(
          columns.length === 0
            ? null
            : {
                left: Math.min(...columns),
                top: Math.min(...rows),
                right: Math.max(...columns) + 1,
                bottom: Math.max(...rows) + 1,
              },
        );
      }),
      { numRuns: 200, seed: 51 },
    );
  });
});
