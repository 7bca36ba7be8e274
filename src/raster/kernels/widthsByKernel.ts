import type { BitPlane } from '../bitPlane.ts';
import type { ShapePoints } from '../shapeWidths.ts';
import { type Kernels, Layout } from './kernelModule.ts';

/** Rows of points measured at once, with as many rows around them as a look may reach. */
const stripRows = 1024;
/** A look goes to the nearest edge, as far again and a little more to the other side, and once more from beside there. */
const looks = 4;
const morePx = 16;

/** `widthsPlain`, in one go over many pixels. */
export function widthsByKernel(
  kernels: Kernels,
  plane: BitPlane,
  inverted: boolean,
  rowPitch: number,
  points: ShapePoints,
  limitPx: number,
): Float32Array {
  const { columns, rows, scale } = points;
  const { widthPx, heightPx, wordsPerRow, words } = plane;
  const widths = new Float32Array(columns.length);
  const haloRows = Math.ceil((looks * limitPx) / Math.min(1, rowPitch)) + morePx;
  const strips = byStrip(rows, scale, heightPx);
  const most = strips.reduce((count, { length }) => Math.max(count, length), 0);
  const layout = new Layout(kernels);
  const band = layout.take(4 * wordsPerRow * Math.min(heightPx, stripRows + 2 * haloRows));
  const columnsAt = layout.take(4 * most);
  const rowsAt = layout.take(4 * most);
  const widthsAt = layout.take(4 * most);
  const memory = new Int32Array(kernels.memory.buffer);
  const answers = new Float32Array(kernels.memory.buffer, widthsAt, most);
  strips.forEach((strip, index) => {
    if (strip.length === 0) return;
    const top = Math.max(0, index * stripRows - haloRows);
    const bottom = Math.min(heightPx, (index + 1) * stripRows + haloRows);
    memory.set(words.subarray(top * wordsPerRow, bottom * wordsPerRow), band >> 2);
    kernels.beginWidths(band - 4 * wordsPerRow * top, wordsPerRow, widthPx, heightPx, inverted ? 1 : 0, rowPitch);
    strip.forEach((point, k) => {
      memory[(columnsAt >> 2) + k] = columns[point];
      memory[(rowsAt >> 2) + k] = rows[point];
    });
    kernels.widthsAcross(columnsAt, rowsAt, strip.length, scale, limitPx, widthsAt);
    strip.forEach((point, k) => {
      widths[point] = answers[k];
    });
  });
  return widths;
}

/** The numbers of the points in each strip of rows. */
function byStrip(rows: Int32Array, scale: number, heightPx: number): Int32Array[] {
  const stripOf = (point: number) => Math.floor((rows[point] * scale) / stripRows);
  const starts = new Int32Array(Math.ceil(heightPx / stripRows) + 1);
  for (let point = 0; point < rows.length; point++) starts[stripOf(point) + 1]++;
  for (let strip = 1; strip < starts.length; strip++) starts[strip] += starts[strip - 1];
  const next = starts.slice();
  const sorted = new Int32Array(rows.length);
  for (let point = 0; point < rows.length; point++) sorted[next[stripOf(point)]++] = point;
  return Array.from({ length: starts.length - 1 }, (_, strip) => sorted.subarray(starts[strip], starts[strip + 1]));
}
