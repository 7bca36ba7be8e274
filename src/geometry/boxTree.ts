import type { BoxMm } from './box.ts';

const perNode = 8;

/**
 * Finds which of many boxes meet a box, without looking at all of them: boxes near each other are packed into nodes,
 * and these into nodes again (sort-tile-recursive packing; Leutenegger, Lopez, Edgington, ICDE 1997).
 */
export class BoxTree {
  /** Boxes of the nodes of each level, from the leaves up: left, top, right, bottom. */
  private readonly levels: Float64Array[] = [];
  private readonly order: Int32Array;

  constructor(boxes: readonly BoxMm[]) {
    const middleX = boxes.map(({ xMm, widthMm }) => xMm + widthMm / 2);
    const middleY = boxes.map(({ yMm, heightMm }) => yMm + heightMm / 2);
    const order = Int32Array.from(boxes, (_, index) => index).sort((a, b) => middleX[a] - middleX[b] || a - b);
    const perSlice = perNode * Math.ceil(Math.sqrt(boxes.length / perNode));
    for (let from = 0; from < order.length; from += perSlice) {
      order.subarray(from, from + perSlice).sort((a, b) => middleY[a] - middleY[b] || a - b);
    }
    this.order = order;
    const leaves = new Float64Array(4 * boxes.length);
    order.forEach((index, at) => {
      const { xMm, yMm, widthMm, heightMm } = boxes[index];
      leaves.set([xMm, yMm, xMm + widthMm, yMm + heightMm], 4 * at);
    });
    this.levels.push(leaves);
    while (this.levels[this.levels.length - 1].length > 4 * perNode) {
      this.levels.push(packed(this.levels[this.levels.length - 1]));
    }
  }

  /** The numbers of the boxes that meet a box or touch it, in their own order. */
  meeting({ xMm, yMm, widthMm, heightMm }: BoxMm): number[] {
    const right = xMm + widthMm;
    const bottom = yMm + heightMm;
    const found: number[] = [];
    const top = this.levels.length - 1;
    const visit = (level: number, from: number, to: number): void => {
      const boxes = this.levels[level];
      for (let k = from; k < to; k++) {
        if (boxes[4 * k] > right || boxes[4 * k + 1] > bottom) continue;
        if (boxes[4 * k + 2] < xMm || boxes[4 * k + 3] < yMm) continue;
        if (level === 0) found.push(this.order[k]);
        else visit(level - 1, k * perNode, Math.min((k + 1) * perNode, this.levels[level - 1].length / 4));
      }
    };
    visit(top, 0, this.levels[top].length / 4);
    return found.sort((a, b) => a - b);
  }
}

function packed(boxes: Float64Array): Float64Array {
  const count = boxes.length / 4;
  const nodes = new Float64Array(4 * Math.ceil(count / perNode));
  for (let node = 0; node < nodes.length / 4; node++) {
    let [left, top, right, bottom] = [Infinity, Infinity, -Infinity, -Infinity];
    for (let k = node * perNode; k < Math.min(count, (node + 1) * perNode); k++) {
      left = Math.min(left, boxes[4 * k]);
      top = Math.min(top, boxes[4 * k + 1]);
      right = Math.max(right, boxes[4 * k + 2]);
      bottom = Math.max(bottom, boxes[4 * k + 3]);
    }
    nodes.set([left, top, right, bottom], 4 * node);
  }
  return nodes;
}
