import type { BitPlane } from './bitPlane.ts';

/**
 * Clears the connected part (8-connected) of opaque pixels a pixel belongs to, or with `inverted` fills the clear part
 * (4-connected). Meant for small parts: every pixel is visited.
 */
export function erasePart(plane: BitPlane, column: number, row: number, inverted: boolean): void {
  const { widthPx, heightPx, wordsPerRow, words } = plane;
  const flip = inverted ? 1 : 0;
  const steps = inverted ? 4 : 8;
  const pending: number[] = [column, row];
  toggle(column, row);
  while (pending.length > 0) {
    const r = pending.pop()!;
    const c = pending.pop()!;
    for (let step = 0; step < steps; step++) {
      const x = c + stepColumns[step];
      const y = r + stepRows[step];
      if (x < 0 || y < 0 || x >= widthPx || y >= heightPx) continue;
      if (((words[y * wordsPerRow + (x >> 5)] >>> (x & 31)) & 1) === flip) continue;
      toggle(x, y);
      pending.push(x, y);
    }
  }

  function toggle(x: number, y: number): void {
    words[y * wordsPerRow + (x >> 5)] ^= 1 << (x & 31);
  }
}

const stepColumns = [0, 1, 0, -1, 1, 1, -1, -1];
const stepRows = [-1, 0, 1, 0, -1, 1, 1, -1];
