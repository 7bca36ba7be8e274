import type { BitPlane } from './bitPlane.ts';
import { GrowingInts } from './growingList.ts';
import type { ThinnedVisitor, ThinningOptions } from './thinning.ts';

/** `visitThinned` on 32 pixels a step; only words near a change are looked at again. */
export function thinPlain(plane: BitPlane, options: ThinningOptions, visit: ThinnedVisitor): void {
  const { fromRow = 0, toRow = plane.heightPx, mostTurns = Infinity } = options;
  const stride = plane.wordsPerRow + 2;
  const shape = paddedShape(plane, stride, options);
  const peelable = peelablePart(plane, stride, shape, options);
  widenPinholes(shape, peelable, stride);
  peel(shape, peelable, stride, mostTurns);
  const lines = new Int32Array(shape.length);
  for (let index = 0; index < lines.length; index++) lines[index] = shape[index] & peelable[index];
  const lastWord = (plane.widthPx - 1) >> 5;
  const tail = (plane.widthPx & 31) === 0 ? -1 : (1 << (plane.widthPx & 31)) - 1;
  for (let row = fromRow; row < toRow; row++) {
    for (let word = 0; word <= lastWord; word++) {
      const index = (row + 1) * stride + 1 + word;
      let around = 0;
      for (const at of [index - stride, index, index + stride])
        around |= lines[at] | westOf(lines, at) | eastOf(lines, at);
      const beside = around & shape[index] & ~peelable[index] & (word === lastWord ? tail : -1);
      if ((lines[index] | beside) !== 0) visit(row, word, lines[index], beside);
    }
  }
}

/** A copy with one word and one row around it, so that every word has all eight neighbours. */
function paddedShape(plane: BitPlane, stride: number, options: ThinningOptions): Int32Array {
  const flip = options.inverted ? -1 : 0;
  const beyond = (options.outside === 'opaque') !== options.inverted ? -1 : 0;
  const shape = new Int32Array(stride * (plane.heightPx + 2)).fill(beyond);
  const lastWord = (plane.widthPx - 1) >> 5;
  const tail = (plane.widthPx & 31) === 0 ? -1 : (1 << (plane.widthPx & 31)) - 1;
  for (let row = 0; row < plane.heightPx; row++) {
    const from = row * plane.wordsPerRow;
    const to = (row + 1) * stride + 1;
    for (let word = 0; word <= lastWord; word++) shape[to + word] = plane.words[from + word] ^ flip;
    shape[to + lastWord] = (shape[to + lastWord] & tail) | (beyond & ~tail);
  }
  return shape;
}

function peelablePart(plane: BitPlane, stride: number, shape: Int32Array, options: ThinningOptions): Int32Array {
  const peelable = new Int32Array(shape.length);
  const lastWord = (plane.widthPx - 1) >> 5;
  const tail = (plane.widthPx & 31) === 0 ? -1 : (1 << (plane.widthPx & 31)) - 1;
  for (let row = 0; row < plane.heightPx; row++) {
    const from = row * plane.wordsPerRow;
    const to = (row + 1) * stride + 1;
    for (let word = 0; word <= lastWord; word++) {
      const free = options.kept === null ? -1 : ~options.kept.words[from + word];
      peelable[to + word] = shape[to + word] & free & (word === lastWord ? tail : -1);
    }
  }
  return peelable;
}

/** Takes away the pixel to the right of every pixel off the shape that has eight neighbours on it. */
function widenPinholes(shape: Int32Array, peelable: Int32Array, stride: number): void {
  const found: { index: number; holes: number }[] = [];
  for (let index = stride + 1; index < shape.length - stride - 1; index++) {
    const c = shape[index];
    if (c === -1 || c === 0) continue;
    const all =
      shape[index - stride] &
      shape[index + stride] &
      westOf(shape, index) &
      eastOf(shape, index) &
      westOf(shape, index - stride) &
      eastOf(shape, index - stride) &
      westOf(shape, index + stride) &
      eastOf(shape, index + stride);
    const holes = ~c & all;
    if (holes !== 0) found.push({ index, holes });
  }
  for (const { index, holes } of found) {
    shape[index] &= ~((holes << 1) & peelable[index]);
    shape[index + 1] &= ~((holes >>> 31) & peelable[index + 1]);
  }
}

/** Each bit's neighbour in the column before, and in the one after. */
function westOf(words: Int32Array, index: number): number {
  return (words[index] << 1) | (words[index - 1] >>> 31);
}

function eastOf(words: Int32Array, index: number): number {
  return (words[index] >>> 1) | (words[index + 1] << 31);
}

/** In the first turns nearly every word on the shape's edges changes, and looking for the others costs more than it saves. */
const fullTurns = 8;

function peel(shape: Int32Array, peelable: Int32Array, stride: number, mostTurns: number): void {
  const all = nonZeroIndices(peelable);
  const removed = new Int32Array(all.length);
  let changed = new GrowingInts();
  let previous = new GrowingInts();
  let turn: 0 | 1 = 0;
  let turns = 0;
  for (; turns < Math.min(fullTurns, mostTurns); turns++) {
    [changed, previous] = [previous, changed];
    peelOnce(shape, peelable, stride, turn, all, all.length, removed, changed);
    turn = turn === 0 ? 1 : 0;
  }
  // From here on only words near a change of either of the last two turns are looked at: one turn looks one way only.
  const marked = new Uint8Array(shape.length);
  const active = new GrowingInts();
  let quiet = 0;
  for (; quiet < 2 && turns < mostTurns; turns++) {
    active.length = 0;
    gatherAround(changed, shape, peelable, stride, marked, active);
    gatherAround(previous, shape, peelable, stride, marked, active);
    for (let k = 0; k < active.length; k++) marked[active.values[k]] = 0;
    [changed, previous] = [previous, changed];
    peelOnce(shape, peelable, stride, turn, active.values, active.length, removed, changed);
    turn = turn === 0 ? 1 : 0;
    quiet = changed.length === 0 ? quiet + 1 : 0;
  }
}

/** One turn over a list of words; `changed` comes back with those that lost a pixel. */
function peelOnce(
  shape: Int32Array,
  peelable: Int32Array,
  stride: number,
  turn: 0 | 1,
  list: Int32Array,
  count: number,
  removed: Int32Array,
  changed: GrowingInts,
): void {
  for (let k = 0; k < count; k++) {
    const index = list[k];
    const left = peelable[index] & shape[index];
    removed[k] = left === 0 ? 0 : removableBits(shape, index, stride, turn) & left;
  }
  changed.length = 0;
  for (let k = 0; k < count; k++) {
    if (removed[k] === 0) continue;
    shape[list[k]] &= ~removed[k];
    changed.push(list[k]);
  }
}

function gatherAround(
  changed: GrowingInts,
  shape: Int32Array,
  peelable: Int32Array,
  stride: number,
  marked: Uint8Array,
  active: GrowingInts,
): void {
  for (let k = 0; k < changed.length; k++) {
    const middle = changed.values[k];
    for (let row = middle - stride; row <= middle + stride; row += stride) {
      for (let index = row - 1; index <= row + 1; index++) {
        if (marked[index] !== 0 || (peelable[index] & shape[index]) === 0) continue;
        marked[index] = 1;
        active.push(index);
      }
    }
  }
}

function nonZeroIndices(words: Int32Array): Int32Array {
  let count = 0;
  for (let index = 0; index < words.length; index++) if (words[index] !== 0) count++;
  const list = new Int32Array(count);
  count = 0;
  for (let index = 0; index < words.length; index++) if (words[index] !== 0) list[count++] = index;
  return list;
}

/** The pixels of a word that this turn may take away: simple, no line end, on the sides the turn looks at. */
function removableBits(shape: Int32Array, index: number, stride: number, turn: 0 | 1): number {
  const c = shape[index];
  if (c === 0) return 0;
  const n = shape[index - stride];
  const s = shape[index + stride];
  const p8 = (c << 1) | (shape[index - 1] >>> 31);
  const p4 = (c >>> 1) | (shape[index + 1] << 31);
  const p9 = (n << 1) | (shape[index - stride - 1] >>> 31);
  const p3 = (n >>> 1) | (shape[index - stride + 1] << 31);
  const p7 = (s << 1) | (shape[index + stride - 1] >>> 31);
  const p5 = (s >>> 1) | (shape[index + stride + 1] << 31);
  const ne = p3 | p4;
  const se = p5 | s;
  const sw = p7 | p8;
  const nw = p9 | n;
  const a = ~n & ne;
  const b = ~p4 & se;
  const d = ~s & sw;
  const e = ~p8 & nw;
  // Exactly one run of neighbours: taking the pixel away parts nothing.
  const simple = ((a ^ b) & ~(d | e)) | ((d ^ e) & ~(a | b));
  if (simple === 0) return 0;
  const east = p4 | p5;
  const west = p8 | p9;
  const north = n | p3;
  const south = s | p7;
  const twoOfFirst = (nw & ne) | (se & sw) | ((nw | ne) & (se | sw));
  const twoOfSecond = (north & east) | (south & west) | ((north | east) & (south | west));
  const allOfFirst = nw & ne & se & sw;
  const allOfSecond = north & east & south & west;
  const side = turn === 0 ? (s | p7 | ~p9) & p8 : (n | p3 | ~p5) & p4;
  return c & simple & twoOfFirst & twoOfSecond & ~(allOfFirst & allOfSecond) & ~side;
}
