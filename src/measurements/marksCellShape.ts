import { type BitPlane, bitAt, bitsAt } from '../raster/bitPlane.ts';
import type { MarkCells } from './marksCells.ts';

/** The box of a group of cells and what is inked of it, row by row. */
export interface CellShape {
  readonly inked: Uint8Array;
  readonly left: number;
  readonly top: number;
  readonly width: number;
  readonly height: number;
}

/** A shape of at least so many cells is looked at this far in from its sides, and may be inked there by this share. */
const fewestBlobCells = 24;
const blobDepth = 0.12;
const broadShare = 0.5;

/** Whether the cells of a shape leave it open that it is a mark, or a field with a white one. */
export function mayBeMark(
  bits: BitPlane,
  shape: CellShape,
  cells: MarkCells,
  reversed: boolean,
  softPx: number,
): boolean {
  const isBlack = !reversed && softPx === 0;
  if (isOnTwoBands(shape)) return holdsStrokes(shape, wholeStroke);
  const isClear = hasClearCorners(shape);
  if (!isClear && !hasFullSides(shape)) return false;
  if (!isClear || (isBlob(shape) && !isCrossed(bits, shape, cells, reversed))) {
    return isBlack && isPierced(bits, shape, cells);
  }
  return isEven(shape) && holdsStrokes(shape, brokenStroke);
}

/** Whether the cells of a long shape leave it open that it is a tick: its ends stand over each other, within a small turn. */
export function mayBeTick({ inked, width, height }: CellShape): boolean {
  const isUpright = height > width;
  const [along, across] = isUpright ? [height, width] : [width, height];
  const middleOf = (from: number, to: number): number => {
    let sum = 0;
    let count = 0;
    for (let a = from; a < to; a++) {
      for (let c = 0; c < across; c++) {
        if (inked[isUpright ? a * width + c : c * width + a] === 0) continue;
        sum += c;
        count++;
      }
    }
    return sum / count;
  };
  const part = Math.ceil(along / 4);
  const lean = Math.abs(middleOf(0, part) - middleOf(along - part, along));
  return lean <= tickSlackCells + steepestTick * (along - part);
}

const tickSlackCells = 1;
/** A little more than the 2.5 degrees a film may lie turned. */
const steepestTick = 0.05;

/** The same of a piece at the film's edge, of which only the corners away from the edge tell. */
export function mayBeCut(shape: CellShape, left: boolean, top: boolean, right: boolean, bottom: boolean): boolean {
  const { inked, width, height } = shape;
  const [across, down] = [Math.floor(cornerShare * width), Math.floor(cornerShare * height)];
  const isInked = (fromColumn: number, fromRow: number): boolean => {
    for (let r = fromRow; r < fromRow + down; r++) {
      for (let c = fromColumn; c < fromColumn + across; c++) if (inked[r * width + c] === 1) return true;
    }
    return false;
  };
  if (!left && !top && isInked(0, 0)) return false;
  if (!right && !top && isInked(width - across, 0)) return false;
  if (!left && !bottom && isInked(0, height - down)) return false;
  if (!right && !bottom && isInked(width - across, height - down)) return false;
  return holdsStrokes(shape, brokenStroke);
}

/** Whether the cells next to all four sides are inked nearly throughout. */
function hasFullSides({ inked, width, height }: CellShape): boolean {
  const share = (count: number, at: (i: number) => number): number => {
    let sum = 0;
    for (let i = 0; i < count; i++) sum += at(i);
    return sum / count;
  };
  return (
    share(width, (c) => inked[width + c]) > fullShare &&
    share(width, (c) => inked[(height - 2) * width + c]) > fullShare &&
    share(height, (r) => inked[r * width + 1]) > fullShare &&
    share(height, (r) => inked[r * width + width - 2]) > fullShare
  );
}

const fullShare = 0.85;

/** The box around a group of cells, ends not included. */
export function boxOfCells(
  group: Int32Array,
  cellsPerRow: number,
): { left: number; top: number; right: number; bottom: number } {
  let [left, top, right, bottom] = [cellsPerRow, Infinity, 0, 0];
  for (let k = 0; k < group.length; k++) {
    const row = Math.floor(group[k] / cellsPerRow);
    const column = group[k] - row * cellsPerRow;
    if (column < left) left = column;
    if (column >= right) right = column + 1;
    if (row < top) top = row;
    if (row >= bottom) bottom = row + 1;
  }
  return { left, top, right, bottom };
}

export function shapeOf(group: Int32Array, cellsPerRow: number): CellShape {
  const { left, top, right, bottom } = boxOfCells(group, cellsPerRow);
  const width = right - left;
  const inked = new Uint8Array(width * (bottom - top));
  for (const cell of group) {
    const column = cell % cellsPerRow;
    inked[((cell - column) / cellsPerRow - top) * width + column - left] = 1;
  }
  return { inked, left, top, width, height: bottom - top };
}

/** The inked cells of which a group of larger ones was made. */
export function finerShapeOf(group: Int32Array, plane: BitPlane, finer: MarkCells, reversed: boolean): CellShape {
  const cells = reversed ? finer.clear! : finer.inked;
  const found = new Int32Array(9 * group.length);
  let count = 0;
  for (let k = 0; k < group.length; k++) {
    const column = 3 * (group[k] % plane.widthPx);
    const row = 3 * Math.floor(group[k] / plane.widthPx);
    for (let r = row; r < Math.min(cells.heightPx, row + 3); r++) {
      for (let three = bitsAt(cells, column, r, 3); three !== 0; three &= three - 1) {
        found[count++] = r * cells.widthPx + column + 31 - Math.clz32(three & -three);
      }
    }
  }
  return shapeOf(found.subarray(0, count), cells.widthPx);
}

/**
 * Whether a shape is broad a little way in from three of its sides or all, where most marks show no more than the ends
 * of their arms or the sides of their ring. Small shapes have too few cells to tell.
 */
function isBlob({ inked, width, height }: CellShape): boolean {
  if (Math.min(width, height) < fewestBlobCells) return false;
  const row = Math.round(blobDepth * height);
  const column = Math.round(blobDepth * width);
  let broad = 0;
  for (const r of [row, height - 1 - row]) {
    let count = 0;
    for (let c = 0; c < width; c++) count += inked[r * width + c];
    if (count > broadShare * width) broad++;
  }
  for (const c of [column, width - 1 - column]) {
    let count = 0;
    for (let r = 0; r < height; r++) count += inked[r * width + c];
    if (count > broadShare * height) broad++;
  }
  return broad >= 3;
}

/** Whether the middle of a broad shape is cut through from all four sides, as by a white cross or between quadrants. */
function isCrossed(bits: BitPlane, shape: CellShape, { factorX, factorY }: MarkCells, reversed: boolean): boolean {
  const left = shape.left * factorX;
  const top = shape.top * factorY;
  const width = shape.width * factorX;
  const height = shape.height * factorY;
  const ink = reversed ? 0 : 1;
  const changes = (at: (share: number) => number, count: number): boolean => {
    let turns = 0;
    for (let i = 1; i < count; i++) if ((at(i / count) === ink) !== (at((i - 1) / count) === ink)) turns++;
    return turns >= 1 && turns <= 4;
  };
  let crossed = 0;
  for (const depth of [0.27, 0.73]) {
    const row = Math.round(top + depth * height);
    const column = Math.round(left + depth * width);
    if (changes((s) => bitAt(bits, Math.floor(left + (0.4 + 0.2 * s) * width), row), 0.2 * width)) crossed++;
    if (changes((s) => bitAt(bits, column, Math.floor(top + (0.4 + 0.2 * s) * height)), 0.2 * height)) crossed++;
  }
  return crossed === 4;
}

/** Whether black alternates with clear film along lines through a shape, as in a field with a white mark. */
function isPierced(bits: BitPlane, shape: CellShape, { factorX, factorY }: MarkCells): boolean {
  const row = Math.floor((shape.top + 0.35 * shape.height) * factorY);
  const from = shape.left * factorX;
  let turns = 0;
  for (let i = 1; i < shape.width * factorX; i++) {
    if (bitAt(bits, from + i, row) !== bitAt(bits, from + i - 1, row)) turns++;
  }
  return turns >= 3 && turns <= 16;
}

/** Whether nothing reaches into the corners of a shape's box, as in every mark about its own middle. */
function hasClearCorners({ inked, width, height }: CellShape): boolean {
  const [across, down] = [Math.floor(cornerShare * width), Math.floor(cornerShare * height)];
  for (let r = 0; r < height; r++) {
    if (r >= down && r < height - down) continue;
    for (let c = 0; c < width; c++) {
      if ((c < across || c >= width - across) && inked[r * width + c] === 1) return false;
    }
  }
  return true;
}

/** Whether nearly all of a shape lies on one upright and one level band, as two strokes do wherever they meet. */
function isOnTwoBands({ inked, width, height }: CellShape): boolean {
  const inRow = new Int32Array(height);
  const inColumn = new Int32Array(width);
  let count = 0;
  for (let r = 0; r < height; r++) {
    for (let c = 0; c < width; c++) {
      if (inked[r * width + c] === 0) continue;
      inRow[r]++;
      inColumn[c]++;
      count++;
    }
  }
  const row = inRow.indexOf(Math.max(...inRow));
  const column = inColumn.indexOf(Math.max(...inColumn));
  const reach = bandCells + Math.ceil(bandShare * Math.max(width, height));
  let off = 0;
  for (let r = 0; r < height; r++) {
    if (Math.abs(r - row) <= reach) continue;
    for (let c = 0; c < width; c++) if (Math.abs(c - column) > reach) off += inked[r * width + c];
  }
  return off <= offBandsShare * count;
}

const cornerShare = 0.1;
/** A stroke in cells, and what its own weight and a turn of the film add. */
const bandCells = 2;
const bandShare = 0.08;
const offBandsShare = 0.05;

/** Whether a shape is the same turned half round, to a cell. */
function isEven({ inked, width, height }: CellShape): boolean {
  let count = 0;
  let met = 0;
  for (let r = 0; r < height; r++) {
    for (let c = 0; c < width; c++) {
      if (inked[r * width + c] === 0) continue;
      count++;
      const [oc, or] = [width - 1 - c, height - 1 - r];
      let found = 0;
      for (let rr = Math.max(0, or - 1); rr <= Math.min(height - 1, or + 1); rr++) {
        for (let cc = Math.max(0, oc - 1); cc <= Math.min(width - 1, oc + 1); cc++) found |= inked[rr * width + cc];
      }
      met += found;
    }
  }
  return met >= evenShare * count;
}

const evenShare = 0.85;
/** Arms may stop short of the middle; strokes that meet to one side run through. */
const brokenStroke = 0.65;
const wholeStroke = 0.85;

/** Whether some upright and some level band three cells wide is inked nearly all along: true for every mark. */
function holdsStrokes({ inked, width, height }: CellShape, share: number): boolean {
  const longest = (along: number, across: number, at: (a: number, c: number) => number): number => {
    let most = 0;
    for (let c = 0; c < across; c++) {
      let count = 0;
      for (let a = 0; a < along; a++) {
        if (at(a, c) === 1 || (c > 0 && at(a, c - 1) === 1) || (c + 1 < across && at(a, c + 1) === 1)) count++;
      }
      if (count > most) most = count;
    }
    return most / along;
  };
  return (
    longest(height, width, (a, c) => inked[a * width + c]) >= share &&
    longest(width, height, (a, c) => inked[c * width + a]) >= share
  );
}
