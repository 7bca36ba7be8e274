/** Places along the columns and rows are whole numbers of which this many stand for a pixel. */
export const perPixel: f64 = 4294967296;
const pixelBits: i64 = 32;
/** So much further right and down, a millionth of a pixel, so that a place between two pixels is always past the line. */
const onTheLine: i64 = 4096;
/** The same for steps over cells of 8 px: their sides in pixels, and steps to a pixel, in 4096ths. */
const cellMask: i64 = ((<i64>8) << 32) - 1;
const shareBits: i64 = 12;
const mostStepsToPixel: f64 = 4096;

/** A plane as it lies on the film. Off the film there is no ink, also when inverted. */
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
  /** The place read from, and the step on from there. */
  x: i64;
  y: i64;
  stepX: i64;
  stepY: i64;

  /** Sets the place (mm) to read from, and the step (mm) on from it. */
  stand(xMm: f64, yMm: f64, stepXMm: f64, stepYMm: f64): void {
    this.x = <i64>((xMm / this.pitchXMm) * perPixel) + onTheLine;
    this.y = <i64>((yMm / this.pitchYMm) * perPixel) + onTheLine;
    this.stepX = <i64>((stepXMm / this.pitchXMm) * perPixel);
    this.stepY = <i64>((stepYMm / this.pitchYMm) * perPixel);
  }

  /** 1 where there is ink so many 128ths of a step on, else 0. */
  // @ts-ignore: decorator
  @inline
  at(steps128: i64): u32 {
    const column = <i32>((this.x + ((steps128 * this.stepX) >> 7)) >> pixelBits);
    const row = <i32>((this.y + ((steps128 * this.stepY) >> 7)) >> pixelBits);
    return this.isOff(column, row) ? this.flip : this.pixel(column, row);
  }

  // @ts-ignore: decorator
  @inline
  isOff(column: i32, row: i32): bool {
    return <u32>column >= <u32>this.widthPx || <u32>row >= <u32>this.heightPx;
  }

  // @ts-ignore: decorator
  @inline
  pixel(column: i32, row: i32): u32 {
    const word = load<u32>(this.words + ((<usize>(row * this.wordsPerRow + (column >> 5))) << 2));
    return ((word >> (column & 31)) & 1) ^ this.flip;
  }

  /**
   * Goes on, or back with `direction` -1, by whole steps from three quarters of one, and answers the first of them, up
   * to `last`, at which the field reads `wanted`, or 0 when none does. What lies in a cell without an edge is passed
   * over after one look.
   */
  firstStep(wanted: u32, direction: i64, last: i32): i32 {
    const dx = direction * this.stepX;
    const dy = direction * this.stepY;
    const fromX = this.x + ((3 * dx) >> 2);
    const fromY = this.y + ((3 * dy) >> 2);
    const perColumn = stepsToPixel(dx);
    const perRow = stepsToPixel(dy);
    for (let k = 1; k <= last; k++) {
      const x = fromX + <i64>k * dx;
      const y = fromY + <i64>k * dy;
      const column = <i32>(x >> pixelBits);
      const row = <i32>(y >> pixelBits);
      if (this.isOff(column, row)) {
        if (this.flip == wanted) return k;
        continue;
      }
      if (this.pixel(column, row) == wanted) return k;
      const cell = load<u32>(this.cells + ((<usize>((row >> 3) * this.cellWordsPerRow + (column >> 8))) << 2));
      if (((cell >> ((column >> 3) & 31)) & 1) == 0) {
        k += <i32>min(stepsWithin(x, dx, perColumn), stepsWithin(y, dy, perRow));
      }
    }
    return 0;
  }

  /** Where ink begins between places so many 128ths of a step on, clear and inked, to a 32nd of what lies between. */
  inkBegins(from: i64, to: i64): i64 {
    let clear = from;
    let ink = to;
    for (let i = 0; i < 5; i++) {
      const middle = (clear + ink) >> 1;
      if (this.at(middle) == 1) ink = middle;
      else clear = middle;
    }
    return (clear + ink) >> 1;
  }
}

function stepsToPixel(step: i64): i64 {
  return <i64>(Math.min(mostStepsToPixel, perPixel / Math.abs(<f64>step)) * <f64>(1 << shareBits));
}

/** How many whole steps from a place still stay within its cell; never too many. */
// @ts-ignore: decorator
@inline
function stepsWithin(place: i64, step: i64, perPixelOfWay: i64): i64 {
  const inCell = place & cellMask;
  const room = step > 0 ? cellMask + 1 - inCell : inCell;
  return max<i64>(0, ((room >> (pixelBits - shareBits)) * perPixelOfWay - 1) >> (2 * shareBits));
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
  field.flip = inverted ? 1 : 0;
  field.cells = cells;
  field.cellWordsPerRow = cellWordsPerRow;
}
