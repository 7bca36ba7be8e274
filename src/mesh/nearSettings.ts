import type { Ruling } from './beat.ts';
import type { MeshMeasures } from './meshGeometry.ts';

/** A halftone and the mesh it is printed through. */
export interface Setting<M extends MeshMeasures = MeshMeasures> {
  readonly ruling: Ruling;
  readonly mesh: M;
}

/** Another setting, what of it is changed, and by how much. */
export interface NearSetting<M extends MeshMeasures = MeshMeasures> extends Setting<M> {
  readonly changes: 'angle' | 'ruling' | 'mesh' | 'rulingAndAngle';
  /** By how much of itself the halftone's or the mesh's frequency moves; 1° is 0.017, 1 lpi at 55 is 0.018. */
  readonly moved: number;
}

const angleStepDeg = 0.5;
const farthestAngleDeg = 22.5;
const rulingStepLpi = 0.5;
const farthestRulingShare = 0.3;
/** Where no single change does, both are tried in coarser steps. */
const bothAngleStepDeg = 2.5;
const bothRulingStepLpi = 2;

/**
 * Settings near one that are good, nearest first: the nearest other angle, the nearest other ruling, the nearest other
 * mesh of those given; where none of them is good, the nearest change of ruling and angle together. Each is tried by the
 * rule handed in; nothing is looked up.
 */
export function nearSettings<M extends MeshMeasures>(
  from: Setting<M>,
  meshes: readonly M[],
  isGood: (setting: Setting<M>) => boolean,
): readonly NearSetting<M>[] {
  const found: NearSetting<M>[] = [];
  for (const candidates of [angles(from), rulings(from), otherMeshes(from, meshes)]) {
    const nearest = nearestGood(candidates, isGood);
    if (nearest) found.push(nearest);
  }
  if (found.length === 0) {
    const both = nearestGood(rulingsAndAngles(from), isGood);
    if (both) found.push(both);
  }
  return found.sort((a, b) => a.moved - b.moved);
}

function nearestGood<M extends MeshMeasures>(
  candidates: readonly NearSetting<M>[],
  isGood: (setting: Setting<M>) => boolean,
): NearSetting<M> | undefined {
  return [...candidates].sort((a, b) => a.moved - b.moved).find(isGood);
}

function angles<M extends MeshMeasures>({ ruling, mesh }: Setting<M>): NearSetting<M>[] {
  const whole = Math.round(ruling.angleDeg / angleStepDeg) * angleStepDeg;
  return steps(whole - farthestAngleDeg, whole + farthestAngleDeg, angleStepDeg)
    .filter((angleDeg) => Math.abs(angleDeg - ruling.angleDeg) > angleStepDeg / 2)
    .map((angleDeg) => ({
      ruling: { ...ruling, angleDeg: writtenAngle(angleDeg, ruling) },
      mesh,
      changes: 'angle',
      moved: (Math.abs(angleDeg - ruling.angleDeg) * Math.PI) / 180,
    }));
}

function rulings<M extends MeshMeasures>({ ruling, mesh }: Setting<M>): NearSetting<M>[] {
  return rulingsAround(ruling.rulingLpi, rulingStepLpi).map((rulingLpi) => ({
    ruling: { ...ruling, rulingLpi },
    mesh,
    changes: 'ruling',
    moved: Math.abs(rulingLpi / ruling.rulingLpi - 1),
  }));
}

function rulingsAround(rulingLpi: number, step: number): number[] {
  const whole = Math.round(rulingLpi / step) * step;
  const reach = Math.floor((rulingLpi * farthestRulingShare) / step) * step;
  return steps(whole - reach, whole + reach, step).filter(
    (candidate) => candidate > 0 && Math.abs(candidate - rulingLpi) > step / 2,
  );
}

function otherMeshes<M extends MeshMeasures>({ ruling, mesh }: Setting<M>, meshes: readonly M[]): NearSetting<M>[] {
  return meshes
    .filter((other) => other.threadsPerCm !== mesh.threadsPerCm || other.threadUm !== mesh.threadUm)
    .map((other) => ({
      ruling,
      mesh: other,
      changes: 'mesh',
      moved: Math.abs(other.threadsPerCm / mesh.threadsPerCm - 1),
    }));
}

function rulingsAndAngles<M extends MeshMeasures>(from: Setting<M>): NearSetting<M>[] {
  const { ruling, mesh } = from;
  const turns = steps(-farthestAngleDeg, farthestAngleDeg, bothAngleStepDeg).filter((turn) => turn !== 0);
  return rulingsAround(ruling.rulingLpi, bothRulingStepLpi).flatMap((rulingLpi) =>
    turns.map((turn): NearSetting<M> => {
      const angleDeg = writtenAngle(Math.round((ruling.angleDeg + turn) / angleStepDeg) * angleStepDeg, ruling);
      const moved = Math.hypot(rulingLpi / ruling.rulingLpi - 1, (turn * Math.PI) / 180);
      return { ruling: { ...ruling, rulingLpi, angleDeg }, mesh, changes: 'rulingAndAngle', moved };
    }),
  );
}

function steps(from: number, to: number, step: number): number[] {
  return Array.from({ length: Math.round((to - from) / step) + 1 }, (_, index) => from + index * step);
}

/** Angles as they are written: up to 180 along lines and chains, up to 90 of other dots. */
export function writtenAngle(angleDeg: number, { dotForm }: Ruling): number {
  const repeats = dotForm === 'line' || dotForm === 'elliptical' ? 180 : 90;
  return ((angleDeg % repeats) + repeats) % repeats;
}
