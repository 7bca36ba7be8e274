import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { visitComponents } from '../../src/raster/components.ts';
import { joinCorners } from '../../src/raster/joinCorners.ts';
import { planeFromRows, planeFromText, textFromPlane } from '../support/asciiPlane.ts';

function joined(text: string): string {
  const plane = planeFromText(text);
  joinCorners(plane);
  return textFromPlane(plane);
}

describe('joining corners', () => {
  it('fills one pixel between two blocks that share a corner, whichever way they lie', () => {
    expect(joined('.....\n.#...\n..#..\n.....')).toBe('.....\n.##..\n..#..\n.....');
    expect(joined('.....\n..#..\n.#...\n.....')).toBe('.....\n.##..\n.#...\n.....');
  });

  it('leaves a diagonal line of film alone, and all that has no bare corner', () => {
    for (const text of ['######\n#.####\n##.###\n###.##\n####.#\n######', '#####\n##..#\n#...#\n#####']) {
      expect(joined(text)).toBe(text);
    }
  });

  it('never parts black, adds at most a pixel a corner, across words as within', () => {
    fc.assert(
      fc.property(
        fc.integer({ min: 2, max: 80 }).chain((width) =>
          fc.array(fc.array(fc.integer({ min: 0, max: 3 }), { minLength: width, maxLength: width }), {
            minLength: 2,
            maxLength: 20,
          }),
        ),
        (rows) => {
          const plane = planeFromRows(rows.map((row) => row.map((value) => value === 0)));
          const before = plane.words.slice();
          const parts = (connectivity: 4 | 8) => {
            let count = 0;
            visitComponents(plane, { inverted: false, connectivity }, () => count++);
            return count;
          };
          const [eight, four] = [parts(8), parts(4)];
          joinCorners(plane);
          plane.words.forEach((word, index) => {
            expect(before[index] & ~word).toBe(0);
          });
          expect(parts(8)).toBeLessThanOrEqual(eight);
          expect(parts(4)).toBeLessThanOrEqual(four);
        },
      ),
      { numRuns: 200, seed: 61 },
    );
  });
});
