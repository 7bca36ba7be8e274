import { mmPerCm, rulingPerCmFromLpi } from '../units/lengths.ts';
import {
  type Beat,
  beatOf,
  type MeshState,
  meshAmplitude,
  meshOrders,
  meshVector,
  ordersNear,
  type Ruling,
  restState,
  rulingVector,
  type Vector,
} from './beat.ts';
import type { DotSpectrum } from './dotSpectrum.ts';
import type { MeshMeasures } from './meshGeometry.ts';

/** Beats weaker than this are left out. */
const leastModulationPercent = 0.05;
/** Frequencies closer than this share of the ruling are one beat. */
const sameBeatShare = 1e-6;

/**
 * The beats of a halftone with a mesh as it lies, strongest first: every difference of an order of the one and an order
 * of the other that repeats more slowly than the halftone itself. Beats that coincide are summed, which is what they
 * come to where film and mesh happen to lie so that they help each other. Of beats that differ by a quarter turn only,
 * as of round dots, one is listed.
 */
export function meshBeats(
  ruling: Ruling,
  spectrum: DotSpectrum,
  mesh: MeshMeasures,
  state: MeshState = restState,
): readonly Beat[] {
  const linesPerCm = rulingPerCmFromLpi(ruling.rulingLpi);
  const found: { readonly q: Vector; readonly beat: Beat }[] = [];
  for (const meshOrder of meshOrders(ruling.dotForm)) {
    const share = meshAmplitude(mesh, meshOrder);
    if (200 * share < leastModulationPercent) continue;
    const g = meshVector(mesh.threadsPerCm, meshOrder, state);
    for (const rulingOrder of ordersNear(ruling, g, 1)) {
      const f = rulingVector(ruling, rulingOrder);
      const q = { x: f.x - g.x, y: f.y - g.y };
      if (Math.hypot(q.x, q.y) >= linesPerCm * (1 - sameBeatShare)) continue;
      const beat = beatOf(spectrum, rulingOrder, meshOrder, share, q);
      if (beat.modulationPercent >= leastModulationPercent) found.push({ q, beat });
    }
  }
  return sumCoinciding(found, linesPerCm * sameBeatShare);
}

function sumCoinciding(found: readonly { readonly q: Vector; readonly beat: Beat }[], same: number): readonly Beat[] {
  const strongestFirst = [...found].sort((a, b) => b.beat.modulationPercent - a.beat.modulationPercent);
  const sums: { readonly q: Vector; readonly beat: Beat; modulationPercent: number }[] = [];
  for (const { q, beat } of strongestFirst) {
    const sum = sums.find(
      (other) =>
        Math.hypot(other.q.x - q.x, other.q.y - q.y) <= same || Math.hypot(other.q.x + q.x, other.q.y + q.y) <= same,
    );
    if (sum) sum.modulationPercent += beat.modulationPercent;
    else sums.push({ q, beat, modulationPercent: beat.modulationPercent });
  }
  return sums
    .map(({ beat, modulationPercent }) => ({ ...beat, modulationPercent }))
    .sort((a, b) => b.modulationPercent - a.modulationPercent);
}

/** Frequency of a period, cycles a cm. */
export function perCmOfPeriod(periodMm: number): number {
  return mmPerCm / periodMm;
}
