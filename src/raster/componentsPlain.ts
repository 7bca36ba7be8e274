import type { BitPlane } from './bitPlane.ts';
import { type Component, type ComponentOptions, emptyComponent, forgetMoments } from './component.ts';
import { readRuns } from './runs.ts';

/** `visitComponents` on 32 pixels a step. */
export function visitComponentsPlain(
  plane: BitPlane,
  options: ComponentOptions,
  visit: (component: Component) => void,
): void {
  const { widthPx, heightPx } = plane;
  const { mostColumns = widthPx, mostRows = heightPx, mostAreaPx = Infinity } = options;
  const reach = options.connectivity === 8 ? 1 : 0;
  let above = new Int32Array(widthPx + 2);
  let here = new Int32Array(widthPx + 2);
  let aboveLabels = new Int32Array((widthPx >> 1) + 2);
  let hereLabels = new Int32Array((widthPx >> 1) + 2);
  let aboveCount = 0;
  const parts: Component[] = [];
  const parent: number[] = [];
  const lastRow: number[] = [];
  const free: number[] = [];
  const merged: number[] = [];

  for (let row = 0; row <= heightPx; row++) {
    const count = row < heightPx ? readRuns(plane, row, options.inverted, here) : 0;
    let over = 0;
    for (let run = 0; run < count; run++) {
      const from = here[2 * run];
      const to = here[2 * run + 1];
      while (over < aboveCount && above[2 * over + 1] + reach <= from) over++;
      let label = -1;
      for (let k = over; k < aboveCount && above[2 * k] < to + reach; k++) {
        const other = rootOf(aboveLabels[k]);
        if (label < 0) label = other;
        else if (label !== other) label = joined(label, other);
      }
      if (label < 0) label = fresh(from, row);
      addRun(parts[label], from, to, row);
      lastRow[label] = row;
      hereLabels[run] = label;
    }
    for (let run = 0; run < count; run++) hereLabels[run] = rootOf(hereLabels[run]);
    for (let k = 0; k < aboveCount; k++) {
      const root = rootOf(aboveLabels[k]);
      if (lastRow[root] === row || lastRow[root] < 0) continue;
      if (options.moments === false) forgetMoments(parts[root]);
      if (isWanted(parts[root])) visit(parts[root]);
      lastRow[root] = -1;
      free.push(root);
    }
    while (merged.length > 0) free.push(merged.pop()!);
    [above, here] = [here, above];
    [aboveLabels, hereLabels] = [hereLabels, aboveLabels];
    aboveCount = count;
  }

  function isWanted({ areaPx, left, top, right, bottom }: Component): boolean {
    return areaPx <= mostAreaPx && right - left <= mostColumns && bottom - top <= mostRows;
  }

  function rootOf(label: number): number {
    let root = label;
    while (parent[root] !== root) root = parent[root];
    return root;
  }

  function joined(a: number, b: number): number {
    mergeInto(parts[a], parts[b]);
    parent[b] = a;
    merged.push(b);
    return a;
  }

  function fresh(column: number, row: number): number {
    let label = free.pop();
    if (label === undefined) {
      label = parts.length;
      parts.push(emptyComponent());
      parent.push(label);
      lastRow.push(row);
    }
    parent[label] = label;
    restart(parts[label], column, row);
    return label;
  }
}

function restart(part: Component, column: number, row: number): void {
  part.areaPx = 0;
  part.left = column;
  part.right = column;
  part.top = row;
  part.bottom = row;
  part.firstColumn = column;
  forgetMoments(part);
}

function addRun(part: Component, from: number, to: number, row: number): void {
  const n = to - from;
  const first = from - part.firstColumn;
  const last = first + n - 1;
  const sum = (n * (first + last)) / 2;
  const down = row - part.top;
  part.areaPx += n;
  part.sumColumn += sum;
  part.sumColumnSquared += squaresTo(last) - squaresTo(first - 1);
  part.sumRow += n * down;
  part.sumRowSquared += n * down * down;
  part.sumProduct += sum * down;
  if (from < part.left) part.left = from;
  if (to > part.right) part.right = to;
  part.bottom = row + 1;
}

/** 0² + 1² + … + n², carried on below 0 so that differences give the sum over any stretch. */
function squaresTo(n: number): number {
  return (n * (n + 1) * (2 * n + 1)) / 6;
}

function mergeInto(part: Component, other: Component): void {
  const right = other.firstColumn - part.firstColumn;
  const down = other.top - part.top;
  const n = other.areaPx;
  // Parallel axes: the other's sums are about its own first pixel.
  let { sumColumn, sumRow, sumColumnSquared, sumRowSquared, sumProduct } = other;
  sumColumnSquared += 2 * right * sumColumn + n * right * right;
  sumRowSquared += 2 * down * sumRow + n * down * down;
  sumProduct += right * sumRow + down * sumColumn + n * right * down;
  sumColumn += n * right;
  sumRow += n * down;
  part.areaPx += n;
  part.sumColumn += sumColumn;
  part.sumRow += sumRow;
  part.sumColumnSquared += sumColumnSquared;
  part.sumRowSquared += sumRowSquared;
  part.sumProduct += sumProduct;
  part.left = Math.min(part.left, other.left);
  part.right = Math.max(part.right, other.right);
  part.bottom = Math.max(part.bottom, other.bottom);
  if (other.top < part.top || (other.top === part.top && other.firstColumn < part.firstColumn)) {
    moveOrigin(part, other.firstColumn, other.top);
  }
}

function moveOrigin(part: Component, column: number, row: number): void {
  const right = part.firstColumn - column;
  const down = part.top - row;
  const n = part.areaPx;
  part.sumColumnSquared += 2 * right * part.sumColumn + n * right * right;
  part.sumRowSquared += 2 * down * part.sumRow + n * down * down;
  part.sumProduct += right * part.sumRow + down * part.sumColumn + n * right * down;
  part.sumColumn += n * right;
  part.sumRow += n * down;
  part.firstColumn = column;
  part.top = row;
}
