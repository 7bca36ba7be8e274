import { rulingPerCmFromLpi } from '../units/lengths.ts';
import {
  type Beat,
  beatOf,
  type MeshState,
  meshAmplitude,
  meshOrders,
  meshVector,
  ordersNear,
  periodMmOf,
  type Ruling,
  rulingVector,
  type Vector,
} from './beat.ts';
import type { DotSpectrum } from './dotSpectrum.ts';
import { perCmOfPeriod } from './meshBeats.ts';
import type { MeshMeasures } from './meshGeometry.ts';

/** How far a mesh may lie from its stated count and from square to the film. */
export interface MeshBand {
  /** Stretch on the frame, from and to, percent. Common practice, no source for 0 to 4. */
  readonly stretchPercent: readonly [number, number];
  /** Threads out of square with the film by up to so much, either way. Common practice, no source for 1.5. */
  readonly squarenessDeg: number;
}

export const usualBand: MeshBand = { stretchPercent: [0, 4], squarenessDeg: 1.5 };

/** A beat over the whole band of its mesh, at its longest; the shortest it comes to stands beside it. */
export interface BandBeat extends Beat {
  readonly shortestPeriodMm: number;
  /** How the mesh lies when the beat is longest. */
  readonly at: MeshState;
}

export interface BandLimits {
  /** Beats that stay shorter than this all over the band are left out. */
  readonly leastPeriodMm: number;
  /** Beats weaker than this are left out. */
  readonly leastModulationPercent: number;
}

/**
 * The beats of a halftone with a mesh over all the ways the mesh may lie, each once, at its longest, strongest first.
 * Stretch only shortens a mesh frequency and a turn only turns it, so the mesh order sweeps a sector of a ring and its
 * longest beat with a ruling order belongs to the point of that sector nearest to it; no way of lying is missed between
 * steps.
 */
export function beatsInBand(
  ruling: Ruling,
  spectrum: DotSpectrum,
  mesh: MeshMeasures,
  band: MeshBand,
  limits: BandLimits,
): readonly BandBeat[] {
  const reachPerCm = perCmOfPeriod(limits.leastPeriodMm);
  const linesPerCm = rulingPerCmFromLpi(ruling.rulingLpi);
  const found: BandBeat[] = [];
  for (const meshOrder of meshOrders(ruling.dotForm)) {
    const share = meshAmplitude(mesh, meshOrder);
    if (200 * share < limits.leastModulationPercent) continue;
    const sector = sectorOf(mesh.threadsPerCm, meshOrder, band);
    for (const rulingOrder of ordersNear(ruling, sector.middle, (sector.radius + reachPerCm) / linesPerCm)) {
      const [k, l] = rulingOrder;
      if (200 * share * spectrum.amplitude(k, l) < limits.leastModulationPercent) continue;
      const f = rulingVector(ruling, rulingOrder);
      const at = nearestState(f, sector, band);
      const q = differenceOf(f, meshVector(mesh.threadsPerCm, meshOrder, at));
      if (Math.hypot(q.x, q.y) > reachPerCm) continue;
      const farthest = Math.max(
        ...sector.corners.map((corner) => {
          const away = differenceOf(f, corner);
          return Math.hypot(away.x, away.y);
        }),
      );
      found.push({
        ...beatOf(spectrum, rulingOrder, meshOrder, share, q),
        shortestPeriodMm: periodMmOf({ x: farthest, y: 0 }),
        at,
      });
    }
  }
  return found.sort((a, b) => b.modulationPercent - a.modulationPercent);
}

/**
 * A way the mesh may lie in which a beat is long enough to be drawn and short enough to repeat in the drawing: from rest
 * towards where the beat is longest, as far as it stays within `periodMm`. At rest when it is longer there already.
 */
export function stateToDraw(ruling: Ruling, mesh: MeshMeasures, beat: BandBeat, periodMm: number): MeshState {
  const f = rulingVector(ruling, beat.rulingOrder);
  const stateAt = (share: number): MeshState => ({
    stretchPercent: beat.at.stretchPercent * share,
    turnDeg: beat.at.turnDeg * share,
  });
  const periodAt = (share: number) =>
    periodMmOf(differenceOf(f, meshVector(mesh.threadsPerCm, beat.meshOrder, stateAt(share))));
  if (periodAt(1) <= periodMm) return stateAt(1);
  let [low, high] = [0, 1];
  for (let step = 0; step < 30; step++) {
    const middle = (low + high) / 2;
    if (periodAt(middle) <= periodMm) low = middle;
    else high = middle;
  }
  return stateAt(low);
}

interface Sector {
  readonly middle: Vector;
  /** Every point of the sector lies as near to its middle. */
  readonly radius: number;
  readonly corners: readonly Vector[];
  /** At rest: cycles a cm and degrees. */
  readonly perCm: number;
  readonly angleDeg: number;
}

function sectorOf(threadsPerCm: number, order: readonly [number, number], band: MeshBand): Sector {
  const [from, to] = band.stretchPercent;
  const turns = [-band.squarenessDeg, band.squarenessDeg];
  const corners = turns.flatMap((turnDeg) =>
    [from, to].map((stretchPercent) => meshVector(threadsPerCm, order, { stretchPercent, turnDeg })),
  );
  const middle = meshVector(threadsPerCm, order, { stretchPercent: (from + to) / 2, turnDeg: 0 });
  const bulge = meshVector(threadsPerCm, order, { stretchPercent: from, turnDeg: 0 });
  const radius = Math.max(...[...corners, bulge].map((point) => Math.hypot(point.x - middle.x, point.y - middle.y)));
  const rest = meshVector(threadsPerCm, order, { stretchPercent: 0, turnDeg: 0 });
  return {
    middle,
    radius,
    corners,
    perCm: Math.hypot(rest.x, rest.y),
    angleDeg: (Math.atan2(rest.y, rest.x) * 180) / Math.PI,
  };
}

/** How the mesh lies when its order comes nearest to a frequency. */
function nearestState(f: Vector, { perCm, angleDeg }: Sector, band: MeshBand): MeshState {
  const away = (Math.atan2(f.y, f.x) * 180) / Math.PI - angleDeg;
  const turnDeg = clamp(away - 360 * Math.round(away / 360), -band.squarenessDeg, band.squarenessDeg);
  const along = Math.hypot(f.x, f.y) * Math.cos(((away - turnDeg) * Math.PI) / 180);
  const [from, to] = band.stretchPercent;
  const stretchPercent = along > 0 ? clamp(100 * (perCm / along - 1), from, to) : to;
  return { stretchPercent, turnDeg };
}

function differenceOf(a: Vector, b: Vector): Vector {
  return { x: a.x - b.x, y: a.y - b.y };
}

function clamp(value: number, low: number, high: number): number {
  return Math.min(high, Math.max(low, value));
}
