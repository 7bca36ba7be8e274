import { type PowerSpectrum, spectrumColumns, spectrumSide } from '../raster/powerSpectrum.ts';
import { findPeaks, refinedPeak, type SpectrumScale } from './halftonePeaks.ts';
import { RadialPower, slowTurns } from './halftoneRadial.ts';

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
  /** The weaker of the two frequencies of a square lattice as a share of the stronger; 0 of lines. */
  readonly balance: number;
}

type Candidate = Omit<FoundLattice, 'balance'>;

const mostPeaks = 8;
const mostOrder = 6;
/** A window has room for this many cells at least. */
const leastTurns = 3;
/** Of candidates nearly as good as the best, the one of the highest frequency is no sub-harmonic. */
const nearlyBest = 0.7;
const crossShare = 0.02;

/** The square lattice or the set of lines that accounts best for a spectrum, or null where it has no peaks. */
export function findLattice(spectrum: PowerSpectrum, scale: SpectrumScale): FoundLattice | null {
  const peaks = findPeaks(spectrum, scale, mostPeaks, slowTurns);
  if (peaks.length === 0) return null;
  const power = new RadialPower(spectrum, scale);
  const least = leastTurns * scale.perTurn;
  const candidates: Candidate[] = [];
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
  const balance = isLines ? 0 : balanceOf(spectrum, scale, refined);
  return { ...refined, isLines, balance, ...shareOn(spectrum, scale, power, refined.fx, refined.fy, isLines) };
}

/** Whether the frequency across is as good as missing. */
function looksLikeLines(spectrum: PowerSpectrum, scale: SpectrumScale, { fx, fy }: Lattice): boolean {
  const main = powerNear(spectrum, scale, fx, fy);
  const cross = powerNear(spectrum, scale, -fy, fx);
  const diagonal = Math.max(powerNear(spectrum, scale, fx - fy, fy + fx), powerNear(spectrum, scale, fx + fy, fy - fx));
  return Math.max(cross, diagonal) < crossShare * main;
}

function balanceOf(spectrum: PowerSpectrum, scale: SpectrumScale, { fx, fy }: Lattice): number {
  const [along, across] = [powerNear(spectrum, scale, fx, fy), powerNear(spectrum, scale, -fy, fx)];
  return Math.sqrt(Math.min(along, across) / Math.max(along, across));
}

function powerNear(spectrum: PowerSpectrum, scale: SpectrumScale, fx: number, fy: number): number {
  const { power } = spectrum;
  const column = Math.round(fx * scale.turnsX);
  const row = Math.round(fy * scale.turnsY);
  let most = 0;
  for (let r = row - 1; r <= row + 1; r++) {
    for (let c = column - 1; c <= column + 1; c++) {
      const [cc, rr] = c < 0 ? [-c, -r] : [c, r];
      if (cc >= spectrumColumns || Math.abs(rr) > spectrumSide / 2 - 1) continue;
      most = Math.max(most, power[(rr < 0 ? rr + spectrumSide : rr) * spectrumColumns + cc]);
    }
  }
  return most;
}

function shareOn(
  spectrum: PowerSpectrum,
  { turnsX, turnsY }: SpectrumScale,
  radial: RadialPower,
  fx: number,
  fy: number,
  isLines: boolean,
): { share: number; shareOfAll: number } {
  const across = isLines ? 0 : mostOrder;
  const { power: on, bins } = spectrum.onLattice({ fx, fy, turnsX, turnsY, order: mostOrder, across });
  const beyond = radial.beyond(0.5 * Math.hypot(fx, fy));
  const chance = Math.min(0.9, bins / beyond.bins);
  return {
    share: beyond.power === 0 ? 0 : Math.max(0, (on / beyond.power - chance) / (1 - chance)),
    shareOfAll: radial.all === 0 ? 0 : on / radial.all,
  };
}

/** Fits the lattice to all of its peaks that stand out, weighted by their power. */
function refine(spectrum: PowerSpectrum, scale: SpectrumScale, lattice: Candidate): Candidate {
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
