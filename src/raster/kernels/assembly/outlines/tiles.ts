/*
 * Cells of 8 x 8 px, one bit each, and tiles of 32 x 32 px, one byte each.
 */

/** Puts the cells no more than `reach` cells from a marked one, sideways, up and down, and both, into `wide`. */
export function widenCells(cells: usize, wordsPerRow: i32, rows: i32, reach: i32, wide: usize, scratch: usize): void {
  const stride = <usize>wordsPerRow << 2;
  memory.copy(scratch, cells, <usize>rows * stride);
  for (let row = 0; row < rows; row++) {
    for (let step = 0; step < reach; step++) widenRow(scratch + <usize>row * stride, stride);
  }
  for (let row = 0; row < rows; row++) {
    const line = wide + <usize>row * stride;
    memory.fill(line, 0, stride);
    const last = min(rows - 1, row + reach);
    for (let from = max(0, row - reach); from <= last; from++) {
      const source = scratch + <usize>from * stride;
      for (let at: usize = 0; at < stride; at += 8) store<u64>(line + at, load<u64>(line + at) | load<u64>(source + at));
    }
  }
}

function widenRow(line: usize, stride: usize): void {
  let before: u64 = 0;
  let word = load<u64>(line);
  for (let at: usize = 0; at < stride; at += 8) {
    const next = at + 8 < stride ? load<u64>(line + at + 8) : 0;
    store<u64>(line + at, word | (word << 1) | (word >> 1) | (before >> 63) | (next << 63));
    before = word;
    word = next;
  }
}

/** Sets a byte for every tile of a plane of so many words a row: 1 where it holds a marked cell, else 0. */
export function flagTiles(cells: usize, cellWordsPerRow: i32, cellRows: i32, tilesPerRow: i32, flags: usize): void {
  const tileRows = (cellRows + 3) >> 2;
  for (let tileRow = 0; tileRow < tileRows; tileRow++) {
    const first = tileRow << 2;
    const end = min(cellRows, first + 4);
    for (let tile = 0; tile < tilesPerRow; tile++) {
      let joined: u32 = 0;
      for (let row = first; row < end; row++) {
        joined |= load<u32>(cells + (<usize>(row * cellWordsPerRow + (tile >> 3)) << 2));
      }
      store<u8>(flags + tileRow * tilesPerRow + tile, ((joined >> (4 * (tile & 7))) & 15) != 0 ? 1 : 0);
    }
  }
}

/** Keeps of the tiles flagged in `own` those with a tile flagged in `other` no further than so many across and down. */
export function keepNear(
  own: usize,
  other: usize,
  tilesPerRow: i32,
  tileRows: i32,
  across: i32,
  down: i32,
  scratch: usize,
): void {
  for (let row = 0; row < tileRows; row++) {
    const start = row * tilesPerRow;
    let last = -across - 1;
    for (let tile = 0; tile < tilesPerRow + across; tile++) {
      if (tile < tilesPerRow && load<u8>(other + start + tile) != 0) last = tile;
      const target = tile - across;
      if (target >= 0) store<u8>(scratch + start + target, last >= target - across ? 1 : 0);
    }
  }
  for (let row = 0; row < tileRows; row++) {
    const first = max(0, row - down);
    const end = min(tileRows, row + down + 1);
    for (let tile = 0; tile < tilesPerRow; tile++) {
      const place = own + row * tilesPerRow + tile;
      if (load<u8>(place) == 0) continue;
      let near: u8 = 0;
      for (let from = first; from < end; from++) near |= load<u8>(scratch + from * tilesPerRow + tile);
      store<u8>(place, near);
    }
  }
}

/** Gives every flagged tile 128 words, one after another; the others get -1. Answers how many words that makes. */
export function layOutTiles(flags: usize, count: i32, slots: usize): i32 {
  let words = 0;
  for (let tile = 0; tile < count; tile++) {
    const isFlagged = load<u8>(flags + tile) != 0;
    store<i32>(slots + (<usize>tile << 2), isFlagged ? words : -1);
    if (isFlagged) words += 128;
  }
  return words;
}
