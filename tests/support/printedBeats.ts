/**
 * A halftone seen through a mesh, drawn point by point and looked at for slow repeats: nothing of the beat model is in
 * it. Edges are a sample wide and threads are covered by area, because hard samples beat with the grid they lie on.
 */
export type DrawnShape = 'round' | 'euclidean' | 'square' | 'diamond' | 'elliptical' | 'line';

export interface PrintedPattern {
  readonly rulingLpi: number;
  /** Counter-clockwise with y up. */
  readonly angleDeg: number;
  readonly shape: DrawnShape;
  readonly tone: number;
  readonly threadsPerCm: number;
  readonly threadUm: number;
  /** Where the halftone lies, in cells, and the mesh, in pitches. */
  readonly phases: readonly [number, number, number, number];
}

export const sampleMm = 0.01;
const side = 2048;
const halvings = 3;
export const reducedSide = side >> halvings;
export const reducedMm = sampleMm * 2 ** halvings;
const turn = 2 * Math.PI;

/** How dark a place of a cell turns as the tone grows, larger first; u, v from −½ to ½. */
const spots: Record<DrawnShape, (u: number, v: number) => number> = {
  round: (u, v) => -Math.hypot(u, v),
  euclidean: (u, v) => (Math.cos(turn * u) + Math.cos(turn * v)) / turn,
  square: (u, v) => -Math.max(Math.abs(u), Math.abs(v)),
  diamond: (u, v) => -(Math.abs(u) + Math.abs(v)),
  elliptical: (u, v) => (0.8 * Math.cos(turn * u) + 1.2 * Math.cos(turn * v)) / turn,
  line: (_, v) => -Math.abs(v),
};

function levelFor(spot: (u: number, v: number) => number, tone: number): number {
  const cells = 400;
  const values = new Float64Array(cells * cells);
  for (let k = 0; k < values.length; k++) {
    values[k] = spot(((k % cells) + 0.5) / cells - 0.5, (Math.floor(k / cells) + 0.5) / cells - 0.5);
  }
  values.sort();
  return values[Math.min(values.length - 1, Math.floor((1 - tone) * values.length))];
}

/** Ink through the mesh over 20.48 mm, reduced to samples of 0.08 mm. */
export function printedPattern(pattern: PrintedPattern): Float64Array {
  const spot = spots[pattern.shape];
  const level = levelFor(spot, pattern.tone);
  const pitchMm = 25.4 / pattern.rulingLpi;
  const cos = Math.cos((pattern.angleDeg * Math.PI) / 180) / pitchMm;
  const sin = Math.sin((pattern.angleDeg * Math.PI) / 180) / pitchMm;
  const [across, along, warp, weft] = pattern.phases;
  const columns = openShares(pattern, warp);
  const rows = openShares(pattern, weft);
  const edge = sampleMm / pitchMm;
  const step = 1e-3;
  let image: Float64Array = new Float64Array(side * side);
  for (let row = 0; row < side; row++) {
    if (rows[row] === 0) continue;
    const y = row * sampleMm;
    for (let column = 0; column < side; column++) {
      if (columns[column] === 0) continue;
      const x = column * sampleMm;
      const u0 = x * cos + y * sin + across;
      const v0 = -x * sin + y * cos + along;
      const u = u0 - Math.round(u0);
      const v = v0 - Math.round(v0);
      const over = spot(u, v) - level;
      let ink = over > 0 ? 1 : 0;
      if (Math.abs(over) < 2 * edge) {
        const slope =
          Math.hypot(spot(u + step, v) - spot(u - step, v), spot(u, v + step) - spot(u, v - step)) / (2 * step);
        ink = Math.min(1, Math.max(0, 0.5 + over / Math.max(slope, 0.05) / edge));
      }
      image[row * side + column] = ink * rows[row] * columns[column];
    }
  }
  for (let size = side; size > reducedSide; size /= 2) image = halved(image, size);
  return image;
}

/** Share of each sample that lies in openings. */
function openShares({ threadsPerCm, threadUm }: PrintedPattern, phase: number): Float64Array {
  const pitchMm = 10 / threadsPerCm;
  const openMm = pitchMm - threadUm / 1000;
  const openUpTo = (mm: number) => {
    const whole = Math.floor(mm / pitchMm);
    return whole * openMm + Math.min(openMm, mm - whole * pitchMm);
  };
  return Float64Array.from({ length: side }, (_, index) => {
    const from = (index - 0.5) * sampleMm + (phase + 1) * pitchMm;
    return (openUpTo(from + sampleMm) - openUpTo(from)) / sampleMm;
  });
}

const kernel = [1 / 16, 4 / 16, 6 / 16, 4 / 16, 1 / 16];

/** Every second sample of a picture smoothed by 1 4 6 4 1, which lets nothing through that would fold onto slow repeats. */
function halved(image: Float64Array, size: number): Float64Array {
  const half = size / 2;
  const narrow = new Float64Array(half * size);
  for (let row = 0; row < size; row++) {
    for (let column = 0; column < half; column++) {
      let sum = 0;
      for (let k = -2; k <= 2; k++) sum += kernel[k + 2] * image[row * size + clamp(2 * column + k, size)];
      narrow[row * half + column] = sum;
    }
  }
  const result = new Float64Array(half * half);
  for (let row = 0; row < half; row++) {
    for (let column = 0; column < half; column++) {
      let sum = 0;
      for (let k = -2; k <= 2; k++) sum += kernel[k + 2] * narrow[clamp(2 * row + k, size) * half + column];
      result[row * half + column] = sum;
    }
  }
  return result;
}

function clamp(index: number, size: number): number {
  return Math.min(size - 1, Math.max(0, index));
}

export interface FoundBeat {
  /** Cycles a mm, y up. */
  readonly x: number;
  readonly y: number;
  /** Swing over the mean, percent. */
  readonly modulationPercent: number;
}

/** The strongest repeat of a reduced picture with a period from `fromMm` to `toMm`. */
export function strongestRepeat(image: Float64Array, fromMm: number, toMm: number): FoundBeat {
  const size = reducedSide;
  const taper = Float64Array.from({ length: size }, (_, index) => blackmanHarris((index + 0.5) / size));
  let [sum, weight] = [0, 0];
  for (let k = 0; k < image.length; k++) {
    const w = taper[k % size] * taper[Math.floor(k / size)];
    sum += w * image[k];
    weight += w;
  }
  const mean = sum / weight;
  const real = image.map((value, k) => (value - mean) * taper[k % size] * taper[Math.floor(k / size)]);
  const strengthAt = (x: number, y: number) => strength(real, x, y) / responseAt(x, y);
  const bin = 1 / (size * reducedMm);
  const reach = Math.ceil(1 / fromMm / bin) + 1;
  const grid = coarseStrengths(real, reach);
  const width = 2 * reach + 1;
  let best = { x: 0, y: 0, value: -1 };
  for (let j = 1; j <= reach; j++) {
    for (let i = -reach + 1; i < reach; i++) {
      best = better(best, grid, width, reach, i, j, bin, fromMm, toMm);
    }
  }
  for (let i = 1; i < reach; i++) best = better(best, grid, width, reach, i, 0, bin, fromMm, toMm);
  let { x, y } = best;
  let value = strengthAt(x, y);
  for (let step = bin / 2; step > bin / 4000; ) {
    let improved = false;
    for (const [dx, dy] of [
      [step, 0],
      [-step, 0],
      [0, step],
      [0, -step],
    ]) {
      const candidate = strengthAt(x + dx, y + dy);
      if (candidate <= value) continue;
      [x, y, value, improved] = [x + dx, y + dy, candidate, true];
    }
    if (!improved) step /= 2;
  }
  return { x, y, modulationPercent: (200 * value) / sum };
}

interface Candidate {
  readonly x: number;
  readonly y: number;
  readonly value: number;
}

function better(
  best: Candidate,
  grid: Float64Array,
  width: number,
  reach: number,
  i: number,
  j: number,
  bin: number,
  fromMm: number,
  toMm: number,
): Candidate {
  const perMm = Math.hypot(i, j) * bin;
  // A repeat inside the range may have its highest bin just outside.
  if (perMm < 1 / toMm - 0.7 * bin || perMm > 1 / fromMm + 0.7 * bin) return best;
  const at = (di: number, dj: number) => {
    const [a, b] = j + dj < 0 ? [-(i + di), -(j + dj)] : [i + di, j + dj];
    return b > reach ? 0 : grid[b * width + a + reach];
  };
  const value = at(0, 0) / responseAt(i * bin, j * bin);
  if (value <= best.value) return best;
  for (let dj = -1; dj <= 1; dj++) for (let di = -1; di <= 1; di++) if (at(di, dj) > at(0, 0)) return best;
  return { x: i * bin, y: j * bin, value };
}

/** Strength at whole bins, i from −reach to reach and j from 0, rows first. */
function coarseStrengths(real: Float64Array, reach: number): Float64Array {
  const size = reducedSide;
  const width = 2 * reach + 1;
  const rowsRe = new Float64Array(size * width);
  const rowsIm = new Float64Array(size * width);
  for (let i = -reach; i <= reach; i++) {
    const [cosine, sine] = waves(i / size);
    for (let row = 0; row < size; row++) {
      let [re, im] = [0, 0];
      for (let column = 0; column < size; column++) {
        re += real[row * size + column] * cosine[column];
        im -= real[row * size + column] * sine[column];
      }
      rowsRe[row * width + i + reach] = re;
      rowsIm[row * width + i + reach] = im;
    }
  }
  const grid = new Float64Array((reach + 1) * width);
  for (let j = 0; j <= reach; j++) {
    const [cosine, sine] = waves(j / size);
    for (let i = 0; i < width; i++) {
      let [re, im] = [0, 0];
      for (let row = 0; row < size; row++) {
        const k = row * width + i;
        re += rowsRe[k] * cosine[row] + rowsIm[k] * sine[row];
        im += rowsIm[k] * cosine[row] - rowsRe[k] * sine[row];
      }
      grid[j * width + i] = Math.hypot(re, im);
    }
  }
  return grid;
}

function strength(real: Float64Array, x: number, y: number): number {
  const [cosX, sinX] = waves(x * reducedMm);
  const [cosY, sinY] = waves(y * reducedMm);
  let [re, im] = [0, 0];
  for (let row = 0; row < reducedSide; row++) {
    let [rowRe, rowIm] = [0, 0];
    for (let column = 0; column < reducedSide; column++) {
      const value = real[row * reducedSide + column];
      rowRe += value * cosX[column];
      rowIm -= value * sinX[column];
    }
    re += rowRe * cosY[row] + rowIm * sinY[row];
    im += rowIm * cosY[row] - rowRe * sinY[row];
  }
  return Math.hypot(re, im);
}

function waves(perSample: number): [Float64Array, Float64Array] {
  return [
    Float64Array.from({ length: reducedSide }, (_, k) => Math.cos(turn * perSample * k)),
    Float64Array.from({ length: reducedSide }, (_, k) => Math.sin(turn * perSample * k)),
  ];
}

/** What smoothing left of a repeat. */
function responseAt(x: number, y: number): number {
  let response = 1;
  for (let stage = 0; stage < halvings; stage++) {
    const mm = sampleMm * 2 ** stage;
    response *= (Math.cos(Math.PI * x * mm) * Math.cos(Math.PI * y * mm)) ** 4;
  }
  return response;
}

function blackmanHarris(share: number): number {
  const at = turn * share;
  return 0.35875 - 0.48829 * Math.cos(at) + 0.14128 * Math.cos(2 * at) - 0.01168 * Math.cos(3 * at);
}
