/*
 * Rows of a drawn picture, white paper and dark ink, to packed bits: a pixel is set from half tone upwards. A tone this
 * close to clear is rounding noise of the renderer.
 */
const clearLevels: u8 = 3;
const groupPx: i32 = 16;

let mixed0: v128 = i64x2.splat(0);
let mixed1: v128 = i64x2.splat(0);
let mixed2: v128 = i64x2.splat(0);

/**
 * @param source rows of grey pixels, or with `colour` of four bytes each: blue, green, red, unused
 * @param target where the packed rows of each channel go, `channelBytes` apart: grey, or red, green and blue
 * @param scratch 64 bytes
 * @returns a bit for every channel that has tones neither clear nor opaque
 */
export function packPixels(
  source: usize,
  strideBytes: i32,
  width: i32,
  rows: i32,
  colour: bool,
  target: usize,
  wordsPerRow: i32,
  channelBytes: i32,
  scratch: usize,
): i32 {
  mixed0 = i64x2.splat(0);
  mixed1 = i64x2.splat(0);
  mixed2 = i64x2.splat(0);
  const rowBytes = wordsPerRow << 2;
  memory.fill(target, 0, (colour ? 3 : 1) * channelBytes);
  for (let row = 0; row < rows; row++) {
    const from = source + row * strideBytes;
    const to = target + row * rowBytes;
    if (colour) packColourRow(from, width, to, channelBytes, scratch);
    else packGreyRow(from, width, to, scratch);
  }
  return (
    (v128.any_true(mixed0) ? 1 : 0) | (v128.any_true(mixed1) ? 2 : 0) | (v128.any_true(mixed2) ? 4 : 0)
  );
}

function packGreyRow(from: usize, width: i32, to: usize, scratch: usize): void {
  const whole = width & ~(groupPx - 1);
  for (let column = 0; column < whole; column += groupPx) packGrey(from + column, to + (column >> 3));
  if (whole == width) return;
  memory.fill(scratch, 255, 16);
  memory.copy(scratch, from + whole, width - whole);
  packGrey(scratch, to + (whole >> 3));
}

// @ts-ignore: decorator
@inline
function packGrey(from: usize, to: usize): void {
  const tones = v128.not(v128.load(from));
  mixed0 = v128.or(mixed0, between(tones));
  store<u16>(to, <u16>i8x16.bitmask(tones));
}

// @ts-ignore: decorator
@inline
function between(tones: v128): v128 {
  return v128.andnot(i8x16.gt_u(tones, i8x16.splat(clearLevels)), i8x16.eq(tones, i8x16.splat(-1)));
}

function packColourRow(from: usize, width: i32, to: usize, channelBytes: i32, scratch: usize): void {
  const whole = width & ~(groupPx - 1);
  for (let column = 0; column < whole; column += groupPx)
    packColours(from + (column << 2), to + (column >> 3), channelBytes);
  if (whole == width) return;
  memory.fill(scratch, 255, 64);
  memory.copy(scratch, from + (whole << 2), (width - whole) << 2);
  packColours(scratch, to + (whole >> 3), channelBytes);
}

// @ts-ignore: decorator
@inline
function packColours(from: usize, to: usize, channelBytes: i32): void {
  const a = v128.load(from);
  const b = v128.load(from, 16);
  const c = v128.load(from, 32);
  const d = v128.load(from, 48);
  const paper = v128.or(v128.and(v128.and(a, b), v128.and(c, d)), i32x4.splat(0xff000000));
  if (!v128.any_true(v128.not(paper))) return;
  const upperBlueGreen = v128.shuffle<u8>(a, b, 0, 4, 8, 12, 16, 20, 24, 28, 1, 5, 9, 13, 17, 21, 25, 29);
  const lowerBlueGreen = v128.shuffle<u8>(c, d, 0, 4, 8, 12, 16, 20, 24, 28, 1, 5, 9, 13, 17, 21, 25, 29);
  const upperRed = v128.shuffle<u8>(a, b, 2, 6, 10, 14, 18, 22, 26, 30, 2, 6, 10, 14, 18, 22, 26, 30);
  const lowerRed = v128.shuffle<u8>(c, d, 2, 6, 10, 14, 18, 22, 26, 30, 2, 6, 10, 14, 18, 22, 26, 30);
  const red = v128.not(v128.shuffle<u64>(upperRed, lowerRed, 0, 2));
  const green = v128.not(v128.shuffle<u64>(upperBlueGreen, lowerBlueGreen, 1, 3));
  const blue = v128.not(v128.shuffle<u64>(upperBlueGreen, lowerBlueGreen, 0, 2));
  mixed0 = v128.or(mixed0, between(red));
  mixed1 = v128.or(mixed1, between(green));
  mixed2 = v128.or(mixed2, between(blue));
  store<u16>(to, <u16>i8x16.bitmask(red));
  store<u16>(to + channelBytes, <u16>i8x16.bitmask(green));
  store<u16>(to + 2 * channelBytes, <u16>i8x16.bitmask(blue));
}
