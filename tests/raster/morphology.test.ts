import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { type BitPlane, bitAt, createBitPlane, setBit } from '../../src/raster/bitPlane.ts';
import { type Disc, discOfDiameter, discOfRadius, mirroredDisc } from '../../src/raster/disc.ts';
import { dilatedByDisc, erodedByDisc, invertedPlane, openedByDisc } from '../../src/raster/morphology.ts';
import { planeFromText, textFromPlane } from '../support/asciiPlane.ts';

/** Pixel by pixel, straight from the definition. */
function erodedSlowly(plane: BitPlane, disc: Disc, outside: 0 | 1, invert: 0 | 1): string {
  return textFromPlane(
    planeOf(plane, (column, row) => {
      for (let line = 0; line < disc.left.length; line++) {
        for (let dx = disc.left[line]; dx <= disc.right[line]; dx++) {
          if ((pixelOr(plane, column + dx, row + disc.topRow + line, outside) ^ invert) === 0) return false;
        }
      }
      return true;
    }),
  );
}

function dilatedSlowly(plane: BitPlane, disc: Disc, outside: 0 | 1, invert: 0 | 1): string {
  return textFromPlane(
    planeOf(plane, (column, row) => {
      for (let line = 0; line < disc.left.length; line++) {
        for (let dx = disc.left[line]; dx <= disc.right[line]; dx++) {
          if ((pixelOr(plane, column - dx, row - disc.topRow - line, outside) ^ invert) === 1) return true;
        }
      }
      return false;
    }),
  );
}

function pixelOr(plane: BitPlane, column: number, row: number, outside: 0 | 1): number {
  const inside = column >= 0 && row >= 0 && column < plane.widthPx && row < plane.heightPx;
  return inside ? bitAt(plane, column, row) : outside;
}

function planeOf(like: BitPlane, isOpaque: (column: number, row: number) => boolean): BitPlane {
  const plane = createBitPlane(like.widthPx, like.heightPx);
  for (let row = 0; row < like.heightPx; row++) {
    for (let column = 0; column < like.widthPx; column++) if (isOpaque(column, row)) setBit(plane, column, row);
  }
  return plane;
}

/** Random planes with mostly large blobs, so that erosions leave something. */
const planes = fc
  .record({
    widthPx: fc.integer({ min: 1, max: 150 }),
    heightPx: fc.integer({ min: 1, max: 60 }),
    boxes: fc.array(
      fc.tuple(
        fc.integer({ max: 140, min: -10 }),
        fc.integer({ max: 55, min: -10 }),
        fc.nat(60),
        fc.nat(40),
        fc.boolean(),
      ),
      { maxLength: 12 },
    ),
    specks: fc.array(fc.tuple(fc.nat(149), fc.nat(59)), { maxLength: 20 }),
  })
  .map(({ widthPx, heightPx, boxes, specks }) => {
    const rows = Array.from({ length: heightPx }, () => new Uint8Array(widthPx));
    for (const [left, top, width, height, opaque] of boxes) {
      for (let row = Math.max(0, top); row < Math.min(heightPx, top + height); row++) {
        rows[row].fill(opaque ? 1 : 0, Math.max(0, left), Math.max(0, left + width));
      }
    }
    for (const [column, row] of specks) if (row < heightPx && column < widthPx) rows[row][column] ^= 1;
    return planeOf(createBitPlane(widthPx, heightPx), (column, row) => rows[row][column] === 1);
  });

const discs = fc.oneof(
  fc.integer({ min: 1, max: 30 }).map(discOfDiameter),
  fc
    .tuple(fc.double({ min: 0, max: 14, noNaN: true }), fc.constantFrom(1, 0.5, 2, 1.2))
    .map(([r, p]) => discOfRadius(r, p)),
);

describe('erosion, dilation and opening by a disc', () => {
  it('take the pixels the definition names, on random planes', () => {
    fc.assert(
      fc.property(planes, discs, fc.constantFrom<0 | 1>(0, 1), fc.boolean(), (plane, disc, outside, inverted) => {
        const beyond = outside === 1 ? 'opaque' : 'clear';
        expect(textFromPlane(erodedByDisc(plane, disc, beyond, inverted))).toBe(
          erodedSlowly(plane, disc, outside, inverted ? 1 : 0),
        );
        expect(textFromPlane(dilatedByDisc(plane, disc, beyond, inverted))).toBe(
          dilatedSlowly(plane, disc, outside, inverted ? 1 : 0),
        );
      }),
      { numRuns: 150, seed: 11 },
    );
  });

  it('take them for discs wider than two words too', () => {
    const plane = planeOf(
      createBitPlane(260, 120),
      (column, row) => (column - 120) ** 2 / 4 + (row - 60) ** 2 < 57 ** 2,
    );
    for (const radius of [33, 40.5, 52]) {
      const disc = discOfRadius(radius);
      const eroded = erodedByDisc(plane, disc);
      expect(textFromPlane(eroded)).toBe(erodedSlowly(plane, disc, 0, 0));
      expect(textFromPlane(dilatedByDisc(eroded, disc))).toBe(dilatedSlowly(eroded, disc, 0, 0));
    }
  });

  it('opening keeps exactly what discs that fit can cover', () => {
    fc.assert(
      fc.property(planes, discs, (plane, disc) => {
        const opened = openedByDisc(plane, disc);
        expect(textFromPlane(openedByDisc(opened, disc))).toBe(textFromPlane(opened));
        opened.words.forEach((word, index) => {
          expect(word & ~plane.words[index]).toBe(0);
        });
      }),
      { numRuns: 60, seed: 12 },
    );
  });

  it('a disc of 3 pixels keeps a 3 pixel bar less its corners and drops a 2 pixel one', () => {
    const plane = planeFromText(`
      ............
      .#####..##..
      .#####..##..
      .#####..##..
      ............
    `);
    // Diameter 3 holds the pixel, its four neighbours and, at distance 1.41 < 1.5, its diagonals.
    expect(textFromPlane(openedByDisc(plane, discOfDiameter(3)))).toBe(
      ['............', '.#####......', '.#####......', '.#####......', '............'].join('\n'),
    );
  });

  it('clear film reaches beyond the edges in the inverted sense', () => {
    const plane = planeFromText('..#..');
    expect(textFromPlane(erodedByDisc(plane, discOfRadius(1), 'clear', true))).toBe('#...#');
    expect(textFromPlane(invertedPlane(plane))).toBe('##.##');
  });

  it('even discs sit on pixel corners and mirror into themselves shifted by one', () => {
    const disc = discOfDiameter(4);
    // Centres at (±0.5, ±1.5): 2.5 <= 4; (±1.5, ±1.5): 4.5 > 4.
    expect([disc.topRow, ...disc.left]).toEqual([-2, -1, -2, -2, -1]);
    expect([...disc.right]).toEqual([0, 1, 1, 0]);
    expect([...mirroredDisc(disc).left]).toEqual([0, -1, -1, 0]);
    expect([...mirroredDisc(disc).right]).toEqual([1, 2, 2, 1]);
    expect(mirroredDisc(disc).topRow).toBe(-1);
  });

  it('refuses a diameter that is no whole number', () => {
    expect(() => discOfDiameter(2.5)).toThrow('expected a whole number of at least 1, received 2.5');
  });
});
