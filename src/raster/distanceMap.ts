/**
 * Squared distance of every pixel's centre to the centre of the nearest pixel that is 0, exact; `Infinity` where there
 * is none. `pixels` holds one byte a pixel, row by row; `rowPitch` is the height of a pixel in units of its width.
 * Method: Felzenszwalb and Huttenlocher, Distance Transforms of Sampled Functions, Theory of Computing 8 (2012).
 */
export function squaredDistances(pixels: Uint8Array, widthPx: number, heightPx: number, rowPitch = 1): Float64Array {
  const result = new Float64Array(widthPx * heightPx);
  const most = Math.max(widthPx, heightPx);
  const line = new Float64Array(most);
  const out = new Float64Array(most);
  const hull = { at: new Int32Array(most), from: new Float64Array(most + 1) };
  for (let column = 0; column < widthPx; column++) {
    let last = -Infinity;
    for (let row = 0; row < heightPx; row++) {
      if (pixels[row * widthPx + column] === 0) last = row;
      result[row * widthPx + column] = (row - last) * rowPitch;
    }
    last = Infinity;
    for (let row = heightPx - 1; row >= 0; row--) {
      const index = row * widthPx + column;
      if (pixels[index] === 0) last = row;
      result[index] = Math.min(result[index], (last - row) * rowPitch) ** 2;
    }
  }
  for (let row = 0; row < heightPx; row++) {
    const base = row * widthPx;
    for (let column = 0; column < widthPx; column++) line[column] = result[base + column];
    lowerEnvelope(line, widthPx, hull, out);
    for (let column = 0; column < widthPx; column++) result[base + column] = out[column];
  }
  return result;
}

function lowerEnvelope(
  heights: Float64Array,
  count: number,
  hull: { at: Int32Array; from: Float64Array },
  out: Float64Array,
): void {
  let top = -1;
  for (let q = 0; q < count; q++) {
    if (heights[q] === Infinity) continue;
    let cut = -Infinity;
    while (top >= 0) {
      const p = hull.at[top];
      cut = (heights[q] + q * q - heights[p] - p * p) / (2 * (q - p));
      if (cut > hull.from[top]) break;
      top--;
      cut = -Infinity;
    }
    top++;
    hull.at[top] = q;
    hull.from[top] = cut;
  }
  if (top < 0) {
    out.fill(Infinity, 0, count);
    return;
  }
  hull.from[top + 1] = Infinity;
  let k = 0;
  for (let q = 0; q < count; q++) {
    while (hull.from[k + 1] < q) k++;
    out[q] = (q - hull.at[k]) ** 2 + heights[hull.at[k]];
  }
}
