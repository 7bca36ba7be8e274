import type { MeshOnFilm } from './threads.ts';
import type { Viewport } from './viewport.ts';
import { toWindow } from './viewport.ts';

const dark = '#101a24';
const light = '#ffffff';

/** Strokes a path twice, dark on light, so that it is seen on any ink. */
export function strokeTwoTone(context: CanvasRenderingContext2D, path: Path2D, widthPx: number): void {
  context.lineJoin = 'round';
  context.lineCap = 'round';
  context.strokeStyle = light;
  context.lineWidth = widthPx * 3;
  context.stroke(path);
  context.strokeStyle = dark;
  context.lineWidth = widthPx;
  context.stroke(path);
}

/** Words over art: dark, with a light edge. */
export function writeTwoTone(
  context: CanvasRenderingContext2D,
  text: string,
  x: number,
  y: number,
  sizePx: number,
): void {
  context.font = `600 ${sizePx}px "Source Sans 3", sans-serif`;
  context.textAlign = 'center';
  context.textBaseline = 'middle';
  context.lineJoin = 'round';
  context.strokeStyle = light;
  context.lineWidth = sizePx / 3;
  context.strokeText(text, x, y);
  context.fillStyle = dark;
  context.fillText(text, x, y);
}

export interface Marked {
  readonly xMm: number;
  readonly yMm: number;
  readonly widthMm: number;
  readonly heightMm: number;
}

/** Corners about each place; small places are marked by a ring so that they are found from afar. */
export function drawMarks(
  context: CanvasRenderingContext2D,
  view: Viewport,
  places: readonly Marked[],
  current: Marked | null,
): void {
  const ratio = window.devicePixelRatio;
  const others = new Path2D();
  for (const place of places) if (place !== current) addMark(others, view, place, 4 * ratio, false);
  strokeTwoTone(context, others, ratio);
  if (current === null) return;
  const own = new Path2D();
  addMark(own, view, current, 7 * ratio, true);
  strokeTwoTone(context, own, 2 * ratio);
}

function addMark(path: Path2D, view: Viewport, place: Marked, marginPx: number, isCurrent: boolean): void {
  const [left, top] = toWindow(view, place.xMm, place.yMm);
  const [right, bottom] = toWindow(view, place.xMm + place.widthMm, place.yMm + place.heightMm);
  if (right < -50 || bottom < -50 || left > view.widthPx + 50 || top > view.heightPx + 50) return;
  const least = (isCurrent ? 10 : 5) * window.devicePixelRatio;
  if (right - left < least && bottom - top < least) {
    const [x, y] = [(left + right) / 2, (top + bottom) / 2];
    path.moveTo(x + least + 1, y);
    path.arc(x, y, least + 1, 0, 2 * Math.PI);
    return;
  }
  const [x0, y0, x1, y1] = [left - marginPx, top - marginPx, right + marginPx, bottom + marginPx];
  const arm = Math.min(14 * window.devicePixelRatio, (x1 - x0) / 3, (y1 - y0) / 3);
  for (const [x, y, dx, dy] of [
    [x0, y0, arm, arm],
    [x1, y0, -arm, arm],
    [x0, y1, arm, -arm],
    [x1, y1, -arm, -arm],
  ]) {
    path.moveTo(x + dx, y);
    path.lineTo(x, y);
    path.lineTo(x, y + dy);
  }
}

/** A dimension line with its length in mm and inch. */
export function drawRuler(
  context: CanvasRenderingContext2D,
  view: Viewport,
  ends: readonly [readonly [number, number], readonly [number, number]],
  words: string,
): void {
  const ratio = window.devicePixelRatio;
  const [x0, y0] = toWindow(view, ...ends[0]);
  const [x1, y1] = toWindow(view, ...ends[1]);
  const along = Math.hypot(x1 - x0, y1 - y0) || 1;
  const [nx, ny] = [(-(y1 - y0) / along) * 8 * ratio, ((x1 - x0) / along) * 8 * ratio];
  const path = new Path2D();
  path.moveTo(x0, y0);
  path.lineTo(x1, y1);
  for (const [x, y] of [
    [x0, y0],
    [x1, y1],
  ]) {
    path.moveTo(x - nx, y - ny);
    path.lineTo(x + nx, y + ny);
  }
  strokeTwoTone(context, path, 1.5 * ratio);
  writeTwoTone(context, words, (x0 + x1) / 2, (y0 + y1) / 2 - 20 * ratio, 15 * ratio);
}

/** Threads closer than this in the window would be a grey only. */
export const leastPitchPx = 4;

/** The mesh at true scale over the art: threads as translucent bands, so that a line falling between two is seen. */
export function drawThreads(context: CanvasRenderingContext2D, view: Viewport, mesh: MeshOnFilm): boolean {
  const pitchPx = mesh.pitchMm * view.pxPerMm;
  if (pitchPx < leastPitchPx) return false;
  const threadPx = Math.max(1, mesh.threadMm * view.pxPerMm);
  const [left, top] = [view.xMm - view.widthPx / 2 / view.pxPerMm, view.yMm - view.heightPx / 2 / view.pxPerMm];
  context.fillStyle = 'rgba(120, 128, 138, 0.55)';
  for (let index = Math.floor(left / mesh.pitchMm); ; index++) {
    const [x] = toWindow(view, index * mesh.pitchMm, 0);
    if (x > view.widthPx) break;
    context.fillRect(x, 0, threadPx, view.heightPx);
  }
  for (let index = Math.floor(top / mesh.pitchMm); ; index++) {
    const [, y] = toWindow(view, 0, index * mesh.pitchMm);
    if (y > view.heightPx) break;
    context.fillRect(0, y, view.widthPx, threadPx);
  }
  return true;
}
