/** A connected part of a plane. Columns and rows of the box: `right` and `bottom` are one past the last. */
export interface Component {
  areaPx: number;
  left: number;
  top: number;
  right: number;
  bottom: number;
  /** First pixel in reading order. */
  firstColumn: number;
  /** Sums over its pixels of column − firstColumn and row − top, their squares and product: for its centre and axes. */
  sumColumn: number;
  sumRow: number;
  sumColumnSquared: number;
  sumRowSquared: number;
  sumProduct: number;
}

export interface ComponentOptions {
  /** Takes the plane's clear pixels. */
  readonly inverted: boolean;
  /**
   * 8 joins pixels that share a corner, 4 only those that share an edge. Opaque parts are usually taken with 8 and clear
   * ones with 4, so that a line of diagonal steps parts the film.
   */
  readonly connectivity: 4 | 8;
  /** Parts with a larger box or area are passed over. */
  readonly mostColumns?: number;
  readonly mostRows?: number;
  readonly mostAreaPx?: number;
  /** false: the sums for centre and axes are not asked for and stay 0, which is quicker. */
  readonly moments?: boolean;
}

/** Length and breadth in pixels of the rectangle with the same second moments, and the direction of its length. */
export function axesOf(component: Component): { longPx: number; shortPx: number; directionRad: number } {
  const n = component.areaPx;
  const meanColumn = component.sumColumn / n;
  const meanRow = component.sumRow / n;
  // 1/12: the second moment of one square pixel about its own centre.
  const xx = component.sumColumnSquared / n - meanColumn * meanColumn + 1 / 12;
  const yy = component.sumRowSquared / n - meanRow * meanRow + 1 / 12;
  const xy = component.sumProduct / n - meanColumn * meanRow;
  const half = (xx + yy) / 2;
  const spread = Math.hypot((xx - yy) / 2, xy);
  return {
    longPx: Math.sqrt(12 * (half + spread)),
    shortPx: Math.sqrt(12 * Math.max(1 / 12, half - spread)),
    directionRad: 0.5 * Math.atan2(2 * xy, xx - yy),
  };
}

export function emptyComponent(): Component {
  return {
    areaPx: 0,
    left: 0,
    top: 0,
    right: 0,
    bottom: 0,
    firstColumn: 0,
    sumColumn: 0,
    sumRow: 0,
    sumColumnSquared: 0,
    sumRowSquared: 0,
    sumProduct: 0,
  };
}

export function forgetMoments(component: Component): void {
  component.sumColumn = 0;
  component.sumRow = 0;
  component.sumColumnSquared = 0;
  component.sumRowSquared = 0;
  component.sumProduct = 0;
}
