import type { DotShape, DotShapeClass } from './halftone.ts';
import { type FoldedCell, foldSide, smoothedTorus } from './halftoneFold.ts';

/** Whether the fundamental along the chain is this share of the one across, or less, dots are elongated. */
const elongatedBelow = 0.88;
const linesBelow = 0.14;
/** An elongated pattern must account better for the cells than a symmetric one by this factor. */
const betterBy = 0.9;
/** Dots of fewer pixels a cell do not show their shape. */
const fewestPixels = 7;
/** The best pattern and a cell differ by this share of the cell at most, or the shape is none of those known. */
const mostDifference = 0.12;

type Pattern = (u: number, v: number) => number;

/** How late a place of a cell turns black, u and v from -1 to 1, the dot's middle at 0, 0. */
const patterns: readonly { readonly shape: DotShape; readonly pattern: Pattern }[] = [
  { shape: 'round', pattern: (u, v) => Math.hypot(u, v) },
  { shape: 'euclidean', pattern: (u, v) => -Math.cos(Math.PI * u) - Math.cos(Math.PI * v) },
  {
    shape: 'euclidean',
    pattern: (u, v) => {
      const [x, y] = [Math.abs(u), Math.abs(v)];
      return x + y <= 1 ? x * x + y * y : 2 - (1 - x) ** 2 - (1 - y) ** 2;
    },
  },
  { shape: 'square', pattern: (u, v) => Math.max(Math.abs(u), Math.abs(v)) },
  { shape: 'diamond', pattern: (u, v) => Math.abs(u) + Math.abs(v) },
  { shape: 'line', pattern: (u) => Math.abs(u) },
  { shape: 'line', pattern: (_, v) => Math.abs(v) },
  ...[0.45, 0.6, 0.75, 0.85].flatMap((flat) => [
    { shape: 'elliptical' as const, pattern: (u: number, v: number) => Math.hypot(flat * u, v) },
    { shape: 'elliptical' as const, pattern: (u: number, v: number) => Math.hypot(u, flat * v) },
    { shape: 'elliptical' as const, pattern: (u: number, v: number) => flat * Math.abs(u) + Math.abs(v) },
    { shape: 'elliptical' as const, pattern: (u: number, v: number) => Math.abs(u) + flat * Math.abs(v) },
    {
      shape: 'elliptical' as const,
      pattern: (u: number, v: number) => -flat * Math.cos(Math.PI * u) - Math.cos(Math.PI * v),
    },
    {
      shape: 'elliptical' as const,
      pattern: (u: number, v: number) => -Math.cos(Math.PI * u) - flat * Math.cos(Math.PI * v),
    },
  ]),
];

const fine = 2;
/** Values that differ by no more are one but for rounding. */
const tie = 1e-9;
const fineSide = fine * foldSide;

interface PreparedPattern {
  readonly shape: DotShape;
  readonly values: Float64Array;
  readonly sorted: Float64Array;
}

let prepared: PreparedPattern[] | null = null;

/** The patterns, and their negatives: what is black of them is clear, from cell to cell between the dots. */
function preparedPatterns(): PreparedPattern[] {
  prepared ??= patterns.flatMap(({ shape, pattern }) => {
    const values = new Float64Array(fineSide * fineSide);
    const negative = new Float64Array(fineSide * fineSide);
    const half = fineSide / 2;
    for (let row = 0; row < fineSide; row++) {
      for (let column = 0; column < fineSide; column++) {
        const value = pattern(placeOfBin(column), placeOfBin(row));
        values[row * fineSide + column] = value;
        negative[((row + half) % fineSide) * fineSide + ((column + half) % fineSide)] = -value;
      }
    }
    const sorted = values.slice().sort();
    return [
      { shape, values, sorted },
      { shape, values: negative, sorted: sorted.map((value) => -value).reverse() },
    ];
  });
  return prepared;
}

/** From -1 to 1, the first bin at the dot's middle. */
function placeOfBin(bin: number): number {
  const x = (bin + 0.5) / fineSide;
  return 2 * (x - Math.round(x));
}

/** The shape of dots on a film without greys, from cells folded tone by tone. */
export function shapeOf(folds: readonly FoldedCell[], pixelsPerCell: number, ratio: number): DotShape {
  if (ratio < linesBelow) return 'line';
  if (folds.length === 0 || pixelsPerCell < fewestPixels) return 'unknown';
  const best = new Map<DotShape, number>();
  const shares = folds.map(({ patches, tone }) => patches * Math.min(tone, 1 - tone));
  const weight = shares.reduce((sum, share) => sum + share, 0);
  for (const pattern of preparedPatterns()) {
    const most = best.get(pattern.shape) ?? Infinity;
    let mean = 0;
    // What differs more than another pattern of its shape already will not be the best.
    for (let k = 0; k < folds.length && mean < most; k++)
      mean += (shares[k] / weight) * differenceTo(pattern, folds[k]);
    if (mean < most) best.set(pattern.shape, mean);
  }
  const elongated = best.get('elliptical')!;
  const lines = best.get('line')!;
  best.delete('elliptical');
  best.delete('line');
  const [shape, difference] = [...best].reduce((a, b) => (b[1] < a[1] ? b : a));
  if (lines < Math.min(elongated, difference)) return lines <= mostDifference ? 'line' : 'unknown';
  if (ratio < elongatedBelow && elongated < betterBy * difference) {
    return elongated <= mostDifference ? 'elliptical' : 'unknown';
  }
  return difference <= mostDifference ? shape : 'unknown';
}

/** Mean difference between a folded cell and a pattern of the same tone. */
function differenceTo({ values, sorted }: PreparedPattern, fold: FoldedCell): number {
  const wanted = fold.tone * sorted.length;
  const level = sorted[Math.min(sorted.length - 1, Math.floor(wanted))];
  // Along the edge of a square or a diamond many places turn black at once: they share what is wanted of them.
  const below = firstFrom(sorted, level - tie);
  const edge = (wanted - below) / (firstFrom(sorted, level + tie) - below);
  const drawn = new Float64Array(foldSide * foldSide);
  for (let row = 0; row < fineSide; row++) {
    for (let column = 0; column < fineSide; column++) {
      const value = values[row * fineSide + column];
      if (value >= level + tie) continue;
      const share = value < level - tie ? 1 : edge;
      drawn[Math.floor(row / fine) * foldSide + Math.floor(column / fine)] += share / (fine * fine);
    }
  }
  const soft = smoothedTorus(drawn);
  let sum = 0;
  for (let bin = 0; bin < soft.length; bin++) sum += Math.abs(soft[bin] / 16 - fold.tones[bin]);
  return sum / soft.length;
}

/** How many of the values, in order, are less than one. */
function firstFrom(sorted: Float64Array, value: number): number {
  let [from, to] = [0, sorted.length];
  while (from < to) {
    const middle = (from + to) >> 1;
    if (sorted[middle] < value) from = middle + 1;
    else to = middle;
  }
  return from;
}

/** @param ratio the weaker of the two fundamentals by the stronger */
export function shapeClassOf(ratio: number): DotShapeClass {
  if (ratio < linesBelow) return 'line';
  return ratio < elongatedBelow ? 'elongated' : 'symmetric';
}

export function classOfShape(shape: DotShape, ratio: number): DotShapeClass {
  if (shape === 'line') return 'line';
  if (shape === 'elliptical') return 'elongated';
  return shape === 'unknown' ? shapeClassOf(ratio) : 'symmetric';
}
