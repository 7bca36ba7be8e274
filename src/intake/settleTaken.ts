import { join } from 'node:path';
import { writeWhole } from './disk.ts';
import { moveFolder } from './moveFolder.ts';
import type { SourceMove } from './moveSource.ts';
import { moveSource } from './moveSource.ts';
import { againFolder, freeName } from './outcomes.ts';
import type { Say } from './say.ts';
import type { Accepted, IntakeTools } from './takeIn.ts';

/**
 * What follows once a job outlasts a power cut: it is said, the originals are moved out of the watched folder, and what
 * was dropped a second time is put aside. May be done again after a crash at any point.
 */
export async function settleTaken(
  { disk, spool, store, clock }: IntakeTools,
  { manifest, place, taken }: Accepted,
  outcomes: string,
  say: Say,
): Promise<SourceMove> {
  const known = taken.kind === 'alreadyKnown' ? await store.revision(taken.revisionId) : null;
  const again = known !== null && known.place.at !== place.keep && known.place.movingTo === null;
  const files = manifest.art.length === 1 ? '' : `, ${manifest.art.length} files`;
  if (!again)
    say.job(
      `${manifest.jobName}: taken in, revision ${taken.revision}${files}${manifest.ticket === null ? '' : ', with its ticket'}.`,
      {
        job: manifest.jobName,
        revision: taken.revision,
        art: manifest.art.map(({ path, sha256, sizeBytes }) => ({ path, sha256, sizeBytes })),
      },
    );
  const moved = await moveSource(disk, spool, place, manifest);
  if (moved.kind === 'replaced')
    say.trouble(
      `${manifest.jobName}: another file came under this name meanwhile. It stays, and will be the next revision.`,
    );
  if (moved.kind === 'stuck')
    say.trouble(
      `${manifest.jobName}: may not be moved out of the folder (${moved.reason}). It is checked all the same.`,
    );
  if (!again) {
    await writeWhole(disk, place.settled, JSON.stringify(moved));
    return moved;
  }
  // What still lies in the folder is not ours to keep; a copy of it is not needed.
  let gone = false;
  for (const name of manifest.names) gone ||= (await disk.stat(join(spool.root, name))) === null;
  if (gone) {
    const date = clock.date().toISOString().slice(0, 19).replace(/:/g, '.').replace('T', ' ');
    const to = await freeName(disk, join(outcomes, againFolder), `${manifest.jobName}, ${date}`);
    await moveFolder(disk, place.keep, to);
    say.job(
      `${manifest.jobName}: byte for byte the same as revision ${taken.revision}, so not checked again. It is in "${againFolder}".`,
    );
  }
  await disk.remove(place.folder);
  return moved;
}
