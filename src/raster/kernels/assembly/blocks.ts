/**
 * What the tiles of one row of them hold, f32: share of opaque pixels, changes a pixel along the rows and down the columns.
 * The change from one 32-pixel word to the next is left out along the rows, and made up for.
 * @param rows the pixel rows of the tiles, behind the one above them @param isFirst there is none above
 */
export function tileShares(
  rows: usize,
  isFirst: bool,
  rowCount: i32,
  rowBytes: i32,
  words: i32,
  wordsPerTile: i32,
  tones: usize,
  across: usize,
  down: usize,
): void {
  const pixels = <f64>(wordsPerTile * wordsPerTile * 1024);
  const end = rows + rowCount * rowBytes;
  for (let first = 0, to = 0; first < words; first += wordsPerTile, to += 4) {
    let black = 0;
    let along = 0;
    let between = 0;
    for (let word = first; word < min(words, first + wordsPerTile); word++) {
      const top = rows + (word << 2);
      let above = isFirst ? load<u32>(top) : load<u32>(top - rowBytes);
      for (let at = top; at < end; at += rowBytes) {
        const here = load<u32>(at);
        if ((here | above) != 0) {
          black += popcnt(here);
          along += popcnt((here ^ (here >>> 1)) & 0x7fffffff);
          between += popcnt(here ^ above);
        }
        above = here;
      }
    }
    store<f32>(tones + to, <f32>(<f64>black * (1 / pixels)));
    store<f32>(across + to, <f32>(<f64>along * (<f64>32 / 31 / pixels)));
    store<f32>(down + to, <f32>(<f64>between * (1 / pixels)));
  }
}

/** Means, f32, of tiles joined `factor` by `factor`, to `target`, 0 to begin with. */
export function joinTiles(values: usize, perRow: i32, rows: i32, factor: i32, joinedPerRow: i32, target: usize): void {
  const share: f64 = <f64>1 / <f64>(factor * factor);
  for (let row = 0; row < rows; row++) {
    let to = target + (((row / factor) * joinedPerRow) << 2);
    for (let column = 0; column < perRow; to += 4) {
      const end = min(perRow, column + factor);
      let sum = <f64>load<f32>(to);
      for (; column < end; column++, values += 4) sum += <f64>load<f32>(values) * share;
      store<f32>(to, <f32>sum);
    }
  }
}

/**
 * By the first of each block of two by two tiles, u8, how many tiles around the block are like it, and `middle` more
 * where its tone is a middle one; 0 where its tiles differ by more than a factor or change less than `least`.
 * @param across changes along the rows, f32, as `down` and `tones`; they take the changes both ways
 * @param counts of blocks by rank, u32, 0 to begin with
 */
export function rankBlocks(
  across: usize,
  down: usize,
  tones: usize,
  perRow: i32,
  rows: i32,
  least: f64,
  within: f64,
  middle: i32,
  ranks: usize,
  counts: usize,
): void {
  for (let at = 0; at < (perRow * rows) << 2; at += 4) {
    store<f32>(across + at, load<f32>(across + at) + load<f32>(down + at));
  }
  for (let row = 0; row + 1 < rows; row++) {
    for (let column = 0; column + 1 < perRow; column++) {
      const at = row * perRow + column;
      const here = <f64>load<f32>(across + (at << 2));
      const low = max(least, here / within);
      const high = here * within;
      if (!isAlike(across, at, low, high) || !isAlike(across, at + 1, low, high)) continue;
      if (!isAlike(across, at + perRow, low, high) || !isAlike(across, at + perRow + 1, low, high)) continue;
      let rank = 0;
      for (let r = max(0, row - 1); r <= min(rows - 1, row + 2); r++) {
        for (let c = max(0, column - 1); c <= min(perRow - 1, column + 2); c++) {
          rank += <i32>isAlike(across, r * perRow + c, low, high);
        }
      }
      const upper = <f64>load<f32>(tones + (at << 2)) + <f64>load<f32>(tones + ((at + 1) << 2));
      const left = upper + <f64>load<f32>(tones + ((at + perRow) << 2));
      const tone = (left + <f64>load<f32>(tones + ((at + perRow + 1) << 2))) / 4;
      if (tone > 0.1 && tone < 0.75) rank += middle;
      store<u8>(ranks + at, rank);
      store<u32>(counts + (rank << 2), load<u32>(counts + (rank << 2)) + 1);
    }
  }
}

// @ts-ignore: decorator
@inline
function isAlike(changes: usize, tile: i32, low: f64, high: f64): bool {
  const value = <f64>load<f32>(changes + (tile << 2));
  return value >= low && value <= high;
}

/**
 * Keys, f64, of the blocks of a rank whose middle lies on no tile that is taken, u8, and answers how many; only the
 * least of them where `onlyLeast`.
 * @param sidePx of a tile @param factor tiles along it that are looked up in `taken`, of `takenPerRow` by `takenRows`
 */
export function blockKeys(
  ranks: usize,
  perRow: i32,
  rows: i32,
  rank: i32,
  sidePx: i32,
  taken: usize,
  factor: i32,
  takenPerRow: i32,
  takenRows: i32,
  onlyLeast: bool,
  keys: usize,
): i32 {
  const count = perRow * rows;
  let found = 0;
  for (let row = 0, at = 0; row < rows; row++) {
    const takenRow = taken + min(takenRows - 1, (row + 1) * factor) * takenPerRow;
    for (let column = 0; column < perRow; column++, at++) {
      if (<i32>load<u8>(ranks + at) != rank) continue;
      if (load<u8>(takenRow + min(takenPerRow - 1, (column + 1) * factor)) != 0) continue;
      const hash = ((column + 1) * sidePx * <i32>0x9e3779b1) ^ ((row + 1) * sidePx * <i32>0x85ebca6b);
      const key = <f64>(<u32>hash) * <f64>count + <f64>at;
      if (!onlyLeast) store<f64>(keys + (found++ << 3), key);
      else if (found == 0 || key < load<f64>(keys)) {
        store<f64>(keys, key);
        found = 1;
      }
    }
  }
  return found;
}

/**
 * Which tiles, u8, have a place in a flagged cell of a map turned against them; see `TurnedFlags`.
 * @param turns across, down and offset along u, then along v, f64 @param places across and down in a tile, f64
 */
export function tilesOnCells(
  turns: usize,
  left: i32,
  top: i32,
  columns: i32,
  rows: i32,
  flags: usize,
  perRow: i32,
  tileRows: i32,
  places: usize,
  placeCount: i32,
  found: usize,
): void {
  const acrossU = load<f64>(turns);
  const downU = load<f64>(turns, 8);
  const atU = load<f64>(turns, 16);
  const acrossV = load<f64>(turns, 24);
  const downV = load<f64>(turns, 32);
  const atV = load<f64>(turns, 40);
  for (let tileRow = 0; tileRow < tileRows; tileRow++) {
    for (let tileColumn = 0; tileColumn < perRow; tileColumn++, found++) {
      let isOn: u8 = 0;
      for (let at = places, end = places + (placeCount << 4); at < end && isOn == 0; at += 16) {
        const x = <f64>tileColumn + load<f64>(at);
        const y = <f64>tileRow + load<f64>(at, 8);
        const column = <i32>Math.floor(acrossU * x + downU * y + atU) - left;
        const row = <i32>Math.floor(acrossV * x + downV * y + atV) - top;
        if (<u32>column < <u32>columns && <u32>row < <u32>rows) isOn = load<u8>(flags + row * columns + column);
      }
      store<u8>(found, isOn);
    }
  }
}
