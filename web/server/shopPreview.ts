import { mkdir, mkdtemp, rm, writeFile } from 'node:fs/promises';
import { join } from 'node:path';
import type { CheckEnd, CheckOrder } from '../../src/intake/childCheck.ts';
import { realDisk } from '../../src/intake/disk.ts';
import { artOf } from '../../src/intake/jobArt.ts';
import type { OpenedStore } from '../../src/jobs/jobStore.ts';
import type { Revision } from '../../src/jobs/jobTypes.ts';
import type { ReportJson } from '../../src/report/reportJson.ts';
import type { ShopPreview } from '../shared/shop.ts';

/** Recent jobs, the shop's text given, judged with it. */
export type PreviewShop = (shopText: string, signal: AbortSignal) => Promise<ShopPreview>;

/** Checks one job with another shop's file, in a process of its own. */
export type CheckWithShop = (shopFile: string, order: CheckOrder, signal: AbortSignal) => Promise<CheckEnd>;

const recentJobs = 5;
type PreviewedJob = ShopPreview['jobs'][number];

/** Checks the films of recent jobs again with the values as they would be, and tells what comes out otherwise. */
export function shopPreview({ jobs, blobs }: OpenedStore, workFolder: string, check: CheckWithShop): PreviewShop {
  const previewOne = async (revision: Revision, shopText: string, signal: AbortSignal): Promise<PreviewedJob> => {
    const { jobId, jobName } = revision;
    const facts = { jobId, jobName, revision: revision.revision, before: revision.verdict! };
    const work = await mkdtemp(join(workFolder, 'preview-'));
    try {
      const shopFile = join(work, 'shop.yaml');
      await writeFile(shopFile, shopText);
      const out = join(work, 'report');
      await mkdir(out);
      const claim = { ...revision, placeAt: revision.place.at };
      const { art, ticketFile, refusal } = await artOf(realDisk, blobs, claim, work);
      if (refusal !== null) return { ...facts, after: null, why: refusal, checks: [] };
      const order = { jobName, art, ticketFile, out, threads: 1, withoutPlates: true };
      const end = await check(shopFile, order, signal);
      if (end.kind !== 'answered')
        return { ...facts, after: null, why: end.kind === 'stopped' ? 'It was stopped.' : end.reason, checks: [] };
      const known = revision.artifacts.find(({ kind }) => kind === 'reportJson');
      const before =
        known === undefined
          ? null
          : (JSON.parse(Buffer.from(await blobs.read(known.sha256)).toString('utf8')) as ReportJson);
      return { ...facts, after: end.report.verdict, why: null, checks: otherwise(before, end.report) };
    } catch (error) {
      return { ...facts, after: null, why: (error as Error).message, checks: [] };
    } finally {
      await rm(work, { recursive: true, force: true });
    }
  };

  return async (shopText, signal) => {
    await mkdir(workFolder, { recursive: true, mode: 0o700 });
    const { revisions } = await jobs.find({ states: ['checked'], limit: recentJobs });
    const previewed: PreviewedJob[] = [];
    for (const { revisionId } of revisions) {
      const revision = await jobs.revision(revisionId);
      if (revision === null || signal.aborted) continue;
      previewed.push(await previewOne(revision, shopText, signal));
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
