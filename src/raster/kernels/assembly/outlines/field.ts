/** Side of a cell in pixels. */
const cellPx: f64 = 8;

/** A plane as it lies on the film, read by places in mm. Off the film there is no ink, also when inverted. */
@unmanaged
export class Field {
  words: usize;
  /** Cells of 8 x 8 px that hold an edge. */
  cells: usize;
  wordsPerRow: i32;
  cellWordsPerRow: i32;
  widthPx: i32;
  heightPx: i32;
  /** 1: clear film takes the part of ink. */
  flip: u32;
  pitchXMm: f64;
  pitchYMm: f64;
  perMmX: f64;
  perMmY: f64;

  /** 1 where there is ink, else 0. */
  at(xMm: f64, yMm: f64): u32 {
    const column = <i32>Math.floor(xMm * this.perMmX);
    const row = <i32>Math.floor(yMm * this.perMmY);
    if (<u32>column >= <u32>this.widthPx || <u32>row >= <u32>this.heightPx) return this.flip;
    return this.pixel(column, row);
  }

  // @ts-ignore: decorator
  @inline
  pixel(column: i32, row: i32): u32 {
    const word = load<u32>(this.words + ((<usize>(row * this.wordsPerRow + (column >> 5))) << 2));
    return ((word >> (column & 31)) & 1) ^ this.flip;
  }

  /**
   * Goes from a point by steps (mm) and answers the first of steps 1 to `last` at which the field reads `wanted`, or 0
   * when none does. Steps are counted from `start` steps past the point. What lies in a cell without an edge is passed
   * over after one look.
   */
  firstStep(wanted: u32, xMm: f64, yMm: f64, stepXMm: f64, stepYMm: f64, start: f64, last: i32): i32 {
    const dx = stepXMm * this.perMmX;
    const dy = stepYMm * this.perMmY;
    const fromX = xMm * this.perMmX + start * dx;
    const fromY = yMm * this.perMmY + start * dy;
    for (let k = 1; k <= last; k++) {
      const x = fromX + <f64>k * dx;
      const y = fromY + <f64>k * dy;
      const column = <i32>Math.floor(x);
      const row = <i32>Math.floor(y);
      if (<u32>column >= <u32>this.widthPx || <u32>row >= <u32>this.heightPx) {
        if (this.flip == wanted) return k;
        continue;
      }
      if (this.pixel(column, row) == wanted) return k;
      const cellColumn = column >> 3;
      const cellRow = row >> 3;
      const cells = load<u32>(this.cells + ((<usize>(cellRow * this.cellWordsPerRow + (cellColumn >> 5))) << 2));
      if (((cells >> (cellColumn & 31)) & 1) == 0) {
        k += min(stepsWithin(x - cellPx * <f64>cellColumn, dx), stepsWithin(y - cellPx * <f64>cellRow, dy));
      }
    }
    return 0;
  }

  /** Where ink begins between `from` (clear) and `to` (ink) along a normal, to a 32nd of that span. */
  inkBegins(x: f64, y: f64, normalX: f64, normalY: f64, from: f64, to: f64): f64 {
    let clear = from;
    let ink = to;
    for (let i = 0; i < 5; i++) {
      const middle = (clear + ink) / 2;
      if (this.at(x + middle * normalX, y + middle * normalY) == 1) ink = middle;
      else clear = middle;
    }
    return (clear + ink) / 2;
  }
}

/** How many whole steps from an offset in a cell still stay in it; a thousand for very many. */
function stepsWithin(offset: f64, step: f64): i32 {
  const room = step > 0 ? cellPx - offset : offset;
  const size = Math.abs(step);
  return room >= 1000 * size ? 1000 : <i32>Math.ceil(room / size) - 1;
}

/** The plane whose outlines are walked, and the one they are read against. */
export const own = changetype<Field>(memory.data(offsetof<Field>(), 8));
export const other = changetype<Field>(memory.data(offsetof<Field>(), 8));

/** Sets the plane whose outlines are walked (`which` 0) or the one they are read against (1). */
export function setPlane(
  which: i32,
  words: usize,
  wordsPerRow: i32,
  widthPx: i32,
  heightPx: i32,
  pitchXMm: f64,
  pitchYMm: f64,
  inverted: bool,
  cells: usize,
  cellWordsPerRow: i32,
): void {
  const field = which == 0 ? own : other;
  field.words = words;
  field.wordsPerRow = wordsPerRow;
  field.widthPx = widthPx;
  field.heightPx = heightPx;
  field.pitchXMm = pitchXMm;
  field.pitchYMm = pitchYMm;
  field.perMmX = 1 / pitchXMm;
  field.perMmY = 1 / pitchYMm;
  field.flip = inverted ? 1 : 0;
  field.cells = cells;
  field.cellWordsPerRow = cellWordsPerRow;
}
