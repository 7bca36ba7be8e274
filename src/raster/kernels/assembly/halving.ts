/** Halves two rows to one: a pixel is opaque when any of the four it stands for is. `words`: 32-pixel words there are. */
export function halveRows(upper: usize, lower: usize, words: i32, target: usize): void {
  for (let word = 0; word < words; word += 2) {
    const at = word << 2;
    const bits = load<u64>(upper + at) | load<u64>(lower + at);
    store<u32>(target + (word << 1), bits == 0 ? 0 : everySecondBit(bits | (bits >>> 1)));
  }
}

/** Bits 0, 2, 4 … 62 moved together. */
// @ts-ignore: decorator
@inline
function everySecondBit(word: u64): u32 {
  let v = word & 0x5555555555555555;
  v = (v | (v >>> 1)) & 0x3333333333333333;
  v = (v | (v >>> 2)) & 0x0f0f0f0f0f0f0f0f;
  v = (v | (v >>> 4)) & 0x00ff00ff00ff00ff;
  v = (v | (v >>> 8)) & 0x0000ffff0000ffff;
  return <u32>(v | (v >>> 16));
}
