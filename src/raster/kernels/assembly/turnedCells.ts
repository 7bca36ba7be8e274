/**
 * Share of black of squares of pixels on so many words of as many rows as a square is high, to `target`, f32.
 * @param side of a square: 1, 2, 4, 8, 16 or 32
 */
export function squareTones(rows: usize, rowBytes: i32, words: i32, side: i32, target: usize): void {
  const share: f32 = (<f32>1) / <f32>(side * side);
  const mask: u32 = (<u32>0xffffffff) >>> (32 - side);
  const end = rows + side * rowBytes;
  let to = target;
  for (let word = 0; word < words; word++, rows += 4) {
    let all: u32 = 0;
    for (let at = rows; at < end; at += rowBytes) all |= load<u32>(at);
    for (let bit = 0; bit < 32; bit += side, to += 4) {
      let count = 0;
      if (all != 0) for (let at = rows; at < end; at += rowBytes) count += popcnt((load<u32>(at) >>> bit) & mask);
      store<f32>(to, <f32>count * share);
    }
  }
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
  for (let row = 0; row < high; row++) {
    let u = firstU + row * downU;
    let v = firstV + row * downV;
    const from = samples + row * strideBytes;
    for (let at = from, end = from + (wide << 2); at < end; at += 4) {
      const tone = load<f32>(at);
      const cell = cells + ((((v >> 20) * columns + (u >> 20)) as usize) << 5);
      const held = v128.load(cell, 16);
      v128.store(cell, f32x4.add(held, f32x4.replace_lane(f32x4(1, 0, 0, 0), 1, tone)), 16);
      if (tone != 0) {
        const turn = v128.load64_lane(turns + (((v >> 10) & 1023) << 3), v128.load64_zero(turns + (((u >> 10) & 1023) << 3)), 1);
        v128.store(cell, f32x4.add(v128.load(cell), f32x4.mul(f32x4.splat(tone), turn)));
      }
      u += acrossU;
      v += acrossV;
    }
  }
}
