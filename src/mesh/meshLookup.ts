import { threadsPerCmFromPerInch } from '../units/lengths.ts';
import { finestLineMm } from './detailRules.ts';
import { type MeshMeasures, meshByFormula } from './meshGeometry.ts';
import { type MeshRow, meshTable } from './meshTable.ts';

/** Counts this close are the same mesh under another label, as a ratio. */
const sameMeshRatio = 0.03;
const sameLabelRatio = 0.01;

/**
 * The reference row nearest to a count, or null when none lies within 3 %. Among rows of that count, the one whose
 * thread is nearest, or the medium thread when none is named.
 */
export function nearestMesh(threadsPerCm: number, threadUm?: number): MeshRow | null {
  let best: MeshRow | null = null;
  let bestDistance: readonly [number, number] = [sameMeshRatio, Number.POSITIVE_INFINITY];
  for (const row of meshTable) {
    const countDistance = Math.abs(row.threadsPerCm - threadsPerCm) / row.threadsPerCm;
    const threadDistance =
      threadUm === undefined ? (row.thread === 'medium' ? 0 : 1) : Math.abs(row.threadUm - threadUm);
    const nearer =
      countDistance < bestDistance[0] || (countDistance === bestDistance[0] && threadDistance < bestDistance[1]);
    if (nearer) {
      best = row;
      bestDistance = [countDistance, threadDistance];
    }
  }
  return best;
}

/**
 * Threads per cm of a count per inch. Meshes are woven to metric counts and their inch labels rounded, so a label
 * within 1 % of a known one means that mesh (110 is 43/cm, not 43.3); any other count is converted.
 */
export function threadsPerCmFromLabel(threadsPerInch: number): number {
  let best: { readonly row: MeshRow; readonly distance: number } | null = null;
  for (const row of meshTable) {
    for (const label of row.labelsPerInch) {
      const distance = Math.abs(label - threadsPerInch) / label;
      if (distance <= sameLabelRatio && (best === null || distance < best.distance)) best = { row, distance };
    }
  }
  return best?.row.threadsPerCm ?? threadsPerCmFromPerInch(threadsPerInch);
}

/** The usual label per inch of a metric count: the reference row's, else 2.54 times the count, rounded. */
export function labelPerInch(threadsPerCm: number): number {
  const row = meshTable.find((candidate) => candidate.threadsPerCm === threadsPerCm);
  return row?.labelsPerInch[0] ?? Math.round(threadsPerCm / threadsPerCmFromPerInch(1));
}

/**
 * Meshes that hold a detail of this width, coarsest first: the first lays down the most ink. `finestMm` is what a mesh
 * needs of such a detail; of a line unless given.
 */
export function meshesThatHold(
  minWidthMm: number,
  owned: readonly MeshMeasures[] = meshTable.map((row) => meshByFormula(row.threadsPerCm, row.threadUm)),
  finestMm: (mesh: MeshMeasures) => number = finestLineMm,
): readonly MeshMeasures[] {
  return owned
    .filter((mesh) => finestMm(mesh) <= minWidthMm)
    .sort((a, b) => a.threadsPerCm - b.threadsPerCm || b.threadUm - a.threadUm);
}

/** A mesh in words: `43/cm, 80 µm`. */
export function nameMesh(mesh: Pick<MeshMeasures, 'threadsPerCm' | 'threadUm'>): string {
  return `${Number(mesh.threadsPerCm.toFixed(1))}/cm, ${Number(mesh.threadUm.toFixed(1))} µm`;
}
