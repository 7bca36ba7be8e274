import type { Plate } from '../../src/plates/plate.ts';
import { filmOf } from './screenedFilms.ts';

/** Error diffusion of a tone ramp or a flat tone in pixels of `dotPx`, weights of Stucki (1981). */
export function diffused(sidePx: number, dpi: number, dotPx: number, toneAt: (across: number) => number): Plate {
  const side = Math.floor(sidePx / dotPx);
  const error = new Float64Array((side + 4) * (side + 4));
  const dark = new Uint8Array(side * side);
  const at = (row: number, column: number) => row * (side + 4) + column + 2;
  const spread: [number, number, number][] = [
    [0, 1, 8],
    [0, 2, 4],
    [1, -2, 2],
    [1, -1, 4],
    [1, 0, 8],
    [1, 1, 4],
    [1, 2, 2],
    [2, -2, 1],
    [2, -1, 2],
    [2, 0, 4],
    [2, 1, 2],
    [2, 2, 1],
  ];
  for (let row = 0; row < side; row++) {
    for (let column = 0; column < side; column++) {
      const wanted = toneAt(column / side) + error[at(row, column)];
      const isDark = wanted > 0.5 ? 1 : 0;
      dark[row * side + column] = isDark;
      for (const [down, across, weight] of spread)
        error[at(row + down, column + across)] += ((wanted - isDark) * weight) / 42;
    }
  }
  return filmOf(side * dotPx, side * dotPx, dpi, (column, row) => {
    return dark[Math.floor(row / dotPx) * side + Math.floor(column / dotPx)] === 1;
  });
}

/** Dots of one size on a jittered order: each cell's dot set where a random threshold says (white noise). */
export function scattered(sidePx: number, dpi: number, dotPx: number, tone: number, random: () => number): Plate {
  const side = Math.floor(sidePx / dotPx);
  const dark = Uint8Array.from({ length: side * side }, () => (random() < tone ? 1 : 0));
  return filmOf(side * dotPx, side * dotPx, dpi, (column, row) => {
    return dark[Math.floor(row / dotPx) * side + Math.floor(column / dotPx)] === 1;
  });
}

/** A Bayer matrix of side 2^order, one entry `dotPx` wide. */
export function ordered(
  sidePx: number,
  dpi: number,
  order: number,
  dotPx: number,
  toneAt: (across: number) => number,
): Plate {
  const side = 1 << order;
  const rank = (column: number, row: number): number => {
    let value = 0;
    for (let bit = 0; bit < order; bit++) {
      const x = (column >> bit) & 1;
      const y = (row >> bit) & 1;
      value = value * 4 + [0, 2, 3, 1][y * 2 + (x ^ 0)];
    }
    return (value + 0.5) / (side * side);
  };
  return filmOf(sidePx, sidePx, dpi, (column, row) => {
    return rank(Math.floor(column / dotPx) % side, Math.floor(row / dotPx) % side) < toneAt(column / sidePx);
  });
}

export const patterns = ['stripes', 'gingham', 'polka', 'brick', 'lattice'] as const;
export type Pattern = (typeof patterns)[number];

/** Regular artwork of a period in mm, turned counter-clockwise as seen. */
export function patterned(
  pattern: Pattern,
  sidePx: number,
  dpi: number,
  periodMm: number,
  turnDeg: number,
  share: number,
): Plate {
  const angle = (turnDeg * Math.PI) / 180;
  const pitchMm = 25.4 / dpi;
  const frac = (value: number) => value - Math.floor(value);
  return filmOf(sidePx, sidePx, dpi, (column, row) => {
    const x = (column + 0.5) * pitchMm;
    const y = (row + 0.5) * pitchMm;
    const u = (x * Math.cos(angle) - y * Math.sin(angle)) / periodMm;
    const v = (x * Math.sin(angle) + y * Math.cos(angle)) / periodMm;
    switch (pattern) {
      case 'stripes':
        return frac(u) < share;
      case 'gingham':
        return frac(u) < 0.5 !== frac(v) < 0.5;
      case 'polka':
        return Math.hypot(frac(u) - 0.5, frac(v) - 0.5) < 0.6 * share + 0.05;
      case 'brick':
        return frac(v) > 0.12 && frac(u / 2 + 0.5 * (Math.floor(v) % 2)) > 0.06;
      case 'lattice':
        return frac(u) < 0.15 || frac(v) < 0.15;
    }
  });
}

export const lineArts = ['map', 'contours', 'freehand', 'rays', 'blobs'] as const;
export type LineArt = (typeof lineArts)[number];

/** Line art that a look might take for tone: boundaries of a map, contour lines, hatching by hand, rays, blobs. */
export function lineArt(kind: LineArt, sidePx: number, dpi: number, random: () => number): Plate {
  const sideMm = (sidePx * 25.4) / dpi;
  const pitchMm = 25.4 / dpi;
  const points = Array.from({ length: 60 }, () => [random() * sideMm, random() * sideMm] as const);
  const waves = Array.from({ length: 5 }, () => [
    random() * 0.5 + 0.1,
    random() * 6.28,
    random() * 0.5 + 0.1,
    random() * 6.28,
  ]);
  const field = (x: number, y: number) =>
    waves.reduce((sum, [a, b, c, d]) => sum + Math.sin(a * x + b) * Math.cos(c * y + d), 0);
  const lineMm = 0.12 + 0.25 * random();
  const jitter = Array.from({ length: 400 }, () => [random() - 0.5, random() - 0.5, random()] as const);
  const gapMm = 0.9 + 0.5 * random();
  const rays = 40 + Math.floor(60 * random());
  return filmOf(sidePx, sidePx, dpi, (column, row) => {
    const x = (column + 0.5) * pitchMm;
    const y = (row + 0.5) * pitchMm;
    switch (kind) {
      case 'map': {
        let [first, second] = [Infinity, Infinity];
        for (const [px, py] of points) {
          const d = Math.hypot(px - x, py - y);
          if (d < first) [first, second] = [d, first];
          else if (d < second) second = d;
        }
        return second - first < 2 * lineMm;
      }
      case 'contours': {
        const value = field(x, y) * 2;
        const slope =
          Math.hypot(field(x + 0.05, y) - field(x - 0.05, y), field(x, y + 0.05) - field(x, y - 0.05)) * 20 + 0.05;
        return Math.abs(value - Math.round(value)) / slope < lineMm / 2;
      }
      case 'freehand': {
        const k = Math.round(y / gapMm);
        for (let line = k - 1; line <= k + 1; line++) {
          const [offset, tilt, from] = jitter[((line % 400) + 400) % 400];
          const middle = (line + 0.5 * offset) * gapMm + tilt * 0.02 * (x - sideMm / 2);
          if (Math.abs(y - middle) < lineMm / 2 && x > from * 6) return true;
        }
        return false;
      }
      case 'rays': {
        const turn = (Math.atan2(y - sideMm / 2, x - sideMm / 2) / (2 * Math.PI)) * rays;
        return turn - Math.floor(turn) < 0.4 && Math.hypot(x - sideMm / 2, y - sideMm / 2) > 4;
      }
      case 'blobs':
        return field(1.7 * x, 1.7 * y) > 0.4;
    }
  });
}
