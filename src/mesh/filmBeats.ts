import { rulingPerCmFromLpi } from '../units/lengths.ts';
import {
  directionDegOf,
  isQuarterSymmetric,
  type Order,
  ordersNear,
  periodMmOf,
  type Ruling,
  rulingVector,
} from './beat.ts';
import type { DotSpectrum } from './dotSpectrum.ts';

/** A beat of two halftones printed on each other. */
export interface FilmBeat {
  readonly periodMm: number;
  readonly directionDeg: number;
  readonly firstOrder: Order;
  readonly secondOrder: Order;
  /** Swing of what both inks cover together over its mean, an upper bound. */
  readonly modulationPercent: number;
}

const highestOrder = 3;
const leastModulationPercent = 0.5;

/**
 * The beats of two halftones on each other that repeat more slowly than either, strongest first. Beats that are alike
 * but for a quarter turn are listed once.
 */
export function filmBeats(
  first: Ruling,
  firstSpectrum: DotSpectrum,
  second: Ruling,
  secondSpectrum: DotSpectrum,
): readonly FilmBeat[] {
  const finestPerCm = Math.min(rulingPerCmFromLpi(first.rulingLpi), rulingPerCmFromLpi(second.rulingLpi));
  const isQuarter = isQuarterSymmetric(first.dotForm) && isQuarterSymmetric(second.dotForm);
  const found: FilmBeat[] = [];
  for (const firstOrder of ordersUpTo(highestOrder, isQuarter)) {
    const strength = firstSpectrum.amplitude(...firstOrder);
    if (first.dotForm === 'line' && firstOrder[0] !== 0) continue;
    const f = rulingVector(first, firstOrder);
    for (const secondOrder of ordersNear(second, f, 1)) {
      if (secondOrder.some((order) => Math.abs(order) > highestOrder)) continue;
      const g = rulingVector(second, secondOrder);
      const q = { x: f.x - g.x, y: f.y - g.y };
      if (Math.hypot(q.x, q.y) >= finestPerCm * (1 - 1e-6)) continue;
      const modulationPercent = 200 * strength * secondSpectrum.amplitude(...secondOrder);
      if (modulationPercent < leastModulationPercent) continue;
      const direction = directionDegOf(q);
      found.push({ periodMm: periodMmOf(q), directionDeg: direction, firstOrder, secondOrder, modulationPercent });
    }
  }
  return found.sort((a, b) => b.modulationPercent - a.modulationPercent || b.periodMm - a.periodMm);
}

function ordersUpTo(highest: number, isQuarter: boolean): readonly Order[] {
  const found: Order[] = [];
  for (let k = isQuarter ? 1 : -highest; k <= highest; k++) {
    for (let l = 0; l <= highest; l++) if (l > 0 || k > 0) found.push([k, l]);
  }
  return found;
}

/**
 * The angle between two halftones, from 0 to the most there can be: 45° where a lattice of dots is among them, 90° between
 * lines.
 */
export function angleBetweenDeg(first: Ruling, second: Ruling): number {
  const repeatsDeg = first.dotForm === 'line' && second.dotForm === 'line' ? 180 : 90;
  const apart = Math.abs(first.angleDeg - second.angleDeg) % repeatsDeg;
  return Math.min(apart, repeatsDeg - apart);
}
