import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import type { BitPlane } from '../../../src/raster/bitPlane.ts';
import { discOfRadius } from '../../../src/raster/disc.ts';
import { findEdgeCells } from '../../../src/raster/edgeCells.ts';
import type { FacedOutline, StripReadings } from '../../../src/raster/facedOutline.ts';
import { type EdgedPlane, edgedPlane } from '../../../src/raster/griddedPlane.ts';
import { outlineKernels } from '../../../src/raster/kernels/outlineModule.ts';
import { PairByKernel } from '../../../src/raster/kernels/pairByKernel.ts';
import { dilatedByDisc, invertedPlane } from '../../../src/raster/morphology.ts';
import { edgeCellsPlain } from '../../../src/raster/outlines/edgeCellsPlain.ts';
import { PlainPair } from '../../../src/raster/outlines/plainPair.ts';
import type { OutlineSearch, PlanePair } from '../../../src/raster/planePair.ts';
import { drawBlobs } from '../../support/drawBlobs.ts';

const sizes = fc.tuple(fc.nat(1e6), fc.integer({ min: 1, max: 400 }), fc.integer({ min: 1, max: 300 }));
const noises = fc.constantFrom(0, 0.0005, 0.01, 0.5);
const pitches = fc.constantFrom([0.05, 0.05], [0.0353, 0.0353], [0.05, 0.08]);

function onFilm(bits: BitPlane, [pitchXMm, pitchYMm]: readonly number[]): EdgedPlane {
  const { widthPx, heightPx } = bits;
  return edgedPlane({ grid: { widthPx, heightPx, pitchXMm, pitchYMm }, bits });
}

/** Two planes that face each other along most of their outlines, lap over, leave gaps, or have nothing in common. */
const pairs = fc
  .tuple(sizes, noises, pitches, fc.integer({ min: -2, max: 2 }), fc.constantFrom(0, 1, 3.4, 6))
  .map(([[seed, widthPx, heightPx], noise, pitch, kind, growPx]): [EdgedPlane, EdgedPlane] => {
    const own = drawBlobs(seed, widthPx, heightPx, noise);
    const grown = dilatedByDisc(own, discOfRadius(growPx));
    if (kind === 2) return [onFilm(own, pitch), onFilm(drawBlobs(seed + 1, widthPx + 30, 200, noise), [0.0423, 0.06])];
    const other = kind === 1 ? drawBlobs(seed + 1, widthPx, heightPx, noise) : invertedPlane(grown);
    // A gap, a lap, or edges that fall together.
    return kind === 0
      ? [onFilm(grown, pitch), onFilm(invertedPlane(own), pitch)]
      : [onFilm(own, pitch), onFilm(other, pitch)];
  });

const searches = fc
  .record({
    reachMm: fc.constantFrom(0.1, 0.4, 1, 2.5),
    invertOther: fc.boolean(),
    seekStrips: fc.boolean(),
    covered: fc.boolean(),
    boxes: fc.array(fc.tuple(fc.double({ min: 0, max: 15, noNaN: true }), fc.double({ min: 0, max: 8, noNaN: true })), {
      maxLength: 2,
    }),
    leftOutTile: fc.nat(40),
  })
  .map(({ boxes, covered, leftOutTile, ...search }) => ({
    ...search,
    leftOutTile,
    ignoreBoxes: boxes.map(([at, sideMm]) => ({ xMm: at, yMm: at / 2, widthMm: sideMm, heightMm: sideMm })),
    cover: covered ? (x: number, y: number, acrossX: number) => Math.floor(3 * (x + acrossX) + y) % 2 === 0 : null,
  }));

interface OutlineTold extends Omit<FacedOutline, 'strips'> {
  readonly strips: Record<keyof StripReadings, number | boolean | Float64Array> | null;
}

/** All outlines found, with copies of what the pair uses again. */
function outlinesOf(pair: PlanePair, search: OutlineSearch): OutlineTold[] {
  const told: OutlineTold[] = [];
  pair.visitOutlines(search, ({ strips, ...outline }) => {
    const copied = (list: Float64Array) => list.slice(0, strips!.length);
    told.push({
      ...outline,
      strips:
        strips === null
          ? null
          : {
              length: strips.length,
              closed: strips.closed,
              xMm: copied(strips.xMm),
              yMm: copied(strips.yMm),
              normalX: copied(strips.normalX),
              normalY: copied(strips.normalY),
              stepMm: copied(strips.stepMm),
              stripMm: copied(strips.stripMm),
            },
    });
  });
  return told;
}

const byKernel = (own: EdgedPlane, other: EdgedPlane) => new PairByKernel(outlineKernels()!, own, other);

describe('pairs of planes by the kernels and by their twin', () => {
  it('the kernels are in use', () => {
    expect(outlineKernels()).not.toBeNull();
  });

  it('have the same edge cells and tiles', () => {
    fc.assert(
      fc.property(pairs, fc.constantFrom(0.05, 0.7, 3), ([own, other], reachMm) => {
        expect(findEdgeCells(own.bits)).toEqual(edgeCellsPlain(own.bits));
        const fast = byKernel(own, other);
        const plain = new PlainPair(own, other);
        expect(fast.edgeTiles()).toEqual(plain.edgeTiles());
        expect(fast.nearTiles(reachMm)).toEqual(plain.nearTiles(reachMm));
      }),
      { numRuns: 150, seed: 61 },
    );
  });

  it('share the same pixels, all in all and in parts of rows', () => {
    fc.assert(
      fc.property(pairs, fc.nat(1000), ([own, other], part) => {
        const fast = byKernel(own, other);
        const plain = new PlainPair(own, other);
        expect(fast.sharedAreaMm2()).toBe(plain.sharedAreaMm2());
        const { widthPx, heightPx } = own.bits;
        const from = part % widthPx;
        const spans = (span: (row: number, from: number, end: number) => void) => {
          for (let row = part % heightPx; row < heightPx; row += 2) span(row, from, widthPx - ((widthPx - from) >> 2));
        };
        const tiles = fast.nearTiles(0.3);
        const counted = plain.countSpans(tiles, spans);
        expect(fast.countSpans(tiles, spans)).toEqual({
          shared: counted.shared,
          levelSides: counted.levelSides,
          uprightSides: counted.uprightSides,
        });
      }),
      { numRuns: 150, seed: 62 },
    );
  });

  it('have the same outlines with the same readings, to the last bit', () => {
    let outlines = 0;
    let stretches = 0;
    let strips = 0;
    fc.assert(
      fc.property(pairs, searches, ([own, other], { leftOutTile, ...search }) => {
        const fast = byKernel(own, other);
        const tiles = search.seekStrips ? fast.edgeTiles() : fast.nearTiles(search.reachMm);
        // One tile left out cuts the outlines through it.
        tiles.fill(0, leftOutTile, leftOutTile + 1);
        const told = outlinesOf(fast, { ...search, tiles });
        expect(outlinesOf(new PlainPair(own, other), { ...search, tiles })).toEqual(told);
        outlines += told.length;
        stretches += told.reduce((sum, outline) => sum + outline.stretches.length, 0);
        strips += told.filter((outline) => outline.strips !== null).length;
      }),
      { numRuns: 300, seed: 63 },
    );
    // The comparison is worth something only where there is something to compare.
    expect(Math.min(outlines, stretches, strips)).toBeGreaterThan(1000);
  });
});
