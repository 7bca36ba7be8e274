/**
 * Share of black of squares of pixels on so many words of as many rows as a square is high, to `target`, f32.
 * @param side of a square: 1, 2, 4, 8, 16 or 32
 */
export function squareTones(rows: usize, rowBytes: i32, words: i32, side: i32, target: usize): void {
  const share: f32 = (<f32>1) / <f32>(side * side);
  // Four words at once where the squares are of two to eight pixels.
  const fours = side >= 2 && side <= 8 ? words >> 2 : 0;
  if (side == 2) squaresOfTwo(rows, rowBytes, fours, share, target);
  else if (side == 4) squaresOfFour(rows, rowBytes, fours, share, target);
  else if (side == 8) squaresOfEight(rows, rowBytes, fours, share, target);
  const mask: u32 = (<u32>0xffffffff) >>> (32 - side);
  let from = rows + (fours << 4);
  let to = target + (((fours << 7) / side) << 2);
  for (let word = fours << 2; word < words; word++, from += 4) {
    const end = from + side * rowBytes;
    let all: u32 = 0;
    for (let at = from; at < end; at += rowBytes) all |= load<u32>(at);
    for (let bit = 0; bit < 32; bit += side, to += 4) {
      let count = 0;
      if (all != 0) for (let at = from; at < end; at += rowBytes) count += popcnt((load<u32>(at) >>> bit) & mask);
      store<f32>(to, <f32>count * share);
    }
  }
}

function squaresOfTwo(rows: usize, rowBytes: i32, fours: i32, share: f32, target: usize): void {
  // Of each half byte how many bits are 1 in its lower pair, and times 16 in its upper one.
  const pairs = i8x16(0, 1, 1, 2, 16, 17, 17, 18, 16, 17, 17, 18, 32, 33, 33, 34);
  const low = i8x16.splat(15);
  for (let k = 0; k < fours; k++, rows += 16, target += 256) {
    const upper = v128.load(rows);
    const lower = v128.load(rows + rowBytes);
    const first = i8x16.add(i8x16.swizzle(pairs, v128.and(upper, low)), i8x16.swizzle(pairs, v128.and(lower, low)));
    const second = i8x16.add(
      i8x16.swizzle(pairs, v128.and(i64x2.shr_u(upper, 4), low)),
      i8x16.swizzle(pairs, v128.and(i64x2.shr_u(lower, 4), low)),
    );
    const a = v128.and(first, low);
    const b = v128.and(i64x2.shr_u(first, 4), low);
    const c = v128.and(second, low);
    const d = v128.and(i64x2.shr_u(second, 4), low);
    const ab = alternateLow(a, b);
    const cd = alternateLow(c, d);
    const abHigh = alternateHigh(a, b);
    const cdHigh = alternateHigh(c, d);
    putShares(v128.shuffle<i16>(ab, cd, 0, 8, 1, 9, 2, 10, 3, 11), share, target);
    putShares(v128.shuffle<i16>(ab, cd, 4, 12, 5, 13, 6, 14, 7, 15), share, target + 64);
    putShares(v128.shuffle<i16>(abHigh, cdHigh, 0, 8, 1, 9, 2, 10, 3, 11), share, target + 128);
    putShares(v128.shuffle<i16>(abHigh, cdHigh, 4, 12, 5, 13, 6, 14, 7, 15), share, target + 192);
  }
}

function squaresOfFour(rows: usize, rowBytes: i32, fours: i32, share: f32, target: usize): void {
  const counts = i8x16(0, 1, 1, 2, 1, 2, 2, 3, 1, 2, 2, 3, 2, 3, 3, 4);
  const low = i8x16.splat(15);
  for (let k = 0; k < fours; k++, rows += 16, target += 128) {
    let first = i8x16.splat(0);
    let second = i8x16.splat(0);
    for (let at = rows, end = rows + 4 * rowBytes; at < end; at += rowBytes) {
      const bits = v128.load(at);
      first = i8x16.add(first, i8x16.swizzle(counts, v128.and(bits, low)));
      second = i8x16.add(second, i8x16.swizzle(counts, v128.and(i64x2.shr_u(bits, 4), low)));
    }
    putShares(alternateLow(first, second), share, target);
    putShares(alternateHigh(first, second), share, target + 64);
  }
}

function squaresOfEight(rows: usize, rowBytes: i32, fours: i32, share: f32, target: usize): void {
  for (let k = 0; k < fours; k++, rows += 16, target += 64) {
    let counts = i8x16.splat(0);
    for (let at = rows, end = rows + 8 * rowBytes; at < end; at += rowBytes) {
      counts = i8x16.add(counts, i8x16.popcnt(v128.load(at)));
    }
    putShares(counts, share, target);
  }
}

// @ts-ignore: decorator
@inline
function alternateLow(a: v128, b: v128): v128 {
  return v128.shuffle<i8>(a, b, 0, 16, 1, 17, 2, 18, 3, 19, 4, 20, 5, 21, 6, 22, 7, 23);
}

// @ts-ignore: decorator
@inline
function alternateHigh(a: v128, b: v128): v128 {
  return v128.shuffle<i8>(a, b, 8, 24, 9, 25, 10, 26, 11, 27, 12, 28, 13, 29, 14, 30, 15, 31);
}

/** Sixteen counts, a byte each, as shares, f32. */
function putShares(counts: v128, share: f32, target: usize): void {
  const each = f32x4.splat(share);
  const low = i16x8.extend_low_i8x16_u(counts);
  const high = i16x8.extend_high_i8x16_u(counts);
  v128.store(target, f32x4.mul(f32x4.convert_i32x4_u(i32x4.extend_low_i16x8_u(low)), each));
  v128.store(target, f32x4.mul(f32x4.convert_i32x4_u(i32x4.extend_high_i16x8_u(low)), each), 16);
  v128.store(target, f32x4.mul(f32x4.convert_i32x4_u(i32x4.extend_low_i16x8_u(high)), each), 32);
  v128.store(target, f32x4.mul(f32x4.convert_i32x4_u(i32x4.extend_high_i16x8_u(high)), each), 48);
}

/**
 * Adds samples, f32, to the cells of a lattice that they lie in. u and v count cells along its two axes from the first
 * one on, in 2^-20. A cell is eight f32: tones times e^(-2πiu) and times e^(-2πiv), samples, tones, and two unused.
 * @param turns cosine and -sine, f32, of 1024 steps of a turn
 */
export function addTurned(
  samples: usize,
  strideBytes: i32,
  wide: i32,
  high: i32,
  firstU: i32,
  firstV: i32,
  acrossU: i32,
  acrossV: i32,
  downU: i32,
  downV: i32,
  columns: i32,
  turns: usize,
  cells: usize,
): void {
  // A row of the upper half together with one of the lower: what one adds need not wait for what the other did.
  const half = high >> 1;
  for (let row = 0; row < half; row++) {
    let u = firstU + row * downU;
    let v = firstV + row * downV;
    const toLowerU = half * downU;
    const toLowerV = half * downV;
    const toLower = half * strideBytes;
    const from = samples + row * strideBytes;
    for (let at = from, end = from + (wide << 2); at < end; at += 4) {
      addSample(load<f32>(at), u, v, columns, turns, cells);
      addSample(load<f32>(at + toLower), u + toLowerU, v + toLowerV, columns, turns, cells);
      u += acrossU;
      v += acrossV;
    }
  }
  if ((high & 1) == 0) return;
  const last = samples + (high - 1) * strideBytes;
  let u = firstU + (high - 1) * downU;
  let v = firstV + (high - 1) * downV;
  for (let at = last, end = last + (wide << 2); at < end; at += 4) {
    addSample(load<f32>(at), u, v, columns, turns, cells);
    u += acrossU;
    v += acrossV;
  }
}

// @ts-ignore: decorator
@inline
function addSample(tone: f32, u: i32, v: i32, columns: i32, turns: usize, cells: usize): void {
  const cell = cells + ((((v >> 20) * columns + (u >> 20)) as usize) << 5);
  const held = v128.load(cell, 16);
  v128.store(cell, f32x4.add(held, f32x4.replace_lane(f32x4(1, 0, 0, 0), 1, tone)), 16);
  if (tone == 0) return;
  const ofU = v128.load64_zero(turns + (((u >> 10) & 1023) << 3));
  const turn = v128.load64_lane(turns + (((v >> 10) & 1023) << 3), ofU, 1);
  v128.store(cell, f32x4.add(v128.load(cell), f32x4.mul(f32x4.splat(tone), turn)));
}

/**
 * Adds what cells of a lattice hold to the cells of a map that has them joined, and empties them.
 * @param left first column and `top` first row of the cells, counted from where the lattice begins
 * @param map six planes of f32: samples, tones, and the four sums of turned tones
 */
export function addToMap(
  cells: usize,
  left: i32,
  top: i32,
  columns: i32,
  rows: i32,
  join: i32,
  mapLeft: i32,
  mapTop: i32,
  mapColumns: i32,
  map: usize,
  planeBytes: usize,
): void {
  let from = cells;
  for (let row = top; row < top + rows; row++) {
    const first = (joinedPlace(row, join) - mapTop) * mapColumns - mapLeft;
    for (let column = left; column < left + columns; column++, from += 32) {
      const count = load<f32>(from, 16);
      if (count == 0) continue;
      let to = map + ((first + joinedPlace(column, join)) << 2);
      store<f32>(to, load<f32>(to) + count);
      const tones = load<f32>(from, 20);
      // Clear cells have nothing more to add.
      if (tones == 0) continue;
      to += planeBytes;
      store<f32>(to, load<f32>(to) + tones);
      for (let k = from; k < from + 16; k += 4) {
        to += planeBytes;
        store<f32>(to, load<f32>(to) + load<f32>(k));
      }
    }
  }
  memory.fill(cells, 0, (columns * rows) << 5);
}

// @ts-ignore: decorator
@inline
function joinedPlace(place: i32, join: i32): i32 {
  if (join == 1) return place;
  return place >= 0 ? place / join : -((join - 1 - place) / join);
}
