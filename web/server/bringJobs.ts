import { baseNameOf, byFileName, isFolderTicket, mayBeTicket } from '../../src/artwork/jobFileNames.ts';
import type { OpenedStore } from '../../src/jobs/jobStore.ts';
import type { JobFile, Revision, TakenIn } from '../../src/jobs/jobTypes.ts';
import { notThere, Refused } from './refused.ts';
import type { Uploads } from './uploads.ts';

export interface BroughtJob {
  readonly uploadIds: readonly string[];
  readonly jobId: number | undefined;
  readonly jobName: string | undefined;
  readonly customer: string | undefined;
  /** Sound; as text, since that is what a check reads. */
  readonly ticketText: string | null;
  readonly by: string;
}

/**
 * Makes a job, or the next revision of one, of files that came through the page. The files are kept with the reports, so
 * that every machine that checks can read them and a new ticket needs them no second time.
 */
export async function bringJob(store: OpenedStore, uploads: Uploads, job: BroughtJob): Promise<TakenIn> {
  const { jobs, blobs } = store;
  if (new Set(job.uploadIds).size !== job.uploadIds.length) throw wrongFiles('A file is named twice.');
  const brought = await Promise.all(job.uploadIds.map((id) => uploads.finished(id)));
  brought.sort((a, b) => byFileName(a.name, b.name));
  const folder = commonFolder(brought.map(({ name }) => name));
  const files = brought.map(({ name, path }) => ({ name: name.slice(folder.length), path }));
  const art = files.filter(({ name }) => !mayBeTicket(lastPart(name)));
  const tickets = files.filter(({ name }) => mayBeTicket(lastPart(name)));
  if (art.length === 0) throw wrongFiles('There is no film among the files.');
  if (new Set(files.map(({ name }) => name)).size !== files.length) throw wrongFiles('Two files have the same name.');
  const jobName = await nameOf(store, job, folder, art);
  const kept = async ({ name, path }: { name: string; path: string }): Promise<JobFile> => {
    const put = await blobs.putFile(path);
    return { name, ...put, storedPath: blobs.pathOf(put.sha256) };
  };
  const taken = await jobs.takeIn({
    jobName,
    customer: job.customer ?? null,
    source: {
      kind: 'page',
      detail: brought
        .map(({ name }) => name)
        .join(', ')
        .slice(0, 2_000),
    },
    files: await inTurn(art, kept),
    ticketFile: job.ticketText === null ? await ticketAmong(tickets, kept) : await ticketOf(store, job.ticketText),
    arrivedAt: Date.now(),
    by: job.by,
    placeAt: null,
  });
  for (const id of job.uploadIds) await uploads.remove(id);
  return taken;
}

/** The films of a revision with another ticket, as the next revision. */
export async function withTicket(
  store: OpenedStore,
  revision: Revision,
  ticketText: string,
  by: string,
): Promise<TakenIn> {
  return store.jobs.takeIn({
    jobName: revision.jobName,
    customer: null,
    source: { kind: 'page', detail: `ticket for the films of revision ${revision.revision}` },
    files: await inTurn(revision.files, (file) => keptFile(store, revision, file)),
    ticketFile: await ticketOf(store, ticketText),
    arrivedAt: Date.now(),
    by,
    placeAt: null,
  });
}

/** A file of a revision, kept with the reports from now on if it was not before. */
export async function keptFile({ blobs }: OpenedStore, revision: Revision, file: JobFile): Promise<JobFile> {
  if (revision.source.kind === 'page') return file;
  const put = await blobs.putFile(file.storedPath).catch(() => null);
  if (put?.sha256 !== file.sha256)
    throw new Refused(
      409,
      'films-gone',
      `${file.name} no longer lies where it was put, or was changed there.`,
      'Bring the films again, with the new ticket.',
    );
  return { ...file, storedPath: blobs.pathOf(put.sha256) };
}

async function ticketOf({ blobs }: OpenedStore, text: string): Promise<JobFile> {
  const put = await blobs.put(Buffer.from(text));
  return { name: 'ticket.json', ...put, storedPath: blobs.pathOf(put.sha256) };
}

async function ticketAmong<File extends { name: string }>(
  tickets: readonly File[],
  kept: (file: File) => Promise<JobFile>,
): Promise<JobFile | null> {
  if (tickets.length === 0) return null;
  const named = tickets.filter(({ name }) => isFolderTicket(lastPart(name)));
  const fitting = named.length > 0 ? named : tickets;
  if (fitting.length > 1) throw wrongFiles('There are several tickets among the files.');
  return kept(fitting[0]);
}

async function nameOf(
  { jobs }: OpenedStore,
  { jobId, jobName }: BroughtJob,
  folder: string,
  art: readonly { readonly name: string }[],
): Promise<string> {
  if (jobId !== undefined) {
    const job = await jobs.job(jobId);
    if (job === null) throw notThere('job');
    return job.jobName;
  }
  const [first] = art;
  const ofFile = /\.zip$/i.test(first.name) ? baseNameOf(first.name) : first.name;
  return jobName ?? (folder === '' ? ofFile : folder.split('/')[0]);
}

/** "festival/" of festival/coral.tif and festival/back/night.tif; empty when the files lie in no folder together. */
function commonFolder(names: readonly string[]): string {
  const folder = /^[^/]+\//.exec(names[0] ?? '')?.[0] ?? '';
  return names.every((name) => name.startsWith(folder)) ? folder : '';
}

/** One after the other: all at once would read all of them at once. */
export async function inTurn<From, To>(items: readonly From[], work: (item: From) => Promise<To>): Promise<To[]> {
  const done: To[] = [];
  for (const item of items) done.push(await work(item));
  return done;
}

function lastPart(name: string): string {
  return name.slice(name.lastIndexOf('/') + 1);
}

function wrongFiles(message: string): Refused {
  return new Refused(400, 'wrong-files', message, 'Choose the films of one job, and its ticket if there is one.');
}
