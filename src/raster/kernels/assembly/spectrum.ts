/*
 * The power spectrum of a window of 128 by 128 samples, and what is asked of it. Samples stand column by column, powers
 * row by row: 128 rows of 65.
 */
const side: i32 = 128;
const half: i32 = 64;
const columns: i32 = 65;
/** Columns of the half-way result, whole vectors. */
const halfwayColumns: i32 = 68;

/**
 * Sums the opaque pixels of 128 squares beside each other over some of their rows, times `share`, to samples of a row,
 * for so many lines of squares.
 */
export function squareShares(
  rows: usize,
  rowBytes: i32,
  rowCount: i32,
  firstBit: i32,
  squarePx: i32,
  share: f32,
  target: usize,
  lines: i32,
): void {
  for (let line = 0; line < lines; line++, rows += rowCount * rowBytes) {
    const end = rows + rowCount * rowBytes;
    let to = target + (line << 2);
    for (let column = 0, bit = firstBit; column < side; column++, bit += squarePx, to += side << 2) {
      let count: u64 = 0;
      // Of a word of 64 bits 57 are sure to be there, wherever it begins.
      for (let from = bit, left = squarePx; left > 0; from += 57, left -= 57) {
        const mask = (<u64>-1) >>> (64 - min(left, 57));
        const at = from >> 3;
        const shift = from & 7;
        for (let row = rows; row < end; row += rowBytes) count += popcnt((load<u64>(row + at) >>> shift) & mask);
      }
      store<f32>(to, <f32>count * share);
    }
  }
}

/**
 * Transforms four series of 128 complex numbers side by side: the real parts as vectors, the imaginary ones behind
 * them, `there` for every other step; the last of seven leaves them there.
 * @param turns cosine and -sine, f32, of 128 steps of a turn
 */
function transform(here: usize, there: usize, turns: usize): void {
  const imaginary = side << 4;
  for (let length = side, apart = 1; length > 1; length >>= 1, apart <<= 1) {
    const middle = length >> 1;
    for (let p = 0; p < middle; p++) {
      const turn = turns + ((p * apart) << 3);
      const cosine = v128.load32_splat(turn);
      const sine = v128.load32_splat(turn, 4);
      let from = here + ((p * apart) << 4);
      let to = there + ((2 * p * apart) << 4);
      const far = (middle * apart) << 4;
      const next = apart << 4;
      for (let q = 0; q < apart; q++, from += 16, to += 16) {
        const aReal = v128.load(from);
        const aImaginary = v128.load(from + imaginary);
        const bReal = v128.load(from + far);
        const bImaginary = v128.load(from + far + imaginary);
        v128.store(to, f32x4.add(aReal, bReal));
        v128.store(to + imaginary, f32x4.add(aImaginary, bImaginary));
        const real = f32x4.sub(aReal, bReal);
        const other = f32x4.sub(aImaginary, bImaginary);
        v128.store(to + next, f32x4.sub(f32x4.mul(real, cosine), f32x4.mul(other, sine)));
        v128.store(to + next + imaginary, f32x4.add(f32x4.mul(real, sine), f32x4.mul(other, cosine)));
      }
    }
    const held = here;
    here = there;
    there = held;
  }
}

/**
 * Powers of a window of samples, weighted both ways, its weighted mean taken off.
 * @param weights of the samples along a side, f32
 * @param scratch `spectrumScratchBytes` bytes
 */
export function windowPower(samples: usize, weights: usize, turns: usize, scratch: usize, power: usize): void {
  const mean = f32x4.splat(<f32>weightedMean(samples, weights));
  const here = scratch;
  const there = scratch + (side << 5);
  const halfway = there + (side << 5);
  const imaginary = side << 4;
  // Along the rows, four at once; rows of real numbers half a window apart go through one transform of complex ones.
  for (let row = 0; row < half; row += 4) {
    const upper = v128.load(weights + (row << 2));
    const lower = v128.load(weights + ((row + half) << 2));
    for (let column = 0; column < side; column++) {
      const at = samples + (((column << 7) + row) << 2);
      const weight = v128.load32_splat(weights + (column << 2));
      const to = here + (column << 4);
      v128.store(to, f32x4.mul(f32x4.mul(f32x4.sub(v128.load(at), mean), weight), upper));
      v128.store(to + imaginary, f32x4.mul(f32x4.mul(f32x4.sub(v128.load(at + (half << 2)), mean), weight), lower));
    }
    transform(here, there, turns);
    const first = halfway + ((row * halfwayColumns) << 3);
    const second = first + ((half * halfwayColumns) << 3);
    for (let k = 0; k < columns; k++) {
      const at = there + (k << 4);
      const mirror = there + (((side - k) & (side - 1)) << 4);
      const aReal = v128.load(at);
      const aImaginary = v128.load(at + imaginary);
      const bReal = v128.load(mirror);
      const bImaginary = v128.load(mirror + imaginary);
      putHalfway(first + (k << 2), f32x4.add(aReal, bReal), f32x4.sub(aImaginary, bImaginary));
      putHalfway(second + (k << 2), f32x4.add(aImaginary, bImaginary), f32x4.sub(bReal, aReal));
    }
  }
  // Down the columns, four at once.
  for (let column = 0; column < columns; column += 4) {
    for (let row = 0; row < side; row++) {
      const from = halfway + ((row * halfwayColumns) << 3) + (column << 2);
      v128.store(here + (row << 4), v128.load(from));
      v128.store(here + (row << 4) + imaginary, v128.load(from + (halfwayColumns << 2)));
    }
    transform(here, there, turns);
    for (let row = 0; row < side; row++) {
      const real = v128.load(there + (row << 4));
      const other = v128.load(there + (row << 4) + imaginary);
      const sum = f32x4.mul(f32x4.splat(0.25), f32x4.add(f32x4.mul(real, real), f32x4.mul(other, other)));
      const to = power + ((row * columns + column) << 2);
      if (column == half) v128.store_lane<f32>(to, sum, 0);
      else v128.store(to, sum);
    }
  }
}

/** Four rows of a column of the half-way result, the imaginary parts behind the real ones of each row. */
// @ts-ignore: decorator
@inline
function putHalfway(to: usize, real: v128, imaginary: v128): void {
  const row = halfwayColumns << 3;
  const behind = halfwayColumns << 2;
  v128.store_lane<f32>(to, real, 0);
  v128.store_lane<f32>(to + row, real, 1);
  v128.store_lane<f32>(to + 2 * row, real, 2);
  v128.store_lane<f32>(to + 3 * row, real, 3);
  v128.store_lane<f32>(to + behind, imaginary, 0);
  v128.store_lane<f32>(to + behind + row, imaginary, 1);
  v128.store_lane<f32>(to + behind + 2 * row, imaginary, 2);
  v128.store_lane<f32>(to + behind + 3 * row, imaginary, 3);
}

export function spectrumScratchBytes(): usize {
  return 2 * (side << 5) + ((side * halfwayColumns) << 3);
}

function weightedMean(samples: usize, weights: usize): f64 {
  let sum: f64 = 0;
  let total: f64 = 0;
  for (let column = 0; column < side; column++) {
    const across = <f64>load<f32>(weights + (column << 2));
    let rows: f64 = 0;
    let rowsTotal: f64 = 0;
    for (let row = 0; row < side; row++) {
      const down = <f64>load<f32>(weights + (row << 2));
      rows += down * <f64>load<f32>(samples + (((column << 7) + row) << 2));
      rowsTotal += down;
    }
    sum += across * rows;
    total += across * rowsTotal;
  }
  return sum / total;
}

/** Adds each power to the sum, f64, of its ring. @param rings u16, by powers */
export function ringPower(power: usize, rings: usize, sums: usize): void {
  for (let at = 0; at < side * columns; at++) {
    const sum = sums + (<usize>load<u16>(rings + (at << 1)) << 3);
    store<f64>(sum, load<f64>(sum) + <f64>load<f32>(power + (at << 2)));
  }
}

// @ts-ignore: decorator
@inline
function powerAt(power: usize, row: i32, column: i32): f32 {
  return load<f32>(power + ((((row & (side - 1)) * columns) + column) << 2));
}

/**
 * Indices, i32, of the strongest powers that no neighbour to the four sides exceeds, strongest first, and answers how
 * many. @param leastTurns those of fewer turns a window are passed over
 */
export function strongestPeaks(power: usize, most: i32, leastTurns: f64, target: usize): i32 {
  let count = 0;
  let least: f32 = 0;
  for (let row = 2 - half; row <= half - 2; row++) {
    for (let column = row < 0 ? 1 : 0; column < columns - 1; column++) {
      const here = powerAt(power, row, column);
      if (count == most && here <= least) continue;
      if (<f64>(row * row + column * column) < leastTurns * leastTurns) continue;
      const left = column == 0 ? powerAt(power, -row, 1) : powerAt(power, row, column - 1);
      if (here < powerAt(power, row, column + 1) || here < left) continue;
      if (here < powerAt(power, row - 1, column) || here < powerAt(power, row + 1, column)) continue;
      let at = count == most ? count - 1 : count++;
      for (; at > 0; at--) {
        const before = load<i32>(target + ((at - 1) << 2));
        if (load<f32>(power + (before << 2)) >= here) break;
        store<i32>(target + (at << 2), before);
      }
      store<i32>(target + (at << 2), (row & (side - 1)) * columns + column);
      least = load<f32>(power + (load<i32>(target + ((count - 1) << 2)) << 2));
    }
  }
  return count;
}

/** The power at a row and a column, which may be -1: real samples turn one way as strongly as the other. */
// @ts-ignore: decorator
@inline
function powerAround(power: usize, row: i32, column: i32): f64 {
  return <f64>(column < 0 ? powerAt(power, -row, -column) : powerAt(power, row, column));
}

/** See `PowerSpectrum.peakNear`; column, row and power, f64, to `found`. */
export function peakNear(power: usize, nearColumn: f64, nearRow: f64, found: usize): bool {
  let column = <i32>Math.floor(nearColumn + 0.5);
  let row = <i32>Math.floor(nearRow + 0.5);
  let here: f64 = 0;
  for (let step = 0; ; step++) {
    if (column < 0 || column > columns - 3 || row > half - 3 || row < 3 - half) return false;
    here = powerAround(power, row, column);
    let bestRow = row;
    let bestColumn = column;
    let best = here;
    for (let r = row - 1; r <= row + 1; r++) {
      for (let c = column - 1; c <= column + 1; c++) {
        const other = powerAround(power, r, c);
        if (other <= best) continue;
        bestRow = r;
        bestColumn = c;
        best = other;
      }
    }
    if (best == here) break;
    // A peak further off belongs to something else.
    if (step == 1) return false;
    row = bestRow;
    column = bestColumn;
  }
  if (here == 0) return false;
  const left = powerAround(power, row, column - 1);
  const right = powerAround(power, row, column + 1);
  const above = powerAround(power, row - 1, column);
  const below = powerAround(power, row + 1, column);
  store<f64>(found, <f64>column + between(left, here, right));
  store<f64>(found + 8, <f64>row + between(above, here, below));
  store<f64>(found + 16, here);
  return true;
}

// @ts-ignore: decorator
@inline
function between(before: f64, here: f64, after: f64): f64 {
  const ratio = Math.sqrt(max(before, after) / here);
  const off = (2 * ratio - 1) / (ratio + 1);
  return after > before ? off : after < before ? -off : 0;
}

let stamp: i32 = 0;

/**
 * Sums the power on the multiples of a lattice and next to them, each once, to `sum`, f64, and answers how many that
 * are. @param fx turns a unit of its first frequency @param stamps i32, by powers, kept from call to call
 */
export function latticePower(
  power: usize,
  fx: f64,
  fy: f64,
  turnsX: f64,
  turnsY: f64,
  order: i32,
  across: i32,
  stamps: usize,
  sum: usize,
): i32 {
  stamp++;
  let on: f64 = 0;
  let bins = 0;
  for (let k = -order; k <= order; k++) {
    for (let l = -across; l <= across; l++) {
      if (k == 0 && l == 0) continue;
      const x = (<f64>k * fx - <f64>l * fy) * turnsX;
      const y = (<f64>k * fy + <f64>l * fx) * turnsY;
      if (x < -1 || x > <f64>(columns - 2) || Math.abs(y) > <f64>(half - 2)) continue;
      const column = <i32>Math.floor(x + 0.5);
      const row = <i32>Math.floor(y + 0.5);
      for (let r = row - 1; r <= row + 1; r++) {
        for (let c = max(0, column - 1); c <= column + 1; c++) {
          const at = ((r & (side - 1)) * columns + c) << 2;
          if (load<i32>(stamps + at) == stamp) continue;
          store<i32>(stamps + at, stamp);
          on += <f64>load<f32>(power + at);
          bins++;
        }
      }
    }
  }
  store<f64>(sum, on);
  return bins;
}
