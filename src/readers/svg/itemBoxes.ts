import { type BoxMm, intersectionOfBoxes, unionOfBoxes } from '../../geometry/box.ts';
import { type Matrix, transformed } from '../../geometry/matrix.ts';
import { type Clip, emptyBox, type Item } from './displayList.ts';

/** The box around all items, clips applied; null when one of them may draw anywhere or there are none. */
export function unionOfItems(items: readonly Item[]): BoxMm | null {
  let box: BoxMm | null = null;
  for (const item of items) {
    const own = clippedBox(item.cullBoxMm, item.clips);
    if (own === null) return null;
    box = box === null ? own : unionOfBoxes(box, own);
  }
  return box;
}

/** What of a box its clips can leave. */
export function clippedBox(box: BoxMm | null, clips: readonly Clip[]): BoxMm | null {
  let rest = box;
  for (const clip of clips) {
    if (clip.boxMm === null) continue;
    rest = rest === null ? clip.boxMm : (intersectionOfBoxes(rest, clip.boxMm) ?? emptyBox);
  }
  return rest;
}

/** The upright box around a box after a transform. */
export function transformedBox(matrix: Matrix, box: BoxMm): BoxMm {
  const xs: number[] = [];
  const ys: number[] = [];
  for (const [x, y] of [
    [box.xMm, box.yMm],
    [box.xMm + box.widthMm, box.yMm],
    [box.xMm, box.yMm + box.heightMm],
    [box.xMm + box.widthMm, box.yMm + box.heightMm],
  ]) {
    const [px, py] = transformed(matrix, x, y);
    xs.push(px);
    ys.push(py);
  }
  const xMm = Math.min(...xs);
  const yMm = Math.min(...ys);
  return { xMm, yMm, widthMm: Math.max(...xs) - xMm, heightMm: Math.max(...ys) - yMm };
}
