import type { BoxMm } from '../geometry/box.ts';
import type { PixelGrid } from '../raster/pixelGrid.ts';

interface PixelBox {
  readonly left: number;
  readonly top: number;
  readonly right: number;
  readonly bottom: number;
}

/**
 * Visits the pixels whose centres lie in any of the boxes, each once: row by row, columns `from` to before `end`.
 */
export function visitBoxSpans(
  grid: PixelGrid,
  boxes: readonly BoxMm[],
  visit: (row: number, from: number, end: number) => void,
): void {
  const inPixels = boxes
    .map(
      ({ xMm, yMm, widthMm, heightMm }): PixelBox => ({
        left: Math.max(0, Math.ceil(xMm / grid.pitchXMm - 0.5)),
        top: Math.max(0, Math.ceil(yMm / grid.pitchYMm - 0.5)),
        right: Math.min(grid.widthPx, Math.ceil((xMm + widthMm) / grid.pitchXMm - 0.5)),
        bottom: Math.min(grid.heightPx, Math.ceil((yMm + heightMm) / grid.pitchYMm - 0.5)),
      }),
    )
    .filter(({ left, top, right, bottom }) => left < right && top < bottom)
    .sort((p, q) => p.left - q.left);
  const breaks = [...new Set(inPixels.flatMap(({ top, bottom }) => [top, bottom]))].sort((p, q) => p - q);
  for (let k = 0; k + 1 < breaks.length; k++) {
    const spans = joinedSpans(inPixels.filter(({ top, bottom }) => top <= breaks[k] && bottom > breaks[k]));
    for (let row = breaks[k]; row < breaks[k + 1]; row++) {
      for (const [from, end] of spans) visit(row, from, end);
    }
  }
}

/** Of boxes from left to right the columns they cover, runs that meet joined. */
function joinedSpans(boxes: readonly PixelBox[]): [number, number][] {
  const spans: [number, number][] = [];
  for (const { left, right } of boxes) {
    const last = spans.at(-1);
    if (last !== undefined && left <= last[1]) last[1] = Math.max(last[1], right);
    else spans.push([left, right]);
  }
  return spans;
}
