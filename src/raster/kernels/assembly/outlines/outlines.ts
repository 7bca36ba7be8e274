/*
 * Outlines of a packed plane, followed along pixel sides, with readings across them to the facing edge of another.
 */
import { own } from './field';
import { reserve, roomFor } from './memory';
import { setReading } from './reading';
import { enclosedMm2, samples, setSamples, stripCount, takeOutline } from './samples';
import { normalX, normalY, steps, strips, xs, ys } from './samples';
import { cutStretches, heldSamples, setStretches, stretchCount, stretches } from './stretches';

/** Outlines of fewer pixel sides are specks. */
const shortestOutline: i32 = 12;

let header: usize = 0;

/** 1: a 32 x 32 px tile whose outlines are followed. */
let tiles: usize = 0;
let tileCount: i32 = 0;
/** Of every such tile the place of its 128 words in `walked`, four a row, one for each side; else -1. */
let slots: usize = 0;
let walked: usize = 0;
/** Sides of the outline at hand: twice the column and row of each one's middle. */
let sides: usize = 0;
let room: i32 = 0;
let count: i32 = 0;
/** The tile, row and side to go on from. */
let tile: i32 = 0;
let tileRow: i32 = 0;
let tileSide: i32 = 0;

/** Sets up a walk over all outlines; see the caller for what each part of memory holds. */
export function beginOutlines(
  tileFlags: usize,
  countOfTiles: i32,
  slotOfTile: usize,
  walkedSides: usize,
  headerAt: usize,
  scratch: usize,
  boxTiles: usize,
  boxes: usize,
  boxCount: i32,
  reachMm: f64,
  seekStrips: bool,
  hasCovers: bool,
  near: usize,
  nearWordsPerRow: i32,
): void {
  tiles = tileFlags;
  tileCount = countOfTiles;
  slots = slotOfTile;
  walked = walkedSides;
  sides = scratch;
  room = 0;
  tile = 0;
  tileRow = 0;
  tileSide = 0;
  header = headerAt;
  setSamples(boxTiles, boxes, boxCount);
  setReading(reachMm, seekStrips, hasCovers, near, nearWordsPerRow);
  setStretches(Math.max(own.pitchXMm, own.pitchYMm), reachMm);
}

/**
 * Follows, reads and cuts the next outline that faces the other plane; 0 when there is none left. Header, in numbers:
 * samples, strips, closed, area enclosed, stretches, samples they hold, and the addresses of the stretches, of x and y
 * of every side (samples are every second), and of each sample's normal (x, y), step and strip.
 */
export function nextOutline(): i32 {
  for (; tile < tileCount; tile++, tileRow = 0) {
    if (load<u8>(tiles + tile) == 0) continue;
    const w = tile % own.wordsPerRow;
    const top = (tile / own.wordsPerRow) << 5;
    const rows = min(32, own.heightPx - top);
    for (; tileRow < rows; tileRow++, tileSide = 0) {
      if (tileSide == 0 && !hasOutline(w, top + tileRow)) continue;
      const place = walked + (<usize>(load<i32>(slots + (<usize>tile << 2)) + tileRow * 4) << 2);
      for (; tileSide < 4; tileSide++) {
        const edges = openSides(w, top + tileRow, tileSide);
        for (let open = edges & ~load<u32>(place + (<usize>tileSide << 2)); open != 0; ) {
          const closed = follow((w << 5) + ctz(open), top + tileRow, tileSide);
          if (count >= shortestOutline && isFaced(closed)) return 1;
          open = edges & ~load<u32>(place + (<usize>tileSide << 2));
        }
      }
    }
  }
  return 0;
}

/** Whether any pixel of a word has ink and none beside it. */
function hasOutline(w: i32, row: i32): bool {
  const at = own.words + (<usize>(row * own.wordsPerRow + w) << 2);
  const word = load<u32>(at);
  if (word == 0 || row == 0 || row + 1 == own.heightPx || w == 0 || w + 1 == own.wordsPerRow) return word != 0;
  const stride = <usize>own.wordsPerRow << 2;
  const upright = ((word >> 1) | (load<u32>(at + 4) << 31)) & ((word << 1) | (load<u32>(at - 4) >> 31));
  return (word & ~(load<u32>(at - stride) & load<u32>(at + stride) & upright)) != 0;
}

function isFaced(closed: bool): bool {
  takeOutline(sides, count, closed);
  cutStretches(closed);
  if (stretchCount + stripCount == 0) return false;
  store<f64>(header, <f64>samples);
  store<f64>(header, <f64>stripCount, 8);
  store<f64>(header, closed ? 1 : 0, 16);
  store<f64>(header, closed ? enclosedMm2() : 0, 24);
  store<f64>(header, <f64>stretchCount, 32);
  store<f64>(header, <f64>heldSamples, 40);
  store<f64>(header, <f64>stretches, 48);
  store<f64>(header, <f64>xs, 56);
  store<f64>(header, <f64>ys, 64);
  store<f64>(header, <f64>normalX, 72);
  store<f64>(header, <f64>normalY, 80);
  store<f64>(header, <f64>steps, 88);
  store<f64>(header, <f64>strips, 96);
  return true;
}

/** The columns of a word whose pixels have ink, and none beyond that side. Sides: top, right, bottom, left. */
function openSides(w: i32, row: i32, side: i32): u32 {
  const at = own.words + (<usize>(row * own.wordsPerRow + w) << 2);
  const stride = <usize>own.wordsPerRow << 2;
  const word = load<u32>(at);
  if (word == 0) return 0;
  if (side == 0) return word & ~(row > 0 ? load<u32>(at - stride) : 0);
  if (side == 2) return word & ~(row + 1 < own.heightPx ? load<u32>(at + stride) : 0);
  if (side == 1) return word & ~((word >> 1) | (w + 1 < own.wordsPerRow ? load<u32>(at + 4) << 31 : 0));
  return word & ~((word << 1) | (w > 0 ? load<u32>(at - 4) >> 31 : 0));
}

/** Follows the outline both ways from a pixel side that has not been walked; true when it closes. */
function follow(column: i32, row: i32, side: i32): bool {
  count = 0;
  if (walk(column, row, side, 1)) return true;
  turnRound();
  // The walk back lists the start anew.
  count--;
  walk(column, row, side, -1);
  turnRound();
  return false;
}

/**
 * Lists the sides from one on, or back with `direction` -1, as far as the tiles go; true when that leads back to the
 * start. Ink that only touches at a corner is taken as apart.
 */
function walk(startColumn: i32, startRow: i32, startSide: i32, direction: i32): bool {
  let column = startColumn;
  let row = startRow;
  let side = startSide;
  do {
    const slot = load<i32>(slots + (<usize>((row >> 5) * own.wordsPerRow + (column >> 5)) << 2));
    if (slot < 0) return false;
    const place = walked + (<usize>(slot + (row & 31) * 4 + side) << 2);
    store<u32>(place, load<u32>(place) | (1 << (column & 31)));
    if (count == room) makeRoom();
    const at = sides + (<usize>count << 3);
    store<i32>(at, 2 * column + (side == 1 ? 2 : side == 3 ? 0 : 1));
    store<i32>(at, 2 * row + (side == 2 ? 2 : side == 0 ? 0 : 1), 4);
    count++;
    const stepColumn = side == 0 ? 1 : side == 2 ? -1 : 0;
    const stepRow = side == 1 ? 1 : side == 3 ? -1 : 0;
    const nextColumn = column + direction * stepColumn;
    const nextRow = row + direction * stepRow;
    if (!hasInk(nextColumn, nextRow)) {
      side = (side + direction) & 3;
    } else if (hasInk(nextColumn + stepRow, nextRow - stepColumn)) {
      column = nextColumn + stepRow;
      row = nextRow - stepColumn;
      side = (side - direction) & 3;
    } else {
      column = nextColumn;
      row = nextRow;
    }
  } while (column != startColumn || row != startRow || side != startSide);
  return true;
}

// @ts-ignore: decorator
@inline
function hasInk(column: i32, row: i32): bool {
  if (<u32>column >= <u32>own.widthPx || <u32>row >= <u32>own.heightPx) return false;
  return ((load<u32>(own.words + (<usize>(row * own.wordsPerRow + (column >> 5)) << 2)) >> (column & 31)) & 1) == 1;
}

function makeRoom(): void {
  room += 4096;
  reserve(sides + (<usize>room << 3));
}

function turnRound(): void {
  let from = sides;
  let to = sides + (<usize>count << 3) - 8;
  while (from < to) {
    const first = load<u64>(from);
    store<u64>(from, load<u64>(to));
    store<u64>(to, first);
    from += 8;
    to -= 8;
  }
}
