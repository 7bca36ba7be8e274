import { foldInkName } from '../colour/normaliseInkName.ts';
import { nominalOpeningUm } from '../mesh/meshGeometry.ts';
import { nearestMesh, threadsPerCmFromLabel } from '../mesh/meshLookup.ts';
import { validateMeshRow } from '../mesh/validateMeshRow.ts';
import { addProblem } from './readValues.ts';
import type { Mesh, TicketProblem } from './ticket.ts';
import { showValue } from './ticketProblems.ts';
import type { MeshValues } from './ticketSchema.ts';

export interface NamedMesh {
  readonly name: string;
  readonly mesh: Mesh;
}

/**
 * The mesh a ticket or shop file means, or null when it cannot be one; then `problems` has gained the reasons.
 * `meshes` are the shop's by name; null when its file could not be read and names cannot be looked up.
 * A count alone gets the medium thread of the nearest reference mesh.
 */
export function resolveMesh(
  values: MeshValues | string,
  path: string,
  meshes: readonly NamedMesh[] | null,
  problems: TicketProblem[],
): Mesh | null {
  if (typeof values === 'string') {
    if (meshes === null) return null;
    const named = meshes.find((candidate) => foldInkName(candidate.name) === foldInkName(values));
    if (named) return named.mesh;
    const names = meshes.map((candidate) => candidate.name).join(', ');
    const expected =
      names === '' ? 'threadsPerCm and threadUm (the shop file names no meshes)' : `a mesh of the shop file: ${names}`;
    addProblem(problems, { path, expected, received: showValue(values) });
    return null;
  }
  if (values.threadsPerCm !== undefined && values.threadsPerInch !== undefined) {
    addProblem(problems, { path, expected: 'either threadsPerCm or threadsPerInch', received: 'both' });
    return null;
  }
  const threadsPerCm =
    values.threadsPerCm ??
    (values.threadsPerInch === undefined ? undefined : threadsPerCmFromLabel(values.threadsPerInch));
  // A key misspelt in this mesh has been told; that its proper key is missing follows from it.
  const told = problems.some((problem) => problem.path.startsWith(`${path}.`));
  if (told && (threadsPerCm === undefined || values.threadUm === undefined)) return null;
  if (threadsPerCm === undefined) {
    addProblem(problems, {
      path: `${path}.threadsPerCm`,
      expected: 'threads per cm, or threadsPerInch',
      received: 'nothing',
    });
    return null;
  }
  const row = values.threadUm === undefined ? nearestMesh(threadsPerCm) : null;
  const threadUm = values.threadUm ?? row?.threadUm;
  if (threadUm === undefined) {
    const expected = `a thread diameter in µm: no usual mesh is within 3 % of ${Number(threadsPerCm.toFixed(1))}/cm`;
    addProblem(problems, { path: `${path}.threadUm`, expected, received: 'nothing' });
    return null;
  }
  const wrong = validateMeshRow({ threadsPerCm, threadUm, openingUm: values.openingUm });
  for (const { key, expected, received } of wrong) addProblem(problems, { path: `${path}.${key}`, expected, received });
  if (wrong.length > 0) return null;
  return {
    threadsPerCm,
    threadUm,
    openingUm: values.openingUm ?? nominalOpeningUm(threadsPerCm, threadUm),
    openingFrom: values.openingUm === undefined ? 'formula' : 'dataSheet',
    weave: values.weave ?? row?.weave ?? 'plain',
    ...(values.threadUm === undefined ? { threadAssumed: true } : {}),
    ...(values.stretchPercent === undefined ? {} : { stretchPercent: values.stretchPercent }),
    ...(values.squarenessDeg === undefined ? {} : { squarenessDeg: values.squarenessDeg }),
  };
}
