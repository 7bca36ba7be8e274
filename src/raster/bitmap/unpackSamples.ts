import type { TiffLayout } from './bitmapRecipe.ts';

/**
 * Spreads rows of a chunk into planes of 8-bit samples: 16 bits keep their upper byte, fewer than 8 are stretched to
 * 0–255, except for entries of a colour map, which stay as they are. `left` is the chunk's first column in the image.
 */
export function unpackSamples(
  chunk: Uint8Array,
  fromRow: number,
  rows: number,
  rowBytes: number,
  layout: TiffLayout,
  together: number,
  left: number,
  planes: readonly Uint8Array[],
): void {
  const columns = Math.min(layout.chunkWidthPx, layout.widthPx - left);
  const bits = layout.bitsPerSample;
  for (let sample = 0; sample < together; sample++) {
    const plane = planes[sample];
    for (let row = 0; row < rows; row++) {
      const source = (fromRow + row) * rowBytes;
      const target = row * layout.widthPx + left;
      if (bits === 8 && together === 1) {
        plane.set(chunk.subarray(source, source + columns), target);
      } else if (bits >= 8) {
        const size = bits / 8;
        const high = size === 2 && layout.littleEndian ? 1 : 0;
        let at = source + sample * size + high;
        for (let column = 0; column < columns; column++, at += together * size) plane[target + column] = chunk[at];
      } else {
        const mask = (1 << bits) - 1;
        const stretch = layout.colourMap === null ? 255 / mask : 1;
        let bit = sample * bits;
        for (let column = 0; column < columns; column++, bit += together * bits) {
          plane[target + column] = ((chunk[source + (bit >> 3)] >> (8 - bits - (bit & 7))) & mask) * stretch;
        }
      }
    }
  }
}
