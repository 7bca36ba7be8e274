import { mkdir, mkdtemp, rm, writeFile } from 'node:fs/promises';
import { join } from 'node:path';
import type { CheckEnd, CheckOrder } from '../../src/intake/childCheck.ts';
import { realDisk } from '../../src/intake/disk.ts';
import { artOf } from '../../src/intake/jobArt.ts';
import { displayName } from '../../src/intake/jobWorker.ts';
import type { OpenedStore } from '../../src/jobs/jobStore.ts';
import type { Revision } from '../../src/jobs/jobTypes.ts';
import type { ReportJson } from '../../src/report/reportJson.ts';
import type { ShopPreview } from '../shared/shop.ts';
import { type Judge, judgeRevision, ticketTextOf } from './judgeAgain.ts';

/** Recent jobs, the shop's text given, judged with it. */
export type PreviewShop = (shopText: string, signal: AbortSignal) => Promise<ShopPreview>;

/** Checks one job with another shop's file, in a process of its own. */
export type CheckWithShop = (shopFile: string, order: CheckOrder, signal: AbortSignal) => Promise<CheckEnd>;

const recentJobs = 12;
/** Jobs whose films are measured again for one preview; of those beyond it is said that they were not. */
const mostMeasured = 3;

type PreviewedJob = ShopPreview['jobs'][number];
/** What a job comes to, or why that is not known. */
type Outcome = { readonly report: ReportJson } | { readonly why: string };

const shopFileName = 'shop.yaml';

/**
 * Judges recent jobs by the values as they would be, and tells what comes out otherwise. Where what was measured of a job
 * is not enough for it, its films are measured again.
 */
export function shopPreview(
  { jobs, blobs }: OpenedStore,
  workFolder: string,
  judge: Judge,
  check: CheckWithShop,
): PreviewShop {
  const reportOf = async ({ artifacts }: Revision): Promise<ReportJson | null> => {
    const known = artifacts.find(({ kind }) => kind === 'reportJson');
    return known === undefined
      ? null
      : (JSON.parse(Buffer.from(await blobs.read(known.sha256)).toString('utf8')) as ReportJson);
  };

  const judged = async (revision: Revision, before: ReportJson, shopText: string): Promise<Outcome> => {
    const ticket = await ticketTextOf(blobs, revision);
    // A ticket may have come within an archive.
    if (ticket?.fileName !== (before.job.ticketFile ?? undefined)) return { why: 'Its ticket is not at hand.' };
    const shop = { fileName: shopFileName, text: shopText };
    const again = await judgeRevision(judge, blobs, revision, { ticket, shop });
    return again.kind === 'judged' ? again : { why: again.reasons.join(' ') };
  };

  const measured = async (revision: Revision, shopText: string, signal: AbortSignal): Promise<Outcome> => {
    const work = await mkdtemp(join(workFolder, 'preview-'));
    try {
      const shopFile = join(work, shopFileName);
      await writeFile(shopFile, shopText);
      const out = join(work, 'report');
      await mkdir(out);
      const claim = { ...revision, placeAt: revision.place.at };
      const { art, ticketFile, refusal } = await artOf(realDisk, blobs, claim, work);
      if (refusal !== null) return { why: refusal };
      const jobName = displayName(revision.jobName);
      const end = await check(shopFile, { jobName, art, ticketFile, out, threads: 1, withoutPlates: true }, signal);
      if (end.kind === 'answered') return { report: end.report };
      return { why: end.kind === 'stopped' ? 'It was stopped.' : end.reason };
    } finally {
      await rm(work, { recursive: true, force: true });
    }
  };

  return async (shopText, signal) => {
    await mkdir(workFolder, { recursive: true, mode: 0o700 });
    const { revisions } = await jobs.find({ states: ['checked'], limit: recentJobs });
    const previewed: PreviewedJob[] = [];
    let measuredCount = 0;
    for (const { revisionId } of revisions) {
      const revision = await jobs.revision(revisionId);
      if (revision === null || signal.aborted) continue;
      const { jobId, jobName } = revision;
      const facts = { jobId, jobName, revision: revision.revision, before: revision.verdict! };
      const fault = (error: Error): Outcome => ({ why: error.message });
      const before = await reportOf(revision).catch(() => null);
      let outcome: Outcome =
        before === null ? { why: 'Its report is not at hand.' } : await judged(revision, before, shopText).catch(fault);
      const judgedAgain = 'report' in outcome;
      if (!judgedAgain && measuredCount < mostMeasured) {
        measuredCount++;
        outcome = await measured(revision, shopText, signal).catch(fault);
      }
      previewed.push(
        'report' in outcome
          ? {
              ...facts,
              judgedAgain,
              after: outcome.report.verdict,
              why: null,
              checks: otherwise(before, outcome.report),
            }
          : { ...facts, judgedAgain, after: null, why: outcome.why, checks: [] },
      );
    }
    return { jobs: previewed };
  };
}

function otherwise(before: ReportJson | null, after: ReportJson): PreviewedJob['checks'] {
  return (before?.checks ?? []).flatMap(({ id, outcome }) => {
    const now = after.checks.find((check) => check.id === id)?.outcome;
    return now === undefined || now === outcome ? [] : [{ checkId: id, before: outcome, after: now }];
  });
}
