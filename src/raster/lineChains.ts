import { GrowingInts } from './growingList.ts';
import type { SparseBits } from './sparseBits.ts';

/** How a chain ends: in the open, at something broad that was kept, or at a node where several meet. */
export const endKinds = { free: 0, body: 1, node: 2 } as const;

/**
 * One-pixel lines followed from end to end. Chain k has the pixels `starts[k]` up to `starts[k + 1]`, its head the
 * first and its tail the last. Ends are numbered 2k (head) and 2k + 1 (tail).
 */
export interface LineChains {
  readonly count: number;
  readonly starts: Int32Array;
  readonly columns: Int32Array;
  readonly rows: Int32Array;
  readonly endKind: Uint8Array;
  /** Number of the node at an end of kind `node`, else -1. */
  readonly endNode: Int32Array;
  /** 1: the tail joins the head. */
  readonly closed: Uint8Array;
  readonly nodeColumns: Int32Array;
  readonly nodeRows: Int32Array;
}

/**
 * Follows thinned lines (see `visitThinned`). A pixel with three or more lines around it, and the pixels next to it,
 * make a node; what lies between nodes is a chain. The lines are used up.
 * @param isBody whether a pixel belongs to what was kept while thinning
 */
export function followLines(lines: SparseBits, isBody: (column: number, row: number) => boolean): LineChains {
  const { widthPx } = lines;
  const starts = new GrowingInts();
  const columns = new GrowingInts();
  const rows = new GrowingInts();
  const endKind = new GrowingInts();
  const endNode = new GrowingInts();
  const closed = new GrowingInts();
  const nodes = collectNodes(lines, isBody);
  const backwards = new GrowingInts();

  lines.eachPixel(follow);
  starts.push(columns.length);
  return {
    count: starts.length - 1,
    starts: starts.values.slice(0, starts.length),
    columns: columns.values.slice(0, columns.length),
    rows: rows.values.slice(0, rows.length),
    endKind: Uint8Array.from(endKind.values.subarray(0, endKind.length)),
    endNode: endNode.values.slice(0, endNode.length),
    closed: Uint8Array.from(closed.values.subarray(0, closed.length)),
    nodeColumns: nodes.columns.values.slice(0, nodes.columns.length),
    nodeRows: nodes.rows.values.slice(0, nodes.rows.length),
  };

  function follow(column: number, row: number): void {
    const start = columns.length;
    starts.push(start);
    lines.clear(column, row);
    backwards.length = 0;
    walk(column, row, (c, r) => {
      backwards.push(c);
      backwards.push(r);
    });
    for (let k = backwards.length - 2; k >= 0; k -= 2) {
      columns.push(backwards.values[k]);
      rows.push(backwards.values[k + 1]);
    }
    columns.push(column);
    rows.push(row);
    walk(column, row, (c, r) => {
      columns.push(c);
      rows.push(r);
    });
    const last = columns.length - 1;
    const near =
      Math.abs(columns.values[start] - columns.values[last]) <= 1 &&
      Math.abs(rows.values[start] - rows.values[last]) <= 1;
    addEnd(start, -1);
    addEnd(last, start === last ? endNode.values[endNode.length - 1] : -1);
    const ends = endKind.length - 2;
    const atBodies = endKind.values[ends] === endKinds.body && endKind.values[ends + 1] === endKinds.body;
    if (atBodies && last - start < 4 && touchesOneBodyOnly(start, last)) endKind.values[ends + 1] = endKinds.free;
    const open = endKind.values[ends] === endKinds.free && endKind.values[ends + 1] === endKinds.free;
    closed.push(near && open && last - start >= 6 ? 1 : 0);
  }

  function walk(column: number, row: number, visit: (column: number, row: number) => void): void {
    let c = column;
    let r = row;
    for (;;) {
      const step = firstSteps[lines.around(c, r)];
      if (step === 8) return;
      c += stepColumns[step];
      r += stepRows[step];
      lines.clear(c, r);
      visit(c, r);
    }
  }

  /** Whether a chain of a few pixels leans on one body with both its ends, instead of leading from one to another. */
  function touchesOneBodyOnly(start: number, last: number): boolean {
    const touched: number[] = [];
    for (let index = start; index <= last; index++) {
      for (let step = 0; step < 8; step++) {
        const c = columns.values[index] + stepColumns[step];
        const r = rows.values[index] + stepRows[step];
        if (isBody(c, r)) touched.push(c, r);
      }
    }
    const reached = touched.slice(0, 2);
    const rest = touched.slice(2);
    for (let k = 0; k < reached.length; k += 2) {
      for (let j = rest.length - 2; j >= 0; j -= 2) {
        if (Math.abs(rest[j] - reached[k]) > 1 || Math.abs(rest[j + 1] - reached[k + 1]) > 1) continue;
        reached.push(rest[j], rest[j + 1]);
        rest.splice(j, 2);
      }
    }
    return rest.length === 0;
  }

  function addEnd(index: number, otherNode: number): void {
    const column = columns.values[index];
    const row = rows.values[index];
    let node = -1;
    let body = false;
    for (let step = 0; step < 8; step++) {
      const c = column + stepColumns[step];
      const r = row + stepRows[step];
      const found = nodes.ofPixel.get(r * widthPx + c);
      if (found !== undefined && c >= 0 && c < widthPx && found !== otherNode && node < 0) node = found;
      body ||= isBody(c, r);
    }
    const atBody = node >= 0 ? nodes.atBody[node] : body;
    endKind.push(atBody ? endKinds.body : node >= 0 ? endKinds.node : endKinds.free);
    endNode.push(atBody ? -1 : node);
  }
}

const stepColumns = [0, 1, 0, -1, 1, 1, -1, -1];
const stepRows = [-1, 0, 1, 0, -1, 1, 1, -1];
/** Where each of these steps leads among the neighbours counted round the pixel, from the one above, clockwise. */
const roundOfStep = [0, 2, 4, 6, 1, 3, 5, 7];

/**
 * The step to take by the bits of the neighbours; 8: none. Straight ones come before diagonal ones, so that the inner
 * pixel of a stair is not left behind.
 */
const firstSteps = Uint8Array.from({ length: 256 }, (_, code) => {
  const step = roundOfStep.findIndex((round) => ((code >> round) & 1) === 1);
  return step < 0 ? 8 : step;
});

/** How often one meets a line going once round a pixel, by the bits of its neighbours. */
const crossings = Uint8Array.from({ length: 256 }, (_, code) => {
  let count = 0;
  for (let k = 0; k < 8; k++) if ((code >> k) & 1 && !((code >> ((k + 1) & 7)) & 1)) count++;
  return count;
});

interface Nodes {
  readonly ofPixel: Map<number, number>;
  readonly columns: GrowingInts;
  readonly rows: GrowingInts;
  readonly atBody: boolean[];
}

/** Finds the nodes and takes their pixels out of the lines. */
function collectNodes(lines: SparseBits, isBody: (column: number, row: number) => boolean): Nodes {
  const { widthPx } = lines;
  const cores = new GrowingInts();
  lines.eachPixel((column, row) => {
    if (crossings[lines.around(column, row)] >= 3) cores.push(row * widthPx + column);
  });
  const isCore = new Set<number>();
  for (let k = 0; k < cores.length; k++) isCore.add(cores.values[k]);
  const nodes: Nodes = { ofPixel: new Map(), columns: new GrowingInts(), rows: new GrowingInts(), atBody: [] };
  for (let k = 0; k < cores.length; k++) {
    if (nodes.ofPixel.has(cores.values[k])) continue;
    const node = nodes.columns.length;
    const pending = [cores.values[k]];
    nodes.ofPixel.set(cores.values[k], node);
    let sumColumn = 0;
    let sumRow = 0;
    let coreCount = 0;
    let atBody = false;
    for (let pixel = pending.pop(); pixel !== undefined; pixel = pending.pop()) {
      const column = pixel % widthPx;
      const row = (pixel - column) / widthPx;
      const core = isCore.has(pixel);
      if (core) {
        sumColumn += column;
        sumRow += row;
        coreCount++;
      }
      for (let step = 0; step < 8; step++) {
        const c = column + stepColumns[step];
        const r = row + stepRows[step];
        if (core) atBody ||= isBody(c, r);
        const next = r * widthPx + c;
        if (lines.at(c, r) === 0 || nodes.ofPixel.has(next) || !(core || isCore.has(next))) continue;
        nodes.ofPixel.set(next, node);
        pending.push(next);
      }
    }
    nodes.columns.push(Math.round(sumColumn / coreCount));
    nodes.rows.push(Math.round(sumRow / coreCount));
    nodes.atBody.push(atBody);
  }
  for (const pixel of nodes.ofPixel.keys()) {
    const column = pixel % widthPx;
    lines.clear(column, (pixel - column) / widthPx);
  }
  return nodes;
}
