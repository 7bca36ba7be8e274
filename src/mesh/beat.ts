import { mmPerCm, pitchUmFromThreadsPerCm, rulingPerCmFromLpi } from '../units/lengths.ts';
import type { DotForm } from './dotForm.ts';
import { type DotSpectrum, highestRulingOrder, sinc } from './dotSpectrum.ts';
import type { MeshMeasures } from './meshGeometry.ts';

/** A halftone as a lattice. Angles are counter-clockwise as seen, from the x axis. */
export interface Ruling {
  readonly rulingLpi: number;
  /** Of a lattice axis; of the chain of elongated dots; along lines. */
  readonly angleDeg: number;
  readonly dotForm: DotForm;
}

export type Order = readonly [number, number];

/** What can be computed of a beat; whether anybody sees it is another question. */
export interface Beat {
  /** Distance from band to band; infinite where the two repeat alike. */
  readonly periodMm: number;
  /** Across the bands, counter-clockwise from the x axis, 0 up to 180. */
  readonly directionDeg: number;
  readonly rulingOrder: Order;
  readonly meshOrder: Order;
  /** Swing over the mean, an upper bound: ink that flows evens it out. */
  readonly modulationPercent: number;
  /** The tone with that swing. */
  readonly tonePercent: number;
}

/** How a mesh lies on its frame. */
export interface MeshState {
  /** Stretched by so much since its count was true. */
  readonly stretchPercent: number;
  /** Threads turned against the film, counter-clockwise. */
  readonly turnDeg: number;
}

export const restState: MeshState = { stretchPercent: 0, turnDeg: 0 };

export const highestMeshOrder = 10;

export interface Vector {
  readonly x: number;
  readonly y: number;
}

/** Frequency of a ruling order, cycles a cm. */
export function rulingVector({ rulingLpi, angleDeg }: Ruling, [k, l]: Order): Vector {
  return turned({ x: k, y: l }, angleDeg, rulingPerCmFromLpi(rulingLpi));
}

/** Frequency of a mesh order, cycles a cm. */
export function meshVector(threadsPerCm: number, [m, n]: Order, state: MeshState): Vector {
  return turned({ x: m, y: n }, state.turnDeg, threadsPerCm / (1 + state.stretchPercent / 100));
}

function turned({ x, y }: Vector, degrees: number, scale: number): Vector {
  const cos = Math.cos((degrees * Math.PI) / 180) * scale;
  const sin = Math.sin((degrees * Math.PI) / 180) * scale;
  return { x: x * cos - y * sin, y: x * sin + y * cos };
}

/** Amplitude of a mesh order over its mean: the product of the sincs of the open share along both threads. */
export function meshAmplitude(mesh: MeshMeasures, [m, n]: Order): number {
  const open = mesh.openingUm / pitchUmFromThreadsPerCm(mesh.threadsPerCm);
  return Math.abs(sinc(m * open) * sinc(n * open));
}

export function periodMmOf({ x, y }: Vector): number {
  return mmPerCm / Math.hypot(x, y);
}

export function directionDegOf({ x, y }: Vector): number {
  const degrees = (Math.atan2(y, x) * 180) / Math.PI;
  return ((degrees % 180) + 180) % 180;
}

/** Whether a quarter turn leaves the halftone as it is. */
export function isQuarterSymmetric(form: DotForm): boolean {
  return form !== 'line' && form !== 'elliptical';
}

/**
 * Mesh orders of which none is the negative of another, and, where a quarter turn changes nothing, none the quarter
 * turn of another.
 */
export function meshOrders(form: DotForm): readonly Order[] {
  const quarter = isQuarterSymmetric(form);
  const found: Order[] = [];
  for (let m = quarter ? 1 : -highestMeshOrder; m <= highestMeshOrder; m++) {
    for (let n = 0; n <= highestMeshOrder; n++) if (n > 0 || m > 0) found.push([m, n]);
  }
  return found;
}

/** Ruling orders within `reach` ruling widths of a frequency given in cycles a cm. */
export function* ordersNear(ruling: Ruling, near: Vector, reach: number): Iterable<Order> {
  const scale = 1 / rulingPerCmFromLpi(ruling.rulingLpi);
  const { x, y } = turned(near, -ruling.angleDeg, scale);
  const isLine = ruling.dotForm === 'line';
  const [kFrom, kTo] = isLine ? [0, 0] : wholeWithin(x, reach);
  const [lFrom, lTo] = wholeWithin(y, reach);
  for (let k = kFrom; k <= kTo; k++) {
    for (let l = lFrom; l <= lTo; l++) {
      if (k !== 0 || l !== 0) yield [k, l];
    }
  }
}

/** Whole orders from and to; none is −0. */
function wholeWithin(middle: number, reach: number): readonly [number, number] {
  return [
    Math.max(-highestRulingOrder, Math.ceil(middle - reach)) + 0,
    Math.min(highestRulingOrder, Math.floor(middle + reach)),
  ];
}

/** A beat of two orders. */
export function beatOf(
  spectrum: DotSpectrum,
  rulingOrder: Order,
  meshOrder: Order,
  meshShare: number,
  q: Vector,
): Beat {
  const [k, l] = rulingOrder;
  return {
    periodMm: periodMmOf(q),
    directionDeg: directionDegOf(q),
    rulingOrder,
    meshOrder,
    modulationPercent: 200 * spectrum.amplitude(k, l) * meshShare,
    tonePercent: spectrum.tonePercent(k, l),
  };
}
