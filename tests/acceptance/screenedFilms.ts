import type { Plate } from '../../src/plates/plate.ts';
import { bitAt, createBitPlane, setBit } from '../../src/raster/bitPlane.ts';
import { plateOf } from '../support/analyticShapes.ts';
import { platePainted } from '../support/tonePlates.ts';

export const dotShapes = ['round', 'euclidean', 'square', 'diamond', 'elliptical', 'line'] as const;
export type Dot = (typeof dotShapes)[number];

/** Order in which a cell turns opaque, u and v from −0.5 to 0.5 about the dot's middle: smaller first. */
const orders: Record<Dot, (u: number, v: number) => number> = {
  round: (u, v) => u * u + v * v,
  euclidean: (u, v) => 2 - Math.cos(2 * Math.PI * u) - Math.cos(2 * Math.PI * v),
  square: (u, v) => Math.max(Math.abs(u), Math.abs(v)),
  diamond: (u, v) => Math.abs(u) + Math.abs(v),
  elliptical: (u, v) => 0.45 * u * u + 1.1 * v * v,
  line: (_, v) => Math.abs(v),
};

/**
 * The order's value below which a share of the cell lies, from places spread evenly over the cell but not in rows, where
 * many of them would have one value: multiples of the powers of 1 / 1.3247, the real root of x³ = x + 1.
 */
function fillLevels(dot: Dot): Float64Array {
  const step = 1 / 1.324717957244746;
  const values = new Float64Array(250_000);
  for (let k = 0; k < values.length; k++)
    values[k] = orders[dot](((k * step) % 1) - 0.5, ((k * step * step) % 1) - 0.5);
  return values.sort();
}

const levels = new Map<Dot, Float64Array>();

export interface Screening {
  readonly dot: Dot;
  readonly rulingLpi: number;
  /** Counter-clockwise as seen. */
  readonly angleDeg: number;
  readonly phase: readonly [number, number];
}

/** Whether a cell of a tone (0 to 1) is opaque at a point of the film given in inches. */
export function isDark(screening: Screening, tone: number, xInch: number, yInch: number): boolean {
  let sorted = levels.get(screening.dot);
  if (sorted === undefined) {
    sorted = fillLevels(screening.dot);
    levels.set(screening.dot, sorted);
  }
  const angle = (screening.angleDeg * Math.PI) / 180;
  const u = (xInch * Math.cos(angle) - yInch * Math.sin(angle)) * screening.rulingLpi + screening.phase[0];
  const v = (xInch * Math.sin(angle) + yInch * Math.cos(angle)) * screening.rulingLpi + screening.phase[1];
  const value = orders[screening.dot](u - Math.round(u), v - Math.round(v));
  return tone > 0 && value <= sorted[Math.min(sorted.length - 1, Math.floor(tone * sorted.length))];
}

/** A film of one bit a pixel, opaque where the pixel's centre is. */
export function filmOf(
  widthPx: number,
  heightPx: number,
  dpi: number,
  darkAt: (column: number, row: number) => boolean,
): Plate {
  const bits = createBitPlane(widthPx, heightPx);
  for (let row = 0; row < heightPx; row++)
    for (let column = 0; column < widthPx; column++) if (darkAt(column, row)) setBit(bits, column, row);
  return plateOf(bits, dpi);
}

/** Tones side by side without gaps, in rows of `perRow`, with clear film about them. */
export function wedge(
  screening: Screening,
  dpi: number,
  tones: readonly number[],
  patchPx: number,
  perRow: number,
): Plate {
  const marginPx = Math.round(dpi / 8);
  const rows = Math.ceil(tones.length / perRow);
  return filmOf(perRow * patchPx + 2 * marginPx, rows * patchPx + 2 * marginPx, dpi, (column, row) => {
    const across = Math.floor((column - marginPx) / patchPx);
    const down = Math.floor((row - marginPx) / patchPx);
    if (column < marginPx || row < marginPx || across >= perRow || down >= rows) return false;
    const tone = tones[down * perRow + across] ?? 0;
    return isDark(screening, tone, (column + 0.5) / dpi, (row + 0.5) / dpi);
  });
}

/**
 * Smallest and largest tone of a film, in percent: the first and the 99th in a hundred of what pixels hold around places
 * anywhere within a box (pixels), their weight falling to nothing in a straight line over so many cells along the lattice
 * and across. Pixels and dots may beat, so that a film made of one tone has others.
 */
export function tonesCounted(
  { bits }: Plate,
  screening: Screening,
  dpi: number,
  cells: number,
  [left, top, right, bottom]: readonly [number, number, number, number],
  random: () => number,
): { least: number; most: number } {
  const fallPx = (cells * dpi) / screening.rulingLpi;
  const angle = (screening.angleDeg * Math.PI) / 180;
  const [cos, sin] = [Math.cos(angle), Math.sin(angle)];
  const reach = fallPx * (Math.abs(cos) + Math.abs(sin));
  const counted = Array.from({ length: 400 }, () => {
    const x = left + reach + random() * (right - left - 2 * reach);
    const y = top + reach + random() * (bottom - top - 2 * reach);
    let dark = 0;
    let all = 0;
    for (let row = Math.ceil(y - reach - 0.5); row + 0.5 <= y + reach; row++) {
      for (let column = Math.ceil(x - reach - 0.5); column + 0.5 <= x + reach; column++) {
        const [dx, dy] = [column + 0.5 - x, row + 0.5 - y];
        const along = fallPx - Math.abs(dx * cos - dy * sin);
        const across = fallPx - Math.abs(dx * sin + dy * cos);
        if (along <= 0 || across <= 0) continue;
        dark += bitAt(bits, column, row) * along * across;
        all += along * across;
      }
    }
    return (100 * dark) / all;
  }).sort((a, b) => a - b);
  return { least: counted[Math.floor(0.01 * counted.length)], most: counted[Math.floor(0.99 * counted.length)] };
}

/** The same film as a scanner gives it: Gaussian blur of `sigmaPx`, then Gaussian noise. */
export function scanned(plate: Plate, dpi: number, sigmaPx: number, noise: number, random: () => number): Plate {
  const { widthPx, heightPx } = plate.grid;
  const reach = Math.ceil(3 * sigmaPx);
  const weights = Array.from({ length: 2 * reach + 1 }, (_, k) => Math.exp(-((k - reach) ** 2) / (2 * sigmaPx ** 2)));
  const sum = weights.reduce((a, b) => a + b);
  let source = new Float32Array(widthPx * heightPx);
  for (let row = 0; row < heightPx; row++)
    for (let column = 0; column < widthPx; column++)
      source[row * widthPx + column] = 255 * bitAt(plate.bits, column, row);
  for (const step of [1, widthPx]) {
    const limit = step === 1 ? widthPx : heightPx;
    const next = new Float32Array(source.length);
    for (let row = 0; row < heightPx; row++) {
      for (let column = 0; column < widthPx; column++) {
        const at = step === 1 ? column : row;
        let value = 0;
        for (let k = -reach; k <= reach; k++) {
          const to = Math.min(limit - 1, Math.max(0, at + k));
          value += weights[k + reach] * source[row * widthPx + column + (to - at) * step];
        }
        next[row * widthPx + column] = value / sum;
      }
    }
    source = next;
  }
  const gauss = () => Math.sqrt(-2 * Math.log(1 - random())) * Math.cos(2 * Math.PI * random());
  return platePainted(widthPx, heightPx, dpi, (column, row) =>
    Math.round(Math.min(255, Math.max(0, source[row * widthPx + column] + noise * gauss()))),
  );
}
