import type { PointMm } from '../geometry/box.ts';
import type { Plate } from '../plates/plate.ts';
import type { BitPlane } from '../raster/bitPlane.ts';
import { ArtCells } from './marksArt.ts';
import { cellsOf, coarserCells, type MarkCells } from './marksCells.ts';
import { whiteInside } from './marksField.ts';
import { type MarkLevel, markLevels } from './marksGrey.ts';
import { keepPairedBrackets } from './marksLone.ts';
import { type Look, lookForMark, type Turned } from './marksLook.ts';
import { shapeMark } from './marksShape.ts';
import type { ShapedMark } from './marksShaped.ts';
import { showsTraceOf } from './marksTrace.ts';
import { cutBox, cutMarkWindows, type MarkWindow } from './marksWindow.ts';

/** A plate with the shapes like marks on it, and what is needed to look for others. */
export class PlateShapes {
  readonly plate: Plate;
  readonly shapes: readonly ShapedMark[];
  readonly #levels: readonly MarkLevel[];
  readonly #cells: MarkCells;
  #art: ArtCells | null = null;

  constructor(plate: Plate) {
    this.plate = plate;
    this.#levels = markLevels(plate);
    const cells = this.#levels.map(({ bits }) => cellsOf(bits, plate.grid));
    this.#cells = cells[0];
    const found = this.#levels.reduce<ShapedMark[]>(
      (known, level, index) => joined(known, shapesAt(plate, level, cells[index])),
      [],
    );
    this.shapes = keepPairedBrackets(withoutParts(found));
  }

  /** The plate's ink less all that looks like a mark. */
  get art(): ArtCells {
    this.#art ??= new ArtCells(this.#cells, this.plate.grid, this.shapes);
    return this.#art;
  }

  /** Looks for the mark of another plate at a place of this one. */
  look(found: ShapedMark, at: PointMm, withinMm: number, turned: Turned): Look {
    let cover: Look | null = null;
    for (const { bits } of this.#levels) {
      const look = lookForMark(found, bits, this.plate.grid, at, withinMm, turned);
      if (look.seen === 'mark') return look;
      if (look.seen === 'cover') cover ??= look;
    }
    if (cover !== null) return cover;
    if (this.#levels.length > 1 && showsTraceOf(found, this.plate, at, withinMm, turned)) {
      return { seen: 'cover', why: 'the film is too soft there to tell' };
    }
    return { seen: 'nothing' };
  }
}

function shapesAt(plate: Plate, { bits, softPx, look }: MarkLevel, cells: MarkCells): ShapedMark[] {
  let found: ShapedMark[] = [];
  // Most pieces are the same in larger cells.
  const known = new Set<string>();
  for (const size of [cells, coarserCells(cells)]) {
    for (const reversed of [false, true]) {
      // White lines in a black disc are whole at the level for white marks.
      const isDisc = look === 'white' && !reversed;
      if (look === 'black' && reversed) continue;
      const shapes: ShapedMark[] = [];
      for (const window of cutMarkWindows(bits, plate.grid, size, reversed, isDisc ? 0 : softPx, known)) {
        if (shapeOfPiece(window) === null) continue;
        const shape = shapeOfPiece({ ...window, ink: window.ink.slice() })!;
        shapes.push(withItsRing(plate, bits, shape));
      }
      found = joined(found, shapes);
    }
  }
  return found;
}

function shapeOfPiece(piece: MarkWindow): ShapedMark | null {
  return shapeMark(piece) ?? shapeInField(piece);
}

/** A mark that stands white in a black piece. */
function shapeInField(piece: MarkWindow): ShapedMark | null {
  if (piece.reversed) return null;
  const inside = whiteInside(piece);
  return inside === null ? null : shapeMark(inside);
}

/** A bare cross again with all that stands in its box, which may be a ring that does not touch its arms. */
function withItsRing({ grid }: Plate, bits: BitPlane, shape: ShapedMark): ShapedMark {
  if (shape.mark.kind !== 'crosshair' || shape.mark.cut) return shape;
  const { left, top, width, height, reversed, softPx } = shape.window;
  const all = cutBox(bits, grid, left, top, left + width, top + height, reversed);
  if (all === null) return shape;
  const whole = shapeMark({ ...all, softPx });
  return whole !== null && whole.ring !== null ? whole : shape;
}

/** The shapes less those within another, which are parts of it. */
function withoutParts(shapes: readonly ShapedMark[]): ShapedMark[] {
  return shapes.filter(
    ({ mark }) =>
      !shapes.some((other) => {
        const halfMm = other.mark.sizeMm / 2;
        const isLarger = other.mark.sizeMm > 1.15 * mark.sizeMm && other.lone === null && other.mark.kind !== 'corner';
        return isLarger && Math.abs(other.mark.xMm - mark.xMm) < halfMm && Math.abs(other.mark.yMm - mark.yMm) < halfMm;
      }),
  );
}

/** Both lists, each mark once: a target before a bare cross at the same place, else the larger, else the first. */
function joined(first: readonly ShapedMark[], second: readonly ShapedMark[]): ShapedMark[] {
  const all = [...first];
  for (const shape of second) {
    const at = all.findIndex((known) => {
      const apartMm = Math.hypot(known.mark.xMm - shape.mark.xMm, known.mark.yMm - shape.mark.yMm);
      return apartMm < 0.25 * Math.max(known.mark.sizeMm, shape.mark.sizeMm);
    });
    if (at < 0) all.push(shape);
    else if (isBetter(shape, all[at])) all[at] = shape;
  }
  return all;
}

function isBetter(shape: ShapedMark, known: ShapedMark): boolean {
  if ((shape.ring !== null) !== (known.ring !== null)) return shape.ring !== null;
  return shape.mark.sizeMm > 1.1 * known.mark.sizeMm && !shape.mark.cut;
}
