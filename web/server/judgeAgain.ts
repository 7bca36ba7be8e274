import { readFile } from 'node:fs/promises';
import { basename } from 'node:path';
import type { JudgedAgain } from '../../src/inspect/measuredFacts.ts';
import { displayName } from '../../src/intake/jobWorker.ts';
import { factsAmong } from '../../src/intake/measuredBefore.ts';
import { ticketInArchive } from '../../src/intake/ticketInArchive.ts';
import type { BlobStore } from '../../src/jobs/jobStore.ts';
import type { JobFile, Revision } from '../../src/jobs/jobTypes.ts';
import type { TicketText } from '../../src/ticket/resolveTicket.ts';

/** What is judged, for whoever does it away from the thread that answers requests. */
export interface JudgeOrder {
  /** File with what was measured; see `src/inspect/measuredFacts.ts`. */
  readonly factsFile: string;
  readonly jobName: string;
  readonly ticket: TicketText | null;
  readonly shop: TicketText | null;
}

/** @throws WrongTicketError */
export type Judge = (order: JudgeOrder) => Promise<JudgedAgain>;

/** Judges a revision by a ticket and a shop from what was measured of it. */
export async function judgeRevision(
  judge: Judge,
  blobs: BlobStore,
  { jobName, artifacts }: Pick<Revision, 'jobName' | 'artifacts'>,
  texts: Pick<JudgeOrder, 'ticket' | 'shop'>,
): Promise<JudgedAgain> {
  const facts = factsAmong(artifacts);
  if (facts === null) return { kind: 'notMeasured', reasons: ['What was measured of these films was not kept.'] };
  return judge({ factsFile: blobs.pathOf(facts.sha256), jobName: displayName(jobName), ...texts });
}

/**
 * The ticket a revision came with, also in an archive, as it is written; null when it has none, or it no longer lies
 * where it did.
 */
export async function ticketTextOf(
  blobs: BlobStore,
  { source, ticketFile, files }: Pick<Revision, 'source' | 'ticketFile' | 'files'>,
): Promise<TicketText | null> {
  const pathOf = (file: JobFile) => (source.kind === 'page' ? blobs.pathOf(file.sha256) : file.storedPath);
  if (ticketFile === null) return files.length === 1 ? ticketInArchive(pathOf(files[0])) : null;
  const path = pathOf(ticketFile);
  const text = await readFile(path, 'utf8').catch(() => null);
  return text === null ? null : { fileName: basename(ticketFile.name), text };
}
