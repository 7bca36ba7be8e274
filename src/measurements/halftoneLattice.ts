import type { PowerSpectrum } from '../raster/powerSpectrum.ts';
import { findPeaks, refinedPeak, type SpectrumScale } from './halftonePeaks.ts';

/**
 * A square lattice of dots, or a set of lines: its first frequency in turns a mm, x to the right and y down. The second of
 * a square lattice stands across it, (-fy, fx).
 */
export interface Lattice {
  readonly fx: number;
  readonly fy: number;
  readonly isLines: boolean;
}

export interface FoundLattice extends Lattice {
  /** Share of the power at and beyond its own frequency that lies on it, 0 … 1, what chance would put there taken off. */
  readonly share: number;
  /** Of all power beyond slow changes of tone. */
  readonly shareOfAll: number;
}

const mostPeaks = 8;
const mostOrder = 6;
/** A window has room for this many cells at least. */
const leastTurns = 3;
/** Slower changes are tone. */
const slowTurns = 2.5;
/** Of candidates nearly as good as the best, the one of the highest frequency is no sub-harmonic. */
const nearlyBest = 0.7;
const crossShare = 0.02;

/** The square lattice or the set of lines that accounts best for a spectrum, or null where it has no peaks. */
export function findLattice(spectrum: PowerSpectrum, scale: SpectrumScale): FoundLattice | null {
  const peaks = findPeaks(spectrum, scale, mostPeaks, slowTurns);
  if (peaks.length === 0) return null;
  const power = new RadialPower(spectrum, scale);
  const least = leastTurns * scale.perTurn;
  const candidates: FoundLattice[] = [];
  for (const { fx, fy } of peaks) {
    // The strongest peak may be that of the cell's diagonal.
    for (const [x, y] of [
      [fx, fy],
      [(fx + fy) / 2, (fy - fx) / 2],
    ]) {
      const size = Math.hypot(x, y);
      if (size < least) continue;
      for (const isLines of [false, true]) {
        if (isLines && (x !== fx || y !== fy)) continue;
        candidates.push({ fx: x, fy: y, isLines, ...shareOn(spectrum, scale, power, x, y, isLines) });
      }
    }
  }
  const best = candidates.reduce((most, { share }) => Math.max(most, share), 0);
  if (best === 0) return null;
  const strong = candidates.filter(({ share }) => share >= nearlyBest * best);
  // Beyond a harmonic there may be little but its own multiples: it has to account for what the ruling itself does.
  const most = strong.reduce((sum, { shareOfAll }) => Math.max(sum, shareOfAll), 0);
  const good = strong.filter(({ shareOfAll }) => shareOfAll >= nearlyBest * most);
  const chosen = good.reduce((a, b) => (Math.hypot(b.fx, b.fy) > Math.hypot(a.fx, a.fy) * 1.02 ? b : a));
  const refined = refine(spectrum, scale, chosen);
  const isLines = looksLikeLines(spectrum, scale, refined);
  return { ...refined, isLines, ...shareOn(spectrum, scale, power, refined.fx, refined.fy, isLines) };
}

/** Whether the frequency across is as good as missing. */
function looksLikeLines(spectrum: PowerSpectrum, scale: SpectrumScale, { fx, fy }: Lattice): boolean {
  const main = powerNear(spectrum, scale, fx, fy);
  const cross = powerNear(spectrum, scale, -fy, fx);
  const diagonal = Math.max(powerNear(spectrum, scale, fx - fy, fy + fx), powerNear(spectrum, scale, fx + fy, fy - fx));
  return Math.max(cross, diagonal) < crossShare * main;
}

function powerNear(spectrum: PowerSpectrum, scale: SpectrumScale, fx: number, fy: number): number {
  const { side, columns, power } = spectrum;
  const column = Math.round(fx * scale.turnsX);
  const row = Math.round(fy * scale.turnsY);
  let most = 0;
  for (let r = row - 1; r <= row + 1; r++) {
    for (let c = column - 1; c <= column + 1; c++) {
      const [cc, rr] = c < 0 ? [-c, -r] : [c, r];
      if (cc >= columns || Math.abs(rr) > side / 2 - 1) continue;
      most = Math.max(most, power[(rr < 0 ? rr + side : rr) * columns + cc]);
    }
  }
  return most;
}

let stamps = new Int32Array(0);
let stamp = 0;

function shareOn(
  spectrum: PowerSpectrum,
  scale: SpectrumScale,
  radial: RadialPower,
  fx: number,
  fy: number,
  isLines: boolean,
): { share: number; shareOfAll: number } {
  const { side, columns, power } = spectrum;
  if (stamps.length < power.length) stamps = new Int32Array(power.length);
  stamp++;
  let on = 0;
  let bins = 0;
  const across = isLines ? 0 : mostOrder;
  for (let k = -mostOrder; k <= mostOrder; k++) {
    for (let l = -across; l <= across; l++) {
      if (k === 0 && l === 0) continue;
      const x = (k * fx - l * fy) * scale.turnsX;
      const y = (k * fy + l * fx) * scale.turnsY;
      if (x < -1 || x > columns - 2 || Math.abs(y) > side / 2 - 2) continue;
      const column = Math.round(x);
      const row = Math.round(y);
      for (let r = row - 1; r <= row + 1; r++) {
        for (let c = Math.max(0, column - 1); c <= column + 1; c++) {
          const at = (r < 0 ? r + side : r) * columns + c;
          if (stamps[at] === stamp) continue;
          stamps[at] = stamp;
          on += power[at];
          bins++;
        }
      }
    }
  }
  const beyond = radial.beyond(0.5 * Math.hypot(fx, fy));
  const chance = Math.min(0.9, bins / beyond.bins);
  return {
    share: beyond.power === 0 ? 0 : Math.max(0, (on / beyond.power - chance) / (1 - chance)),
    shareOfAll: radial.all === 0 ? 0 : on / radial.all,
  };
}

/** Fits the lattice to all of its peaks that stand out, weighted by their power. */
function refine(spectrum: PowerSpectrum, scale: SpectrumScale, lattice: FoundLattice): FoundLattice {
  let { fx, fy } = lattice;
  const across = lattice.isLines ? 0 : 4;
  for (let turn = 1; turn <= 3; turn++) {
    const order = [1, 2, 4][turn - 1];
    let sumX = 0;
    let sumY = 0;
    let total = 0;
    for (let k = -order; k <= order; k++) {
      for (let l = -Math.min(order, across); l <= Math.min(order, across); l++) {
        if (k === 0 && l === 0) continue;
        const peak = refinedPeak(spectrum, scale, k * fx - l * fy, k * fy + l * fx);
        if (peak === null) continue;
        // f = peak / (k + i l), the frequencies taken as complex numbers.
        const norm = k * k + l * l;
        sumX += peak.power * (k * peak.fx + l * peak.fy);
        sumY += peak.power * (k * peak.fy - l * peak.fx);
        total += peak.power * norm;
      }
    }
    if (total === 0) break;
    fx = sumX / total;
    fy = sumY / total;
  }
  return { ...lattice, fx, fy };
}

/** Power beyond a frequency, by rings as wide as a turn a window. */
class RadialPower {
  readonly all: number;
  readonly #step: number;
  readonly #power: Float64Array;
  readonly #bins: Float64Array;

  constructor({ side, columns, power }: PowerSpectrum, scale: SpectrumScale) {
    this.#step = scale.perTurn;
    const rings = Math.ceil(Math.hypot(columns / scale.turnsX, side / 2 / scale.turnsY) / this.#step) + 2;
    this.#power = new Float64Array(rings);
    this.#bins = new Float64Array(rings);
    let all = 0;
    const ringX = 1 / (scale.turnsX * this.#step);
    const ringY = 1 / (scale.turnsY * this.#step);
    for (let row = 0; row < side; row++) {
      const down = ((row < side / 2 ? row : row - side) * ringY) ** 2;
      for (let column = 0; column < columns; column++) {
        const ring = Math.round(Math.sqrt(down + (column * ringX) ** 2));
        if (ring < slowTurns) continue;
        this.#power[ring] += power[row * columns + column];
        this.#bins[ring]++;
        all += power[row * columns + column];
      }
    }
    for (let ring = rings - 2; ring >= 0; ring--) {
      this.#power[ring] += this.#power[ring + 1];
      this.#bins[ring] += this.#bins[ring + 1];
    }
    this.all = all;
  }

  beyond(frequency: number): { power: number; bins: number } {
    const ring = Math.min(this.#power.length - 1, Math.ceil(frequency / this.#step));
    return { power: this.#power[ring], bins: this.#bins[ring] };
  }
}
