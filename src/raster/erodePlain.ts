import type { BitPlane } from './bitPlane.ts';
import type { Disc } from './disc.ts';
import { planRuns } from './discRuns.ts';

/** Columns of words and rows worked on at once, so that everything touched stays in the processor's near caches. */
const blockWords = 16;
const blockRows = 128;

/**
 * Erosion by a disc, 32 pixels a step.
 * @param outsideBit what lies beyond the edges once the plane has been inverted
 * @param invertIn, invertOut takes the plane inverted, gives the answer inverted
 */
export function erodePlain(
  plane: BitPlane,
  disc: Disc,
  outsideBit: boolean,
  invertIn: boolean,
  invertOut: boolean,
): BitPlane {
  const { widthPx, heightPx, wordsPerRow } = plane;
  const { steps, runOfRow, runCount } = planRuns(disc);
  const source = new Int32Array(plane.words.buffer, plane.words.byteOffset, plane.words.length);
  const target = new Int32Array(plane.words.length);
  const reach = Math.max(1, ...disc.left.map((column) => -column), ...disc.right);
  const halo = Math.ceil(reach / 32);
  const span = blockWords + 2 * halo;
  const rowsAbove = Math.max(0, -disc.topRow);
  const bottomRow = disc.topRow + disc.left.length - 1;
  const rowsBelow = Math.max(0, bottomRow);
  const tallRows = blockRows + rowsAbove + rowsBelow;
  const block = new Int32Array(span * tallRows);
  const runs = new Int32Array(runCount * span * tallRows);
  const spare = [new Int32Array(span), new Int32Array(span)];
  const outside = outsideBit ? -1 : 0;
  const flip = invertIn ? -1 : 0;
  const flipOut = invertOut ? -1 : 0;
  const lastWord = (widthPx - 1) >> 5;
  const tail = (widthPx & 31) === 0 ? -1 : (1 << (widthPx & 31)) - 1;

  for (let top = 0; top < heightPx; top += blockRows) {
    const rows = Math.min(blockRows, heightPx - top);
    for (let from = 0; from <= lastWord; from += blockWords) {
      const kind = loadBlock(from, top, rows);
      const count = Math.min(blockWords, lastWord + 1 - from);
      if (kind !== 0) {
        const word = (kind < 0 ? -1 : 0) ^ flipOut;
        for (let row = top; row < top + rows; row++) {
          target.fill(word, row * wordsPerRow + from, row * wordsPerRow + from + count);
        }
      } else {
        widenRuns(rows);
        joinRows(from, top, rows, count);
      }
    }
    for (let row = top; row < top + rows; row++) target[row * wordsPerRow + lastWord] &= tail;
  }
  return { widthPx, heightPx, wordsPerRow, words: new Uint32Array(target.buffer) };

  /** Copies a block with its surroundings. Answers 1 when its own pixels are all 0, -1 when all with the halo are 1. */
  function loadBlock(from: number, top: number, rows: number): number {
    let all = -1;
    let anyInside = 0;
    for (let line = 0; line < rows + rowsAbove + rowsBelow; line++) {
      const row = top + line - rowsAbove;
      const at = line * span;
      if (row < 0 || row >= heightPx) {
        block.fill(outside, at, at + span);
        all &= outside;
        continue;
      }
      const base = row * wordsPerRow + from - halo;
      const inside = line >= rowsAbove && line < rows + rowsAbove ? -1 : 0;
      for (let k = 0; k < span; k++) {
        const word = from - halo + k;
        let value = outside;
        if (word >= 0 && word < lastWord) value = source[base + k] ^ flip;
        else if (word === lastWord) value = ((source[base + k] ^ flip) & tail) | (outside & ~tail);
        block[at + k] = value;
        all &= value;
        if (k >= halo && k < span - halo) anyInside |= value & inside;
      }
    }
    return all === -1 ? -1 : anyInside === 0 ? 1 : 0;
  }

  /** For every row of the block the erosion by each run of the disc, the narrowest first. */
  function widenRuns(rows: number): void {
    for (let line = 0; line < rows + rowsAbove + rowsBelow; line++) {
      let from = block;
      let fromAt = line * span;
      let turn = 0;
      for (const { left, right, run } of steps) {
        const to = run < 0 ? spare[turn] : runs;
        const toAt = run < 0 ? 0 : (run * tallRows + line) * span;
        turn = 1 - turn;
        andShifted(from, fromAt, to, toAt, left, right);
        from = to;
        fromAt = toAt;
      }
    }
  }

  /** to = from AND from shifted `left` columns one way and `right` the other (0 to 31 each). */
  function andShifted(from: Int32Array, fromAt: number, to: Int32Array, toAt: number, left: number, right: number) {
    let before = 0;
    let word = from[fromAt];
    for (let k = 0; k < span; k++) {
      const after = k + 1 < span ? from[fromAt + k + 1] : 0;
      // `<< 1 << (31 - n)` keeps a shift by 0 from wrapping round to a shift by 32.
      const fromLeft = (word << left) | ((before >>> 1) >>> (31 - left));
      const fromRight = (word >>> right) | ((after << 1) << (31 - right));
      to[toAt + k] = word & fromLeft & fromRight;
      before = word;
      word = after;
    }
  }

  function joinRows(from: number, top: number, rows: number, count: number): void {
    const discRows = runOfRow.length;
    for (let row = 0; row < rows; row++) {
      const first = row + rowsAbove + disc.topRow;
      const targetAt = (top + row) * wordsPerRow + from;
      for (let k = 0; k < count; k++) {
        let word = -1;
        for (let line = 0; line < discRows && word !== 0; line++) {
          word &= runs[(runOfRow[line] * tallRows + first + line) * span + halo + k];
        }
        target[targetAt + k] = word ^ flipOut;
      }
    }
  }
}
