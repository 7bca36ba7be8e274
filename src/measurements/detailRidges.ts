import { type BitPlane, bitAt } from '../raster/bitPlane.ts';
import { visitComponents } from '../raster/components.ts';
import { discOfRadius } from '../raster/disc.ts';
import { EdgeFinder } from '../raster/edgeDistance.ts';
import { erasePart } from '../raster/floodPart.ts';
import { halvedPlane } from '../raster/halvedPlane.ts';
import { endKinds, followLines, type LineChains } from '../raster/lineChains.ts';
import { erodedByDisc } from '../raster/morphology.ts';
import { shapeWidths } from '../raster/shapeWidths.ts';
import { thinnedLines } from '../raster/thinning.ts';

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

/**
 * Finds the middle lines of a shape where the largest disc that fits is smaller than `searchPx`.
 * The shape is peeled to lines from its edges, but never where a disc of the searched size has its centre, so the lines
 * hang between the broad parts. That is done in two steps: what is up to 8 pixels wide at full resolution, then what is
 * left of the rest at half of it. Widths are taken at full resolution either way.
 * @param shape the opaque pixels (with `inverted` the clear ones; then the film's surroundings count as clear)
 * @param left pixels not to be looked at, or null
 */
export function findRidges(
  shape: BitPlane,
  inverted: boolean,
  left: BitPlane | null,
  searchPx: number,
  rowPitch: number,
): { fine: Ridges; broad: Ridges; finder: EdgeFinder } {
  const finder = new EdgeFinder(shape, inverted, rowPitch);
  const limitPx = searchPx + 3;
  const searchReach = (searchPx + 1) / 2;
  const twoSteps = searchReach > fineReachPx + 2;
  const core = erodedByDisc(shape, discOfRadius(twoSteps ? fineReachPx : searchReach, rowPitch), 'clear', inverted);
  if (twoSteps) dropSpecks(core, left);
  const half = twoSteps ? halvedPlane(core) : null;
  if (left !== null) addPixels(core, left);
  const fineLines = thinnedLines(shape, { inverted, kept: core });
  const fineChains = followLines(fineLines, bodyTest(core, shape, inverted, inverted));
  const widthsOf = ({ columns, rows }: LineChains, scale: 1 | 2) =>
    shapeWidths(shape, inverted, rowPitch, { columns, rows, scale }, limitPx);
  const fine = measured(fineChains, 1, widthsOf(fineChains, 1));
  if (half === null) return { fine, broad: emptyRidges(), finder };

  const outside = inverted ? 'opaque' : 'clear';
  const broadCore = erodedByDisc(half, discOfRadius((searchReach - fineReachPx) / 2 + 0.5, rowPitch), outside);
  if (left !== null) addPixels(broadCore, halvedPlane(left));
  const lines = thinnedLines(half, { inverted: false, kept: broadCore, outside });
  const broadChains = followLines(lines, bodyTest(broadCore, half, false, inverted));
  const broad = measured(broadChains, 2, widthsOf(broadChains, 2));
  return { fine, broad, finder };
}

/** Specks that begin in what is not looked at are left: a halftone has hundreds of thousands. */
function dropSpecks(plane: BitPlane, left: BitPlane | null): void {
  const specks: number[] = [];
  const options = { inverted: false, connectivity: 8, mostAreaPx: leastCorePx - 1 } as const;
  visitComponents(plane, options, ({ firstColumn, top }) => {
    if (left === null || bitAt(left, firstColumn, top) === 0) specks.push(firstColumn, top);
  });
  for (let k = 0; k < specks.length; k += 2) erasePart(plane, specks[k], specks[k + 1], false);
}

function bodyTest(
  kept: BitPlane,
  shape: BitPlane,
  inverted: boolean,
  beyond: boolean,
): (column: number, row: number) => boolean {
  const { widthPx, heightPx, wordsPerRow } = kept;
  const flip = inverted ? -1 : 0;
  return (column, row) => {
    if (column < 0 || row < 0 || column >= widthPx || row >= heightPx) return beyond;
    const index = row * wordsPerRow + (column >> 5);
    return (((kept.words[index] & (shape.words[index] ^ flip)) >>> (column & 31)) & 1) === 1;
  };
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
