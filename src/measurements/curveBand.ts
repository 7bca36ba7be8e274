const mostPlaces = 96;
const mostRounds = 40;

/** Places that a curve v = a + b·u + c·u² has to pass above or below of, and how high or low it may be then. */
export class BandPoints {
  /** How many places are in use. */
  count = 0;
  private readonly us = new Float64Array(mostPlaces);
  private readonly vs = new Float64Array(mostPlaces);
  private readonly sides = new Float64Array(mostPlaces);
  /** The three conditions that hold the curve, `side`·(1, u, u²) each, their bounds, and how much each one holds. */
  private readonly held = new Float64Array(9);
  private readonly bounds = new Float64Array(3);
  private readonly weights = new Float64Array(3);
  private readonly solved = new Float64Array(3);

  /** @param side 1: the curve's values are no greater than `v` there; -1: no smaller */
  add(u: number, v: number, side: 1 | -1): void {
    const k = this.count++;
    this.us[k] = u;
    this.vs[k] = v;
    this.sides[k] = side;
  }

  /**
   * The greatest (`sign` 1) or smallest (-1) value at u = 0 of all curves within the bounds that pass every place on its
   * side, or wrong by no more than `slack`; null when none does. A linear program of three unknowns, solved by its dual:
   * the curve held by three conditions is the extreme one for these; the one most violated takes the place of one of
   * them, until none is.
   */
  extreme(sign: 1 | -1, slack: number, mostValue: number, mostSlope: number, mostBend: number): number | null {
    const { us, vs, sides, held, bounds, weights, solved, count } = this;
    held.fill(0);
    held[0] = sign;
    held[4] = 1;
    held[8] = 1;
    bounds[0] = mostValue;
    bounds[1] = mostSlope;
    bounds[2] = mostBend;
    weights[0] = 1;
    weights[1] = 0;
    weights[2] = 0;
    for (let round = 0; round < mostRounds; round++) {
      if (!this.solve(bounds[0], bounds[1], bounds[2], false)) return null;
      const a = solved[0];
      const b = solved[1];
      const c = solved[2];
      let worst = 1e-7;
      let entering = -1;
      for (let k = 0; k < count; k++) {
        const over = sides[k] * (a + us[k] * (b + us[k] * c) - vs[k]) - slack;
        if (over > worst) {
          worst = over;
          entering = k;
        }
      }
      let ofValue = 0;
      let ofSlope = 0;
      let ofBend = 0;
      let bound = 0;
      if (entering >= 0) {
        ofValue = sides[entering];
        ofSlope = ofValue * us[entering];
        ofBend = ofSlope * us[entering];
        bound = ofValue * vs[entering] + slack;
      } else if (Math.abs(b) > mostSlope + 1e-7) {
        ofSlope = Math.sign(b);
        bound = mostSlope;
      } else if (Math.abs(c) > mostBend + 1e-7) {
        ofBend = Math.sign(c);
        bound = mostBend;
      } else {
        return a;
      }
      if (!this.solve(ofValue, ofSlope, ofBend, true)) return null;
      let leaving = -1;
      let least = Infinity;
      for (let k = 0; k < 3; k++) {
        if (solved[k] <= 1e-9 || weights[k] >= least * solved[k]) continue;
        least = weights[k] / solved[k];
        leaving = k;
      }
      // Nothing to be given up for it: these four cannot be met together.
      if (leaving < 0) return null;
      for (let k = 0; k < 3; k++) weights[k] = k === leaving ? least : weights[k] - least * solved[k];
      held[3 * leaving] = ofValue;
      held[3 * leaving + 1] = ofSlope;
      held[3 * leaving + 2] = ofBend;
      bounds[leaving] = bound;
    }
    return null;
  }

  /** Solves the three equations of what is held, or with `turned` those of its columns; false when they are not apart. */
  private solve(r0: number, r1: number, r2: number, turned: boolean): boolean {
    const { held, solved } = this;
    const over = turned ? 3 : 1;
    const down = turned ? 1 : 3;
    const m00 = held[0];
    const m01 = held[over];
    const m02 = held[2 * over];
    const m10 = held[down];
    const m11 = held[4];
    const m12 = held[down + 2 * over];
    const m20 = held[2 * down];
    const m21 = held[2 * down + over];
    const m22 = held[8];
    const c0 = m11 * m22 - m12 * m21;
    const c1 = m12 * m20 - m10 * m22;
    const c2 = m10 * m21 - m11 * m20;
    const det = m00 * c0 + m01 * c1 + m02 * c2;
    if (Math.abs(det) < 1e-12) return false;
    solved[0] = (r0 * c0 + r1 * (m02 * m21 - m01 * m22) + r2 * (m01 * m12 - m02 * m11)) / det;
    solved[1] = (r0 * c1 + r1 * (m00 * m22 - m02 * m20) + r2 * (m02 * m10 - m00 * m12)) / det;
    solved[2] = (r0 * c2 + r1 * (m01 * m20 - m00 * m21) + r2 * (m00 * m11 - m01 * m10)) / det;
    return true;
  }
}
