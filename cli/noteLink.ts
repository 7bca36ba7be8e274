import { createHash } from 'node:crypto';
import { readFile } from 'node:fs/promises';
import type { CustomerNote } from '../src/fixNotes/customerNote.ts';
import { withLink } from '../src/fixNotes/noteLink.ts';
import { customerUrl, newCustomerLink } from '../src/jobs/customerToken.ts';
import type { JobStore } from '../src/jobs/jobStore.ts';
import { customerPageSettings } from './customerPageSettings.ts';
import { withStore } from './jobs/openStore.ts';
import { UsageError } from './usageError.ts';

export interface NoteLinkWish {
  /** False: none is wanted. */
  readonly link?: boolean;
  readonly store: string;
  readonly shop?: string;
}

const dayMs = 86_400_000;

/**
 * The note with a new link to the customer's page, where the shop's file says that there is one and the store knows the
 * job; else the note as it was, and why on standard error. `linkId`: to close it again when the note is not used.
 */
export async function linkedNote(
  note: CustomerNote,
  about: string,
  wish: NoteLinkWish,
): Promise<{ readonly note: CustomerNote; readonly linkId: number | null }> {
  const { address, validDays } = await customerPageSettings(wish.shop);
  if (wish.link === false || address === null) return { note, linkId: null };
  const without = (why: string) => {
    process.stderr.write(`No link for the customer is put in: ${why}\n`);
    return { note, linkId: null };
  };
  try {
    return await withStore(wish, 'records', async ({ jobs }) => {
      const jobId = await jobOf(jobs, about);
      if (jobId === null)
        return without('the job store does not have this report. Name the job instead of its report.');
      const { language, units } = note;
      const by = process.env.USER || process.env.LOGNAME || 'command line';
      const { link, token } = await newCustomerLink(jobs, {
        ...{ jobId, by, validForMs: validDays * dayMs, language, units },
      });
      const openUntil = new Date(link.expiresAt).toISOString().slice(0, 10);
      return { note: withLink(note, customerUrl(address, token), openUntil), linkId: link.id };
    });
  } catch (error) {
    if (error instanceof UsageError) return without(error.message);
    throw error;
  }
}

/** By the bytes of the report, or by name. */
async function jobOf(jobs: JobStore, about: string): Promise<number | null> {
  const report = await readFile(about).catch(() => null);
  if (report === null) return (await jobs.job(about))?.jobId ?? null;
  const sha256 = createHash('sha256').update(report).digest('hex');
  return (await jobs.revisionOfArtifact(sha256))?.jobId ?? null;
}
