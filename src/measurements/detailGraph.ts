import { type Ridges, ridgeEnds } from './detailRidges.ts';

/** Steeper than this a ridge runs into a corner: 2·sin(45° / 2), the fall in width of a 45° corner a step. */
export const cornerSlope = 0.77;
/** Lengths over which a slope is taken, in pixels: shorter ones are ruled by the pixel steps. */
const slopeReachPx = 5;
/** A fine line's end joins the tip of a broad one within this distance. */
const linkPx = 9;

/** A middle line put together from chains, as points in order. */
export interface Stretch {
  readonly xs: Float64Array;
  readonly ys: Float64Array;
  readonly widths: Float64Array;
  /** Length along the line up to each point, in units of a pixel's width. */
  readonly along: Float64Array;
  readonly count: number;
  readonly headKind: number;
  readonly tailKind: number;
  readonly closed: boolean;
}

/**
 * Joins chains of middle lines to whole stretches and hands each to `visit`, which must copy what it keeps.
 * Chains that only run into a corner of the shape are dropped first. Where two chains are left at a node they are one
 * line; where more are, those that go straight on are joined.
 */
export function visitStretches(fine: Ridges, broad: Ridges, rowPitch: number, visit: (stretch: Stretch) => void): void {
  const graph = joinedGraph(fine, broad, rowPitch);
  const dropped = new Uint8Array(graph.count);
  const fineNodeCount = fine.nodeXs.length;
  // The corners of the fine lines go before the two are linked, else every corner would look like a fork.
  prune(graph, dropped, 0, fine.count);
  linkTips(graph, dropped, fine.count, fineNodeCount + broad.nodeXs.length);
  prune(graph, dropped, 0, graph.count);
  const partner = pairEnds(graph, dropped);
  assemble(graph, dropped, partner, visit);
}

interface Graph {
  count: number;
  starts: Int32Array;
  xs: Float32Array;
  ys: Float32Array;
  widths: Float32Array;
  endKind: Uint8Array;
  endNode: Int32Array;
  closed: Uint8Array;
  rowPitch: number;
}

function joinedGraph(fine: Ridges, broad: Ridges, rowPitch: number): Graph {
  const points = fine.xs.length;
  const nodes = fine.nodeXs.length;
  return {
    count: fine.count + broad.count,
    starts: concat(
      Int32Array,
      fine.starts.subarray(0, fine.count),
      broad.starts.map((start) => start + points),
    ),
    xs: concat(Float32Array, fine.xs, broad.xs),
    ys: concat(Float32Array, fine.ys, broad.ys),
    widths: concat(Float32Array, fine.widths, broad.widths),
    endKind: concat(Uint8Array, fine.endKind, broad.endKind),
    endNode: concat(
      Int32Array,
      fine.endNode,
      broad.endNode.map((node) => (node < 0 ? -1 : node + nodes)),
    ),
    closed: concat(Uint8Array, fine.closed, broad.closed),
    rowPitch,
  };
}

function concat<T extends Int32Array | Float32Array | Uint8Array>(
  make: new (length: number) => T,
  first: T,
  second: T,
): T {
  const both = new make(first.length + second.length);
  both.set(first);
  both.set(second, first.length);
  return both;
}

/** Drops chains with a free end that run into a corner, again and again as their nodes fall away. */
function prune(graph: Graph, dropped: Uint8Array, from: number, to: number): void {
  const endsAt = endsByNode(graph, dropped);
  for (const [end, ...others] of endsAt.values()) if (others.length === 0) setFree(graph, end);
  let pending: number[] = [];
  for (let chain = from; chain < to; chain++) pending.push(chain);
  while (pending.length > 0) {
    const next: number[] = [];
    for (const chain of pending) {
      if (dropped[chain] === 1 || graph.closed[chain] === 1 || !isCornerRun(graph, chain)) continue;
      dropped[chain] = 1;
      for (const end of [2 * chain, 2 * chain + 1]) {
        const node = graph.endNode[end];
        if (graph.endKind[end] !== ridgeEnds.node) continue;
        const left = (endsAt.get(node) ?? []).filter((other) => dropped[other >> 1] === 0);
        endsAt.set(node, left);
        if (left.length !== 1) continue;
        setFree(graph, left[0]);
        next.push(left[0] >> 1);
      }
    }
    pending = next;
  }
}

function setFree(graph: Graph, end: number): void {
  graph.endKind[end] = ridgeEnds.free;
  graph.endNode[end] = -1;
}

function endsByNode(graph: Graph, dropped: Uint8Array): Map<number, number[]> {
  const endsAt = new Map<number, number[]>();
  for (let end = 0; end < 2 * graph.count; end++) {
    if (graph.endKind[end] !== ridgeEnds.node || dropped[end >> 1] === 1) continue;
    const list = endsAt.get(graph.endNode[end]);
    if (list === undefined) endsAt.set(graph.endNode[end], [end]);
    else list.push(end);
  }
  return endsAt;
}

/** Whether a chain with one free end does nothing but fall into a corner or end within the broad part it starts from. */
function isCornerRun(graph: Graph, chain: number): boolean {
  const headFree = graph.endKind[2 * chain] === ridgeEnds.free;
  const tailFree = graph.endKind[2 * chain + 1] === ridgeEnds.free;
  if (headFree === tailFree) return false;
  const start = graph.starts[chain];
  const count = graph.starts[chain + 1] - start;
  const index = (k: number) => (headFree ? start + k : start + count - 1 - k);
  const { widths } = graph;
  let k = 0;
  let passed = 0;
  while (k < count - 1) {
    let far = k;
    let run = 0;
    while (far < count - 1 && run < slopeReachPx) {
      run += stepLength(graph, index(far), index(far + 1));
      far++;
    }
    if (run < 2 && k > 0) break;
    if ((widths[index(far)] - widths[index(k)]) / run <= cornerSlope) {
      const length = run + lengthBetween(graph, index, far, count - 1);
      return passed > 0 ? length < Math.max(3, 0.5 * widths[index(count - 1)]) : length < 3;
    }
    passed += stepLength(graph, index(k), index(k + 1));
    k++;
  }
  return true;
}

function lengthBetween(graph: Graph, index: (k: number) => number, from: number, to: number): number {
  let length = 0;
  for (let k = from; k < to; k++) length += stepLength(graph, index(k), index(k + 1));
  return length;
}

function stepLength(graph: Graph, a: number, b: number): number {
  return Math.hypot(graph.xs[b] - graph.xs[a], (graph.ys[b] - graph.ys[a]) * graph.rowPitch);
}

/** Joins the ends of fine lines at broad parts to the tips of broad lines near by, by nodes of their own. */
function linkTips(graph: Graph, dropped: Uint8Array, fineCount: number, firstNode: number): void {
  const cells = new Map<number, number[]>();
  const cellOf = (x: number, y: number) => Math.floor(y / linkPx) * 65536 + Math.floor(x / linkPx);
  for (let end = 2 * fineCount; end < 2 * graph.count; end++) {
    if (graph.endKind[end] !== ridgeEnds.free) continue;
    const point = pointOfEnd(graph, end);
    const cell = cellOf(graph.xs[point], graph.ys[point]);
    const list = cells.get(cell);
    if (list === undefined) cells.set(cell, [end]);
    else list.push(end);
  }
  let node = firstNode;
  const nodeOfTip = new Map<number, number>();
  for (let end = 0; end < 2 * fineCount; end++) {
    if (graph.endKind[end] !== ridgeEnds.body || dropped[end >> 1] === 1) continue;
    const point = pointOfEnd(graph, end);
    const x = graph.xs[point];
    const y = graph.ys[point];
    let nearest = -1;
    let best = linkPx;
    for (let row = -1; row <= 1; row++) {
      for (let column = -1; column <= 1; column++) {
        for (const tip of cells.get(cellOf(x + column * linkPx, y + row * linkPx)) ?? []) {
          // A tip already taken is left to its own line if another is as near.
          const taken = nodeOfTip.has(tip) ? linkPx / 3 : 0;
          const distance = stepLength(graph, point, pointOfEnd(graph, tip)) + taken;
          if (distance >= best) continue;
          best = distance;
          nearest = tip;
        }
      }
    }
    if (nearest < 0) continue;
    let own = nodeOfTip.get(nearest);
    if (own === undefined) {
      own = node++;
      nodeOfTip.set(nearest, own);
      graph.endKind[nearest] = ridgeEnds.node;
      graph.endNode[nearest] = own;
    }
    graph.endKind[end] = ridgeEnds.node;
    graph.endNode[end] = own;
  }
}

function pointOfEnd(graph: Graph, end: number): number {
  return (end & 1) === 0 ? graph.starts[end >> 1] : graph.starts[(end >> 1) + 1] - 1;
}

/** For every end the end it is joined to, or -1. */
function pairEnds(graph: Graph, dropped: Uint8Array): Int32Array {
  const partner = new Int32Array(2 * graph.count).fill(-1);
  for (const ends of endsByNode(graph, dropped).values()) {
    if (ends.length === 2) {
      partner[ends[0]] = ends[1];
      partner[ends[1]] = ends[0];
      continue;
    }
    const ways = ends.map((end) => directionFrom(graph, end));
    const pairs: { a: number; b: number; cos: number }[] = [];
    for (let a = 0; a < ends.length; a++) {
      for (let b = a + 1; b < ends.length; b++) {
        // Two lines that leave a node in opposite directions are one line going through.
        const cos = -(ways[a][0] * ways[b][0] + ways[a][1] * ways[b][1]);
        if (cos > Math.cos(Math.PI / 6)) pairs.push({ a, b, cos });
      }
    }
    pairs.sort((p, q) => q.cos - p.cos);
    for (const { a, b } of pairs) {
      if (partner[ends[a]] >= 0 || partner[ends[b]] >= 0) continue;
      partner[ends[a]] = ends[b];
      partner[ends[b]] = ends[a];
    }
  }
  return partner;
}

/** Direction in which a chain leaves one of its ends, of length 1. */
function directionFrom(graph: Graph, end: number): [number, number] {
  const chain = end >> 1;
  const first = pointOfEnd(graph, end);
  const step = (end & 1) === 0 ? 1 : -1;
  const last = (end & 1) === 0 ? graph.starts[chain + 1] - 1 : graph.starts[chain];
  const reach = Math.max(8, 1.5 * graph.widths[first]);
  let point = first;
  while (point !== last && stepLength(graph, first, point) < reach) point += step;
  const dx = graph.xs[point] - graph.xs[first];
  const dy = (graph.ys[point] - graph.ys[first]) * graph.rowPitch;
  const length = Math.hypot(dx, dy) || 1;
  return [dx / length, dy / length];
}

function assemble(graph: Graph, dropped: Uint8Array, partner: Int32Array, visit: (stretch: Stretch) => void): void {
  const used = dropped.slice();
  const buffer = new StretchBuffer(graph);
  for (let end = 0; end < 2 * graph.count; end++) {
    if (used[end >> 1] === 1 || partner[end] >= 0) continue;
    visit(buffer.from(end, partner, used));
  }
  // What is left are chains joined in a round.
  for (let chain = 0; chain < graph.count; chain++) {
    if (used[chain] === 0) visit(buffer.from(2 * chain, partner, used));
  }
}

class StretchBuffer {
  private readonly graph: Graph;
  private xs = new Float64Array(1024);
  private ys = new Float64Array(1024);
  private widths = new Float64Array(1024);
  private along = new Float64Array(1024);

  constructor(graph: Graph) {
    this.graph = graph;
  }

  /** Follows chains from one end to where nothing is joined on, or round to the start. */
  from(end: number, partner: Int32Array, used: Uint8Array): Stretch {
    const { graph } = this;
    let count = 0;
    let entry = end;
    for (;;) {
      const chain = entry >> 1;
      used[chain] = 1;
      const first = graph.starts[chain];
      const last = graph.starts[chain + 1] - 1;
      const step = (entry & 1) === 0 ? 1 : -1;
      this.makeRoom(count + last - first + 1);
      for (let point = step === 1 ? first : last; point >= first && point <= last; point += step) {
        this.add(count++, point);
      }
      const exit = entry ^ 1;
      const next = partner[exit];
      if (next < 0 || used[next >> 1] === 1) {
        const closed = graph.closed[chain] === 1 || next >= 0;
        this.measureLengths(count);
        return {
          xs: this.xs,
          ys: this.ys,
          widths: this.widths,
          along: this.along,
          count,
          headKind: graph.endKind[end],
          tailKind: graph.endKind[exit],
          closed,
        };
      }
      entry = next;
    }
  }

  private add(index: number, point: number): void {
    const { graph } = this;
    this.xs[index] = graph.xs[point];
    this.ys[index] = graph.ys[point];
    this.widths[index] = graph.widths[point];
  }

  /** Lengths along the line evened out over a few points, as the steps of the pixels make every slanted line longer. */
  private measureLengths(count: number): void {
    const { xs, ys, along } = this;
    let lastX = 0;
    let lastY = 0;
    for (let k = 0; k < count; k++) {
      const reach = Math.min(4, k, count - 1 - k);
      let x = 0;
      let y = 0;
      for (let j = k - reach; j <= k + reach; j++) {
        x += xs[j];
        y += ys[j];
      }
      x /= 2 * reach + 1;
      y /= 2 * reach + 1;
      along[k] = k === 0 ? 0 : along[k - 1] + Math.hypot(x - lastX, (y - lastY) * this.graph.rowPitch);
      lastX = x;
      lastY = y;
    }
  }

  private makeRoom(count: number): void {
    if (count <= this.xs.length) return;
    const larger = (list: Float64Array) => {
      const copy = new Float64Array(2 * count);
      copy.set(list);
      return copy;
    };
    this.xs = larger(this.xs);
    this.ys = larger(this.ys);
    this.widths = larger(this.widths);
    this.along = larger(this.along);
  }
}
