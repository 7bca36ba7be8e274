import { createHash } from 'node:crypto';
import { readFile } from 'node:fs/promises';
import { join } from 'node:path';
import { type ByteSource, byteSourceOf, readAll } from '../src/artwork/byteSource.ts';
import type { KeptInspection } from '../src/inspect/inspectAgain.ts';
import { factsFileName, unpackFacts } from '../src/inspect/measuredFacts.ts';
import type { KeptPlates } from '../src/plateArchive/keptPlates.ts';
import { PlateArchive } from '../src/plateArchive/openArchive.ts';

/** What lies in the folder of an earlier check, or why it is of no use here. */
export type FoundInspection =
  | { readonly kind: 'kept'; readonly inspection: KeptInspection }
  | { readonly kind: 'notMeasured'; readonly reasons: readonly string[] };

/** What an earlier check kept in its folder `plates`, if it was one of these very files by this very program. */
export async function keptInspection(
  folder: string,
  program: string,
  sources: readonly ByteSource[],
  dpi: number | undefined,
): Promise<FoundInspection> {
  const nothing = (reason: string): FoundInspection => ({ kind: 'notMeasured', reasons: [reason] });
  try {
    const packedFacts = await readFile(join(folder, factsFileName));
    const facts = unpackFacts(packedFacts, program);
    if (facts === null) return nothing('They were measured by another version of the program.');
    const files = await Promise.all(sources.map(hashed));
    if (JSON.stringify(files) !== JSON.stringify(facts.sourceFiles) || facts.dpi !== (dpi ?? null))
      return nothing('Other films were measured.');
    const list = JSON.parse(await readFile(join(folder, 'plates.json'), 'utf8')) as KeptPlates;
    const plates: [
      string,
      { archive: PlateArchive; packed: { facts: KeptPlates['plates'][number]; bytes: Buffer } },
    ][] = [];
    for (const plate of list.plates) {
      const bytes = await readFile(join(folder, plate.file));
      const archive = await PlateArchive.open(plate, byteSourceOf(plate.file, bytes));
      plates.push([plate.plateId, { archive, packed: { facts: plate, bytes } }]);
    }
    return { kind: 'kept', inspection: { facts, packedFacts, plates: new Map(plates) } };
  } catch (error) {
    return nothing(`What was measured could not be read: ${(error as Error).message}.`);
  }
}

async function hashed(source: ByteSource): Promise<{ name: string; sizeBytes: number; sha256: string }> {
  const sha256 = createHash('sha256')
    .update(await readAll(source))
    .digest('hex');
  return { name: source.name, sizeBytes: source.sizeBytes, sha256 };
}
