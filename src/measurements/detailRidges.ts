import type { BitPlane } from '../raster/bitPlane.ts';
import { visitComponents } from '../raster/components.ts';
import { discOfRadius } from '../raster/disc.ts';
import { EdgeFinder } from '../raster/edgeDistance.ts';
import { erasePart } from '../raster/floodPart.ts';
import { halvedPlane } from '../raster/halvedPlane.ts';
import { endKinds, followLines, type LineChains } from '../raster/lineChains.ts';
import { erodedByDisc } from '../raster/morphology.ts';
import { shapeWidths } from '../raster/shapeWidths.ts';
import { SparseBits } from '../raster/sparseBits.ts';
import { type ThinnedVisitor, type ThinningOptions, visitThinned } from '../raster/thinning.ts';
import { stripWords } from './detailMemory.ts';

/** Stretches up to this wide are peeled at the plate's own resolution, broader ones at half of it. */
const fineReachPx = 4;
/** Broad parts smaller than this are specks in a stretch just about that wide, and peeled with it. */
const leastCorePx = 80;

/**
 * Middle lines of all that is narrower than was searched for. Points are in pixels, pixel c covering c … c + 1; widths
 * in units of a pixel's width. Chain k has the points `starts[k]` up to `starts[k + 1]`; its ends are numbered 2k
 * (head) and 2k + 1 (tail).
 */
export interface Ridges {
  readonly count: number;
  readonly starts: Int32Array;
  readonly xs: Float32Array;
  readonly ys: Float32Array;
  readonly widths: Float32Array;
  readonly endKind: Uint8Array;
  readonly endNode: Int32Array;
  readonly closed: Uint8Array;
  readonly nodeXs: Float32Array;
  readonly nodeYs: Float32Array;
}

/** Rows of a shape peeled at once. */
const stripRowsPx = 2048;
/** Peeling is done after as many turns as a shape is wide, but for the ends of lines, which go on a little. */
const moreTurns = 32;

/** Pixels not to be looked at. Rows are given by the first and one past the last. */
export interface LeftOut {
  /** How many pixels of some rows these are. */
  share(from: number, to: number): 'none' | 'some' | 'all';
  /** A plane of some rows, opaque on these pixels, in words that are there. */
  rows(from: number, to: number, into: Uint32Array): BitPlane;
}

export interface RidgeSearch {
  /** The opaque pixels are searched, with `inverted` the clear ones; then the film's surroundings count as clear. */
  readonly inverted: boolean;
  /** Where not to look; null: everywhere is looked at. */
  readonly leftOut: LeftOut | null;
  readonly searchPx: number;
  /** Height of a pixel in units of its width. */
  readonly rowPitch: number;
  /** An even number; what is found does not depend on it. */
  readonly stripRows?: number;
}

/**
 * Finds the middle lines of a shape where the largest disc that fits is smaller than was searched for.
 * The shape is peeled to lines from its edges, but never where a disc of the searched size has its centre, so the lines
 * hang between the broad parts. That is done in two steps: what is up to 8 pixels wide at full resolution, then what is
 * left of the rest at half of it. Widths are taken at full resolution either way. Only a strip of the shape is worked on
 * at a time, with as many rows around it as can matter.
 */
export function findRidges(shape: BitPlane, search: RidgeSearch): { fine: Ridges; broad: Ridges; finder: EdgeFinder } {
  const { inverted, searchPx, rowPitch } = search;
  const reach = (searchPx + 1) / 2;
  const twoSteps = reach > fineReachPx + 2;
  const reaches = { fine: twoSteps ? fineReachPx : reach, broad: twoSteps ? (reach - fineReachPx) / 2 + 0.5 : null };
  const lines = peeledStrips(shape, search, reaches);
  const ridgesOf = (found: FoundLines, scale: 1 | 2): Ridges => {
    const isBody = (column: number, row: number) =>
      column < 0 || row < 0 || column >= found.lines.widthPx || row >= found.lines.heightPx
        ? inverted
        : found.bodies.at(column, row) === 1;
    const chains = followLines(found.lines, isBody);
    const points = { columns: chains.columns, rows: chains.rows, scale };
    return measured(chains, scale, shapeWidths(shape, inverted, rowPitch, points, searchPx + 3));
  };
  return {
    fine: ridgesOf(lines.fine, 1),
    broad: lines.broad === null ? emptyRidges() : ridgesOf(lines.broad, 2),
    finder: new EdgeFinder(shape, inverted, rowPitch),
  };
}

/** Thinned lines, and the pixels of broad parts beside them. */
interface FoundLines {
  readonly lines: SparseBits;
  readonly bodies: SparseBits;
}

function peeledStrips(
  shape: BitPlane,
  { inverted, leftOut, rowPitch, stripRows = stripRowsPx }: RidgeSearch,
  reaches: { readonly fine: number; readonly broad: number | null },
): { fine: FoundLines; broad: FoundLines | null } {
  const { widthPx, heightPx } = shape;
  const fine = emptyLines(widthPx, heightPx);
  const broad = reaches.broad === null ? null : emptyLines(Math.ceil(widthPx / 2), Math.ceil(heightPx / 2));
  const fineDisc = discOfRadius(reaches.fine, rowPitch);
  const broadDisc = discOfRadius(reaches.broad ?? 0, rowPitch);
  const fineTurns = 2 * Math.ceil(reaches.fine) + moreTurns;
  const broadTurns = 2 * Math.ceil(reaches.broad ?? 0) + moreTurns;
  const discRows = Math.max(fineDisc.left.length, broadDisc.left.length);
  // What lies further off than this from a pixel has no say in it: turns, specks, discs, and all that at half the size.
  const halo = 2 * (Math.max(fineTurns, broadTurns) + discRows + leastCorePx);
  const outside = inverted ? 'opaque' : 'clear';
  // One strip is worked on after the other in the same memory.
  const wordsAStrip = shape.wordsPerRow * Math.min(heightPx, stripRows + 2 * halo);
  const coreWords = stripWords.core.take(wordsAStrip);
  const halfWords = stripWords.half.take(wordsAStrip);
  const broadWords = stripWords.broad.take(wordsAStrip);
  for (let top = 0; top < heightPx; top += stripRows) {
    const bottom = Math.min(heightPx, top + stripRows);
    // Lines beside the strip tell of the pixels next to them, at half the size of those four rows away.
    if (leftOut?.share(Math.max(0, top - 4), Math.min(heightPx, bottom + 4)) === 'all') continue;
    const from = Math.max(0, top - halo);
    const to = Math.min(heightPx, bottom + halo);
    const strip = rowsOf(shape, from, to);
    const core = erodedByDisc(strip, fineDisc, 'clear', inverted, coreWords);
    let left: BitPlane | null = null;
    if (leftOut !== null && leftOut.share(from, to) !== 'none') {
      left = leftOut.rows(from, to, stripWords.left.take(wordsAStrip));
      addPixels(core, left);
    }
    if (broad !== null) dropSpecks(core);
    peel(strip, { inverted, kept: core, mostTurns: fineTurns }, top - from, bottom - from, collector(fine, from));
    if (broad === null) continue;
    const half = halvedPlane(core, halfWords);
    const broadCore = erodedByDisc(half, broadDisc, outside, false, broadWords);
    if (left !== null) addPixels(broadCore, halvedPlane(left, coreWords));
    const options = { inverted: false, kept: broadCore, outside, mostTurns: broadTurns } as const;
    peel(half, options, (top - from) / 2, Math.ceil((bottom - from) / 2), collector(broad, from / 2));
  }
  return { fine, broad };
}

function emptyLines(widthPx: number, heightPx: number): FoundLines {
  return { lines: new SparseBits(widthPx, heightPx), bodies: new SparseBits(widthPx, heightPx) };
}

function collector({ lines, bodies }: FoundLines, firstRow: number): ThinnedVisitor {
  return (row, word, ofLines, beside) => {
    lines.addWord(firstRow + row, word, ofLines);
    bodies.addWord(firstRow + row, word, beside);
  };
}

/** Some rows of a plane, on the same words. */
function rowsOf({ widthPx, wordsPerRow, words }: BitPlane, from: number, to: number): BitPlane {
  return { widthPx, heightPx: to - from, wordsPerRow, words: words.subarray(from * wordsPerRow, to * wordsPerRow) };
}

/** Peels some rows, with no more rows around them than have a say in it. */
function peel(
  plane: BitPlane,
  options: ThinningOptions & { readonly kept: BitPlane; readonly mostTurns: number },
  fromRow: number,
  toRow: number,
  visit: ThinnedVisitor,
): void {
  const first = Math.max(0, fromRow - options.mostTurns - 2);
  const last = Math.min(plane.heightPx, toRow + options.mostTurns + 2);
  const rows = { fromRow: fromRow - first, toRow: toRow - first };
  const kept = rowsOf(options.kept, first, last);
  visitThinned(rowsOf(plane, first, last), { ...options, ...rows, kept }, (row, word, lines, beside) =>
    visit(first + row, word, lines, beside),
  );
}

function dropSpecks(plane: BitPlane): void {
  const specks: number[] = [];
  const options = { inverted: false, connectivity: 8, mostAreaPx: leastCorePx - 1, moments: false } as const;
  visitComponents(plane, options, ({ firstColumn, top }) => specks.push(firstColumn, top));
  for (let k = 0; k < specks.length; k += 2) erasePart(plane, specks[k], specks[k + 1], false);
}

function addPixels(plane: BitPlane, more: BitPlane): void {
  for (let index = 0; index < plane.words.length; index++) plane.words[index] |= more.words[index];
}

function measured(chains: LineChains, scale: number, widths: Float32Array): Ridges {
  const points = chains.columns.length;
  const xs = new Float32Array(points);
  const ys = new Float32Array(points);
  for (let k = 0; k < points; k++) {
    xs[k] = (chains.columns[k] + 0.5) * scale;
    ys[k] = (chains.rows[k] + 0.5) * scale;
  }
  return {
    count: chains.count,
    starts: chains.starts,
    xs,
    ys,
    widths,
    endKind: chains.endKind,
    endNode: chains.endNode,
    closed: chains.closed,
    nodeXs: Float32Array.from(chains.nodeColumns, (column) => (column + 0.5) * scale),
    nodeYs: Float32Array.from(chains.nodeRows, (row) => (row + 0.5) * scale),
  };
}

function emptyRidges(): Ridges {
  return {
    count: 0,
    starts: new Int32Array(1),
    xs: new Float32Array(0),
    ys: new Float32Array(0),
    widths: new Float32Array(0),
    endKind: new Uint8Array(0),
    endNode: new Int32Array(0),
    closed: new Uint8Array(0),
    nodeXs: new Float32Array(0),
    nodeYs: new Float32Array(0),
  };
}

/** The numbers of `endKinds` as stored in `endKind`. */
export const ridgeEnds = endKinds;
