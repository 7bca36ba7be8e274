import type { EdgeFinder } from './edgeDistance.ts';

/** Sides of pixels an edge is followed over to each hand. */
const mostSides = 18;
/** Sides over which its direction is taken. */
const chordSides = 4;
/** Sine of the turn from its usual direction from which on an edge is another one, the end of a stretch say. */
const mostTurn = 0.87;
/** The corner before such a turn lies within so many sides. */
const cornerSides = 5;

const stepColumns = [1, 0, -1, 0];
const stepRows = [0, 1, 0, -1];

/**
 * The sides of pixels along one edge of a shape, between a pixel on the shape and one off it: the middle of each
 * (`xs`, `ys`), from a point of the shape, and the way across it from the one pixel's centre to the other's (`outXs`,
 * `outYs`), in units of a pixel's width, y down. Sides `first` … `last` are in use; `start` is the one met first.
 */
export class EdgeTrace {
  readonly xs = new Float64Array(2 * mostSides + 1);
  readonly ys = new Float64Array(2 * mostSides + 1);
  readonly outXs = new Float64Array(2 * mostSides + 1);
  readonly outYs = new Float64Array(2 * mostSides + 1);
  readonly start = mostSides;
  first = mostSides;
  last = mostSides;

  /**
   * Follows the edge met from a point in a direction, to both hands for some way or until it turns off. False when the
   * point is not on the shape or no edge lies within the limit.
   * @param x column of the point, pixel c covering c … c + 1; `y` its row
   * @param towardsX, towardsY direction of length 1 in units of a pixel's width
   */
  follow(
    finder: EdgeFinder,
    x: number,
    y: number,
    towardsX: number,
    towardsY: number,
    rowPitch: number,
    limitPx: number,
  ): boolean {
    let column = Math.floor(x);
    let row = Math.floor(y);
    if (!finder.holds(column, row)) return false;
    const outAcross = towardsX > 0 ? 0 : 2;
    const outDown = towardsY > 0 ? 1 : 3;
    let out: number;
    for (;;) {
      const across = towardsX === 0 ? Infinity : (column + (towardsX > 0 ? 1 : 0) - x) / towardsX;
      const down = towardsY === 0 ? Infinity : ((row + (towardsY > 0 ? 1 : 0) - y) * rowPitch) / towardsY;
      if (Math.min(across, down) > limitPx) return false;
      out = across < down ? outAcross : outDown;
      if (!finder.holds(column + stepColumns[out], row + stepRows[out])) break;
      column += stepColumns[out];
      row += stepRows[out];
    }
    this.put(this.start, column + 0.5 - x, (row + 0.5 - y) * rowPitch, out, rowPitch);
    this.last = this.start + this.walk(finder, column, row, out, 1, x, y, towardsX, towardsY, rowPitch);
    this.first = this.start - this.walk(finder, column, row, out, -1, x, y, towardsX, towardsY, rowPitch);
    return true;
  }

  /** Follows the edge to one hand; answers over how many sides. */
  private walk(
    finder: EdgeFinder,
    fromColumn: number,
    fromRow: number,
    fromOut: number,
    hand: 1 | -1,
    x: number,
    y: number,
    towardsX: number,
    towardsY: number,
    rowPitch: number,
  ): number {
    let column = fromColumn;
    let row = fromRow;
    let out = fromOut;
    for (let k = 1; k <= mostSides; k++) {
      const go = (out + hand) & 3;
      const aheadColumn = column + stepColumns[go];
      const aheadRow = row + stepRows[go];
      if (finder.holds(aheadColumn + stepColumns[out], aheadRow + stepRows[out])) {
        column = aheadColumn + stepColumns[out];
        row = aheadRow + stepRows[out];
        out = go ^ 2;
      } else if (finder.holds(aheadColumn, aheadRow)) {
        column = aheadColumn;
        row = aheadRow;
      } else {
        out = go;
      }
      const at = this.start + hand * k;
      this.put(at, column + 0.5 - x, (row + 0.5 - y) * rowPitch, out, rowPitch);
      if (k < chordSides) continue;
      const back = at - hand * chordSides;
      const right = this.xs[at] - this.xs[back];
      const down = this.ys[at] - this.ys[back];
      const turned = right * towardsX + down * towardsY;
      if (turned * turned > mostTurn * mostTurn * (right * right + down * down)) {
        return k - Math.min(k, cornerSides);
      }
    }
    return mostSides;
  }

  private put(at: number, onX: number, onY: number, out: number, rowPitch: number): void {
    const outX = stepColumns[out];
    const outY = stepRows[out] * rowPitch;
    this.xs[at] = onX + outX / 2;
    this.ys[at] = onY + outY / 2;
    this.outXs[at] = outX;
    this.outYs[at] = outY;
  }
}
