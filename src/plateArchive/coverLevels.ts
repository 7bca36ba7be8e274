/** One byte a pixel, row by row: how much is covered, 0 to 255. */
export interface Cover {
  readonly widthPx: number;
  readonly heightPx: number;
  readonly values: Uint8Array;
}

/** Covered share of a pixel as 0 to 255; 0 only when nothing is covered, 255 only when all is. */
export function coverOf(sum: number, whole: number): number {
  if (sum <= 0) return 0;
  if (sum >= whole) return 255;
  return Math.min(254, Math.max(1, Math.round((255 * sum) / whole)));
}

/** At half the size, each pixel the mean of four; beyond the right and lower edge lies nothing. */
export function halvedCover({ widthPx, heightPx, values }: Cover): Cover {
  const columns = Math.ceil(widthPx / 2);
  const rows = Math.ceil(heightPx / 2);
  const halved = new Uint8Array(columns * rows);
  for (let row = 0; row < rows; row++) {
    const upper = 2 * row * widthPx;
    const lower = 2 * row + 1 < heightPx ? upper + widthPx : -1;
    for (let column = 0; column < columns; column++) {
      const left = 2 * column;
      const hasRight = left + 1 < widthPx;
      let sum = values[upper + left] + (hasRight ? values[upper + left + 1] : 0);
      if (lower >= 0) sum += values[lower + left] + (hasRight ? values[lower + left + 1] : 0);
      halved[row * columns + column] = coverOf(sum, 4 * 255);
    }
  }
  return { widthPx: columns, heightPx: rows, values: halved };
}

const pairCover = Uint8Array.from({ length: 5 }, (_, count) => coverOf(count, 4));
const bitsOfPair = [0, 1, 1, 2];

/** Level 1 of packed bits (rows of whole bytes, lowest bit first). */
export function halvedBits(bits: Uint8Array, sidePx: number): Cover {
  const half = sidePx / 2;
  const stride = sidePx / 8;
  const values = new Uint8Array(half * half);
  for (let row = 0; row < half; row++) {
    const upper = 2 * row * stride;
    for (let byte = 0; byte < stride; byte++) {
      let [a, b] = [bits[upper + byte], bits[upper + stride + byte]];
      if ((a | b) === 0) continue;
      const to = row * half + 4 * byte;
      for (let pair = 0; pair < 4; pair++) {
        values[to + pair] = pairCover[bitsOfPair[a & 3] + bitsOfPair[b & 3]];
        a >>= 2;
        b >>= 2;
      }
    }
  }
  return { widthPx: half, heightPx: half, values };
}
