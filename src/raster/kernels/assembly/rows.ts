/** Mask of the columns of a row's last 64-bit word that lie on the film. */
// @ts-ignore: decorator
@inline
export function tailMask(widthPx: i32): u64 {
  const rest = widthPx & 63;
  return rest == 0 ? <u64>-1 : ((<u64>1) << rest) - 1;
}

/** Number of 64-bit words that hold columns of a row. */
// @ts-ignore: decorator
@inline
export function usedWords(widthPx: i32): i32 {
  return (widthPx + 63) >> 6;
}

/** Each bit's neighbour in the column before, 1 to 63 columns away, for the 128 bits at an address. */
// @ts-ignore: decorator
@inline
export function fromBefore(at: usize, value: v128, columns: i32): v128 {
  return v128.or(i64x2.shl(value, columns), i64x2.shr_u(v128.load(at - 8), 64 - columns));
}

/** The same for the column after. */
// @ts-ignore: decorator
@inline
export function fromAfter(at: usize, value: v128, columns: i32): v128 {
  return v128.or(i64x2.shr_u(value, columns), i64x2.shl(v128.load(at + 8), 64 - columns));
}

/**
 * Copies a row of a packed plane between two guards, exclusive-or'ed with `flip`; columns past the film get `beyond`.
 * `to` is the first data byte, `toWords` the 64-bit words there are, a multiple of two.
 */
export function loadRow(from: usize, to: usize, widthPx: i32, toWords: i32, flip: u64, beyond: u64): void {
  const used = usedWords(widthPx);
  const flips = i64x2.splat(flip);
  let word = 0;
  for (; word + 2 <= used; word += 2) v128.store(to + (word << 3), v128.xor(v128.load(from + (word << 3)), flips));
  if (word < used) {
    store<u64>(to + (word << 3), load<u64>(from + (word << 3)) ^ flip);
    word++;
  }
  const tail = tailMask(widthPx);
  const last = to + ((used - 1) << 3);
  store<u64>(last, (load<u64>(last) & tail) | (beyond & ~tail));
  for (; word < toWords; word++) store<u64>(to + (word << 3), beyond);
}
