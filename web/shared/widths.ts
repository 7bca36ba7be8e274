/** GET /api/jobs/:job/:revision/widths?plate=&xMm=&yMm=: how broad the film is at a point, in mm from the top left. */
export interface WidthsHere {
  readonly at: 'black' | 'clear';
  /** Of what lies at the point, and of the other at its nearest place; null where it is broader than was searched. */
  readonly black: WidthHere | null;
  readonly clear: WidthHere | null;
  readonly searchedToMm: number;
}

export interface WidthHere {
  readonly widthMm: number;
  readonly plusMinusMm: number;
  /** Middle of the largest disc that holds the place. */
  readonly xMm: number;
  readonly yMm: number;
  /** Counter-clockwise from the x axis, 0 ≤ a < 180. */
  readonly directionDeg: number;
}
