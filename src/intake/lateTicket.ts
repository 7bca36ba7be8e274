import { baseNameOf } from '../artwork/jobFileNames.ts';
import type { JobStore } from '../jobs/jobStore.ts';
import type { Drop } from './dropNames.ts';
import { jobKeyOf, ticketIsFor } from './dropNames.ts';
import type { EarlierArt } from './takeIn.ts';

/** The art that a ticket is for which came by itself, or in a folder by itself: that of the job of its name that arrived last; null for none. */
export async function artFor(store: JobStore, { art, ticketName }: Drop): Promise<EarlierArt | null> {
  const isFor = (jobName: string) =>
    art === null
      ? ticketIsFor(ticketName!, jobName)
      : jobName === jobKeyOf(art) || ticketIsFor(`${art.name}.yaml`, jobName);
  const sought = art === null ? baseNameOf(baseNameOf(ticketName!)) : art.name;
  let after: string | undefined;
  do {
    const page = await store.find({ name: sought, limit: 1000, after });
    const found = page.revisions.find(({ jobName }) => isFor(jobName));
    if (found !== undefined) {
      const revision = await store.revision(found.revisionId);
      return revision === null ? null : { jobName: found.jobName, revisionId: found.revisionId, files: revision.files };
    }
    after = page.next ?? undefined;
  } while (after !== undefined);
  return null;
}
