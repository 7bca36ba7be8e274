import { byFileName } from '../../../src/artwork/jobFileNames.ts';
import { asCustomer } from '../../../src/jobs/customerTypes.ts';
import type { OpenedStore } from '../../../src/jobs/jobStore.ts';
import type { JobFile, Revision, TakenIn } from '../../../src/jobs/jobTypes.ts';
import { inTurn, keptFile } from '../bringJobs.ts';
import { Refused } from '../refused.ts';
import type { Uploads } from '../uploads.ts';

/**
 * Makes the next revision of what a customer has sent, by the ticket that holds for the job. Of a job of several files
 * those stay in whose place none came, if every new file takes the place of one; else the new files are all there is.
 */
export async function takeFiles(
  store: OpenedStore,
  uploads: Uploads,
  latest: Revision,
  { ids, name }: { readonly ids: readonly string[]; readonly name: string },
): Promise<TakenIn> {
  const { jobs, blobs } = store;
  const sent = await inTurn(ids, (id) => uploads.finished(id));
  if (new Set(sent.map((one) => one.name.toLowerCase())).size !== sent.length)
    throw new Refused(400, 'no-art', 'Two files have the same name.', 'Give each a name of its own.');
  const placeOf = (file: { readonly name: string }) =>
    latest.files.find((old) => lastPart(old.name).toLowerCase() === file.name.toLowerCase());
  const replaced = sent.map(placeOf);
  const stays = replaced.every((old) => old !== undefined) ? latest.files.filter((old) => !replaced.includes(old)) : [];
  const fresh = await inTurn(sent, async (file): Promise<JobFile> => {
    const put = await blobs.putFile(file.path);
    return { name: placeOf(file)?.name ?? file.name, ...put, storedPath: blobs.pathOf(put.sha256) };
  });
  const kept = await inTurn(stays, (file) => keptFile(store, latest, file));
  const taken = await jobs.takeIn({
    jobName: latest.jobName,
    customer: null,
    source: { kind: 'page', detail: `from the customer: ${sent.map((file) => file.name).join(', ')}`.slice(0, 2_000) },
    files: [...fresh, ...kept].sort((a, b) => byFileName(a.name, b.name)),
    ticketFile: latest.ticketFile === null ? null : await keptFile(store, latest, latest.ticketFile),
    arrivedAt: Date.now(),
    by: asCustomer(name),
    placeAt: null,
  });
  for (const id of ids) await uploads.remove(id);
  return taken;
}

function lastPart(name: string): string {
  return name.slice(name.lastIndexOf('/') + 1);
}
