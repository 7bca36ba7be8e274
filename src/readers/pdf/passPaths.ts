import type { BoxMm } from '../../geometry/box.ts';
import type { Matrix } from '../../geometry/matrix.ts';
import { closePath, curveTo, lineTo, moveTo, type PathRange, type PathStore } from '../../geometry/pathStore.ts';
import type { PixelGrid } from '../../raster/pixelGrid.ts';
import type { ContentBytes } from './contentBytes.ts';

/** Path operators of a path in pixels, y up. */
export function writePath(out: ContentBytes, store: PathStore, path: PathRange, grid: PixelGrid): void {
  const { verbs, coords } = store;
  const sx = 1 / grid.pitchXMm;
  const sy = -1 / grid.pitchYMm;
  const top = grid.heightPx;
  let at = path.coordStart;
  for (let v = path.verbStart; v < path.verbEnd; v++) {
    const verb = verbs[v];
    if (verb === closePath) {
      out.text('h\n');
      continue;
    }
    const points = verb === curveTo ? 3 : 1;
    for (let k = 0; k < points; k++) {
      out.number(coords[at] * sx);
      out.number(top + coords[at + 1] * sy);
      at += 2;
    }
    out.text(verb === curveTo ? 'c\n' : verb === moveTo ? 'm\n' : 'l\n');
  }
}

/**
 * As `writePath`, with a point more in the middle of the first edge: the renderer widens plain rectangles to whole
 * pixels, and takes a path of four corners and one point more for none.
 */
export function writeBrokenPath(out: ContentBytes, store: PathStore, path: PathRange, grid: PixelGrid): void {
  const { verbs, coords } = store;
  const first = path.verbStart;
  if (path.verbEnd - first > 8 || verbs[first] !== moveTo || verbs[first + 1] !== lineTo) {
    writePath(out, store, path, grid);
    return;
  }
  const at = path.coordStart;
  const px = (x: number) => x / grid.pitchXMm;
  const py = (y: number) => grid.heightPx - y / grid.pitchYMm;
  out.number(px(coords[at]));
  out.number(py(coords[at + 1]));
  out.text('m\n');
  out.number(px((coords[at] + coords[at + 2]) / 2));
  out.number(py((coords[at + 1] + coords[at + 3]) / 2));
  out.text('l\n');
  writePath(out, store, { ...path, verbStart: first + 1, coordStart: at + 2 }, grid);
}

/**
 * An upright rectangle with its edges on the nearest pixel edges: the pixels it covers by more than half, each way. One
 * thinner than a pixel keeps the one its middle lies in, so that none is lost.
 */
export function writeSnappedBox(out: ContentBytes, box: BoxMm, grid: PixelGrid): void {
  const [left, right] = snapped(box.xMm / grid.pitchXMm, (box.xMm + box.widthMm) / grid.pitchXMm);
  const [top, bottom] = snapped(box.yMm / grid.pitchYMm, (box.yMm + box.heightMm) / grid.pitchYMm);
  out.number(left);
  out.number(grid.heightPx - bottom);
  out.number(right - left);
  out.number(bottom - top);
  out.text('re\n');
}

function snapped(from: number, to: number): [number, number] {
  const [start, end] = [Math.round(from), Math.round(to)];
  const middle = Math.floor((from + to) / 2);
  return end > start ? [start, end] : [middle, middle + 1];
}

/** Whether a transform only scales, mirrors and turns by quarter turns. */
export function isUpright(matrix: Matrix): boolean {
  const [a, b, c, d] = matrix;
  const slack = 1e-4 * Math.max(Math.abs(a), Math.abs(b), Math.abs(c), Math.abs(d)) + 1e-9;
  return (Math.abs(b) <= slack && Math.abs(c) <= slack) || (Math.abs(a) <= slack && Math.abs(d) <= slack);
}
