/**
 * Full-width rows of a bitmap as stored, top to bottom. Either one-bit samples packed like `BitPlane` (the bit is the
 * sample's value, bits past the last column 0) or one plane of 8-bit samples for each sample of a pixel. The words of a
 * band may be used again for the next one.
 */
export type Band =
  | { readonly kind: 'bits'; readonly top: number; readonly rows: number; readonly words: Uint32Array }
  | { readonly kind: 'samples'; readonly top: number; readonly rows: number; readonly planes: readonly Uint8Array[] };

/** Most pixels a bitmap film may have: 2 Gpx, a film of 1.2 m × 1.2 m at 940 ppi. */
export const maxBitmapPixels = 2_000_000_000;

/** Each byte with its bits in the opposite order. */
export const reversedBits: Uint8Array = Uint8Array.from({ length: 256 }, (_, byte) => {
  let reversed = 0;
  for (let bit = 0; bit < 8; bit++) if (byte & (1 << bit)) reversed |= 0x80 >> bit;
  return reversed;
});

/** Copies one row of bytes, highest bit first, into words of a `BitPlane`, lowest bit first; clears what lies past it. */
export function packRow(
  bytes: Uint8Array,
  offset: number,
  target: Uint8Array,
  targetOffset: number,
  widthPx: number,
): void {
  const count = (widthPx + 7) >> 3;
  for (let i = 0; i < count; i++) target[targetOffset + i] = reversedBits[bytes[offset + i]];
  if (widthPx & 7) target[targetOffset + count - 1] &= (1 << (widthPx & 7)) - 1;
}
