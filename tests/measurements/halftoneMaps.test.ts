import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { countAround } from '../../src/measurements/halftoneAround.ts';
import { connectCells } from '../../src/measurements/halftoneConnect.ts';
import { RankedTones } from '../../src/measurements/halftoneRanks.ts';
import { boxSums } from '../../src/raster/boxSums.ts';

const fields = fc
  .record({ columns: fc.integer({ min: 1, max: 14 }), rows: fc.integer({ min: 1, max: 14 }) })
  .chain(({ columns, rows }) =>
    fc.record({
      columns: fc.constant(columns),
      rows: fc.constant(rows),
      flags: fc.uint8Array({ minLength: columns * rows, maxLength: columns * rows, max: 1 }),
    }),
  );

/** Cells at most so far from one each way, itself among them. */
function cellsNear(cell: number, columns: number, rows: number, reach: number): number[] {
  const all = Array.from({ length: columns * rows }, (_, k) => k);
  return all.filter(
    (other) =>
      Math.abs((other % columns) - (cell % columns)) <= reach &&
      Math.abs(Math.floor(other / columns) - Math.floor(cell / columns)) <= reach,
  );
}

describe('cells of a map', () => {
  it('hang together where a way leads from one to the other', () => {
    fc.assert(
      fc.property(fields, ({ columns, rows, flags }) => {
        const nameOf = Array.from(flags, (_, cell) => cell);
        for (let isDone = false; !isDone; ) {
          isDone = true;
          for (const [cell, flag] of flags.entries()) {
            if (flag === 0) continue;
            for (const next of cellsNear(cell, columns, rows, 1)) {
              if (flags[next] === 0 || nameOf[next] >= nameOf[cell]) continue;
              nameOf[cell] = nameOf[next];
              isDone = false;
            }
          }
        }
        const names = [...new Set(nameOf.filter((_, cell) => flags[cell] === 1))];
        const expected = names.map((name) =>
          nameOf.flatMap((own, cell) => (own === name && flags[cell] ? [cell] : [])),
        );
        const parts = connectCells({ columns, rows }, flags);
        expect(parts.map(({ cells }) => [...cells])).toEqual(expected);
        for (const [k, part] of parts.entries()) {
          const across = expected[k].map((cell) => cell % columns);
          expect(part.columns).toBe(Math.max(...across) - Math.min(...across) + 1);
          expect(part.rows).toBe(new Set(expected[k].map((cell) => Math.floor(cell / columns))).size);
        }
      }),
      { numRuns: 300, seed: 61 },
    );
  });

  it('are summed over the squares around them', () => {
    fc.assert(
      fc.property(fields, fc.integer({ min: 1, max: 4 }), ({ columns, rows, flags }, reach) => {
        const values = Float32Array.from(flags, (_, cell) => (cell * 37) % 11);
        const kept = boxSums(values, columns, rows, reach, new Float32Array(values.length), flags);
        const inPlace = values.slice();
        const all = boxSums(inPlace, columns, rows, reach, inPlace);
        const counts = countAround(flags, columns, rows);
        for (let cell = 0; cell < flags.length; cell++) {
          const near = cellsNear(cell, columns, rows, reach);
          expect(all[cell]).toBe(near.reduce((sum, other) => sum + values[other], 0));
          expect(kept[cell]).toBe(near.reduce((sum, other) => sum + flags[other] * values[other], 0));
          const beside = cellsNear(cell, columns, rows, 1);
          expect(counts[cell]).toBe(beside.reduce((sum, other) => sum + flags[other], 0));
        }
      }),
      { numRuns: 40, seed: 62 },
    );
  });

  it('are put in order by their tones at both ends', () => {
    const tones = fc.array(fc.constantFrom(0, 0.01, 0.0101, 0.3, 0.30001, 0.5, 0.77, 1), {
      minLength: 1,
      maxLength: 300,
    });
    fc.assert(
      fc.property(tones, fc.constantFrom(0.06, 0.3), (values, share) => {
        const smoothed = Float32Array.from(values);
        const cells = Int32Array.from(values.keys()).filter((cell) => cell % 3 !== 1);
        const sorted = [...cells].sort((a, b) => smoothed[a] - smoothed[b] || a - b);
        const ranks = new RankedTones(cells, smoothed, share);
        const wanted = Math.floor(share * cells.length);
        expect(ranks.lightest.length).toBeGreaterThanOrEqual(wanted);
        expect([...ranks.lightest]).toEqual(sorted.slice(0, ranks.lightest.length));
        expect(ranks.darkest.length).toBeGreaterThanOrEqual(wanted);
        expect([...ranks.darkest]).toEqual(sorted.toReversed().slice(0, ranks.darkest.length));
        expect(ranks.cellAt(0)).toBe(sorted[0]);
        expect(ranks.cellAt(cells.length - 1)).toBe(sorted[cells.length - 1]);
      }),
      { numRuns: 100, seed: 63 },
    );
  });
});
