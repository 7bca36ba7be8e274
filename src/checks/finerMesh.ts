import { type MeshMeasures, meshByFormula } from '../mesh/meshGeometry.ts';
import { nameMesh } from '../mesh/meshLookup.ts';
import { meshTable } from '../mesh/meshTable.ts';
import type { ResolvedTicket } from '../ticket/ticket.ts';
import { mm } from './words.ts';

/**
 * The way out by mesh: the coarsest mesh through which an ink would hold a detail as it is drawn, of those the shop
 * owns or else of the usual ones; the coarsest lays down the most ink.
 *
 * @param holdsMm the detail's width with its error bar taken off.
 * @param finestMm what a mesh needs, by the rule of the check that asks.
 * @returns the end of a sentence, beginning with a comma or a semicolon.
 */
export function orFinerMesh(
  ticket: ResolvedTicket,
  inkName: string,
  holdsMm: number,
  finestMm: (mesh: MeshMeasures) => number,
): string {
  if (ticket.screenFor(inkName).mesh === null) return `; give ${inkName}’s mesh on the ticket for a limit of its own`;
  const owned = ticket.meshes.map(({ mesh }) => mesh);
  const usual = meshTable
    .filter(({ thread }) => thread === 'medium')
    .map(({ threadsPerCm, threadUm }) => meshByFormula(threadsPerCm, threadUm));
  const holding = (owned.length > 0 ? owned : usual)
    .filter((mesh) => finestMm(mesh) <= holdsMm)
    .sort((a, b) => a.threadsPerCm - b.threadsPerCm || b.threadUm - a.threadUm);
  if (holding.length === 0) return `; ${owned.length > 0 ? 'none of your meshes' : 'no usual mesh'} holds it as it is`;
  return `, or print ${inkName} through ${nameMesh(holding[0])} (needs ${mm(finestMm(holding[0]))})`;
}
