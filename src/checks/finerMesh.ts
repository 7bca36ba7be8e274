import { type MeshMeasures, meshByFormula } from '../mesh/meshGeometry.ts';
import { meshesThatHold, nameMesh } from '../mesh/meshLookup.ts';
import { meshTable } from '../mesh/meshTable.ts';
import type { AdviceContext } from './check.ts';
import { mm } from './words.ts';

/** Inks for garments are seldom printed through finer meshes. Common practice, no source for the figure. */
const finestUsualPerCm = 120;

/**
 * The way out by mesh, for a reading below its limit: the coarsest mesh through which the ink would hold the detail as
 * it is drawn, its error bar taken off, of those the shop owns or else of the usual ones. Where no mesh set the limit a
 * finer one is no way out, and what did set it is said.
 *
 * @param finestMm what a mesh needs, by the rule of the check that asks.
 * @returns the end of a sentence, beginning with a comma, a colon or a semicolon.
 */
export function orFinerMesh(
  { reading, limit, ticket }: Pick<AdviceContext, 'reading' | 'limit' | 'ticket'>,
  finestMm: (mesh: MeshMeasures) => number,
): string {
  const [inkName] = reading.inkNames;
  if (limit.from === 'ticket') return ', as your ticket asks whatever the mesh';
  if (limit.from === 'shop') return ', as your shop file asks whatever the mesh';
  if (limit.from === 'default')
    return `: the floor for garments, which holds while the ticket gives no mesh for ${inkName}`;
  const owned = ticket.meshes.map(({ mesh }) => mesh);
  const [coarsest] = meshesThatHold(
    reading.value - reading.plusMinus,
    owned.length > 0 ? owned : usualMeshes,
    finestMm,
  );
  if (coarsest !== undefined) {
    return `, or print ${inkName} through ${nameMesh(coarsest)} (needs ${mm(finestMm(coarsest))})`;
  }
  const none = owned.length > 0 ? 'none of your meshes' : `no usual mesh up to ${finestUsualPerCm}/cm`;
  return `; ${none} holds ${mm(reading.value)}`;
}

const usualMeshes: readonly MeshMeasures[] = meshTable
  .filter(({ thread, threadsPerCm }) => thread === 'medium' && threadsPerCm <= finestUsualPerCm)
  .map(({ threadsPerCm, threadUm }) => meshByFormula(threadsPerCm, threadUm));
