import { baseNameOf } from '../artwork/jobFileNames.ts';
import type { JobStore } from '../jobs/jobStore.ts';
import type { JobFile } from '../jobs/jobTypes.ts';

/** The job that films in the folder of answers are for, with the ticket of its latest revision. */
export interface AnsweredJob {
  readonly jobName: string;
  readonly ticketFile: JobFile | null;
}

/** Whom an answer is for is not clear: there is no such job, or there are several. */
export class NoSuchJob extends Error {
  override readonly name = 'NoSuchJob';
}

const mostLike = 1_000;

/** The job of a name, which may be written without its ending: that of this very name, else the only one of this base name. */
export async function answeredJob(store: JobStore, name: string): Promise<AnsweredJob> {
  const { revisions } = await store.find({ name, limit: mostLike });
  const own = revisions.filter(({ jobName }) => jobName === name);
  const like = own.length > 0 ? own : revisions.filter(({ jobName }) => baseNameOf(jobName) === name);
  if (like.length === 0) throw new NoSuchJob(`there is no job called ${name}`);
  if (like.length > 1)
    throw new NoSuchJob(
      `several jobs are called that: ${like.map(({ jobName }) => jobName).join(', ')}. Give the folder the whole name of one`,
    );
  const revision = await store.revision(like[0].revisionId);
  return { jobName: like[0].jobName, ticketFile: revision?.ticketFile ?? null };
}
