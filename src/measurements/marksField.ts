import { type MarkWindow, wholeOf } from './marksWindow.ts';

/**
 * What stands white within a black piece, shut in on all sides, as a window of its own; null when nothing does. Of a
 * field with a white mark that is all of the mark.
 */
export function whiteInside(window: MarkWindow): MarkWindow | null {
  const { width, height, ink } = window;
  if (!isField(window) || !hasWhiteAmidBlack(window)) return null;
  const state = Uint8Array.from(ink);
  const queue: number[] = [];
  const flood = (column: number, row: number): void => {
    if (column < 0 || row < 0 || column >= width || row >= height || state[row * width + column] !== 0) return;
    state[row * width + column] = 2;
    queue.push(row * width + column);
  };
  for (let column = 0; column < width; column++) {
    flood(column, 0);
    flood(column, height - 1);
  }
  for (let row = 0; row < height; row++) {
    flood(0, row);
    flood(width - 1, row);
  }
  for (let at = queue.pop(); at !== undefined; at = queue.pop()) {
    const column = at % width;
    const row = (at - column) / width;
    flood(column - 1, row);
    flood(column + 1, row);
    flood(column, row - 1);
    flood(column, row + 1);
  }
  let [left, top, right, bottom] = [width, height, -1, -1];
  for (let row = 0; row < height; row++) {
    for (let column = 0; column < width; column++) {
      if (state[row * width + column] !== 0) continue;
      left = Math.min(left, column);
      right = Math.max(right, column);
      top = Math.min(top, row);
      bottom = row;
    }
  }
  if (right < left) return null;
  const [insideWidth, insideHeight] = [right - left + 1, bottom - top + 1];
  const white = new Uint8Array(insideWidth * insideHeight);
  for (let row = 0; row < insideHeight; row++) {
    for (let column = 0; column < insideWidth; column++) {
      if (state[(row + top) * width + column + left] === 0) white[row * insideWidth + column] = 1;
    }
  }
  return {
    ...window,
    left: window.left + left,
    top: window.top + top,
    width: insideWidth,
    height: insideHeight,
    ink: white,
    reversed: true,
    seen: wholeOf(insideWidth, insideHeight),
    edges: { left: false, top: false, right: false, bottom: false },
  };
}

/** Whether a little way in from each side black runs along most of it. */
function isField({ width, height, ink }: MarkWindow): boolean {
  const row = Math.floor(fieldDepth * height);
  const column = Math.floor(fieldDepth * width);
  const isBlack = (count: number, at: (i: number) => number): boolean => {
    let black = 0;
    for (let i = 0; i < count; i++) black += at(i);
    return black > 0.5 * count;
  };
  return (
    isBlack(width, (i) => ink[row * width + i]) &&
    isBlack(width, (i) => ink[(height - 1 - row) * width + i]) &&
    isBlack(height, (i) => ink[i * width + column]) &&
    isBlack(height, (i) => ink[i * width + width - 1 - column])
  );
}

const fieldDepth = 0.08;

/** A quick look along both middle lines: any cross in a field shows there. */
function hasWhiteAmidBlack({ width, height, ink }: MarkWindow): boolean {
  const row = Math.floor(0.35 * height);
  const column = Math.floor(0.35 * width);
  const isPierced = (count: number, at: (i: number) => number): boolean => {
    let turns = 0;
    for (let i = 1; i < count; i++) if (at(i) !== at(i - 1)) turns++;
    return turns >= 2 && at(Math.floor(0.03 * count) + 1) === 1;
  };
  return isPierced(width, (i) => ink[row * width + i]) && isPierced(height, (i) => ink[i * width + column]);
}
