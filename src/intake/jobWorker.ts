import { join } from 'node:path';
import type { Verdict } from '../findings/outcome.ts';
import type { BlobStore, JobStore } from '../jobs/jobStore.ts';
import type { Artifact, Claim, NewEffect, WorkResult } from '../jobs/jobTypes.ts';
import { StoreUnreachableError } from '../jobs/storeErrors.ts';
import type { ReportJson } from '../report/reportJson.ts';
import { keepReport } from './artifacts.ts';
import type { CheckEnd, CheckOrder } from './childCheck.ts';
import type { Clock } from './clock.ts';
import type { Disk } from './disk.ts';
import { artOf } from './jobArt.ts';
import { layMeasuredBefore } from './measuredBefore.ts';
import { carryOutMoveSoon } from './outcomeMove.ts';
import { freeFolderFor } from './outcomes.ts';
import type { Say } from './say.ts';
import type { Spool } from './spool.ts';
import { reasonOf, verdictLine } from './verdictLine.ts';
import { workFolderOf } from './workFolders.ts';

/** A job that ended, for those who are to be told. */
export interface EndedJob {
  readonly jobName: string;
  readonly revision: number;
  readonly revisionId: number;
  readonly verdict: Verdict;
  readonly reason: string;
  /** Where the originals and the report go; null for a job that did not come through the folder. */
  readonly folder: string | null;
  /** Milliseconds since 1970. */
  readonly at: number;
}

/** Writes the report of a job that was not checked into a folder: why, and what to do. */
export type WriteNotChecked = (folder: string, jobName: string, reason: string) => Promise<ReportJson>;

export interface WorkerTools {
  readonly disk: Disk;
  readonly clock: Clock;
  readonly spool: Spool;
  readonly store: JobStore;
  readonly blobs: BlobStore;
  readonly say: Say;
  readonly outcomes: string;
  readonly leaseMs: number;
  readonly moveLeaseMs: number;
  /** A check that ended without an answer so often is not tried again. */
  readonly mostTries: number;
  readonly check: (order: CheckOrder, signal: AbortSignal) => Promise<CheckEnd>;
  readonly threads: () => number;
  readonly writeNotChecked: WriteNotChecked;
  readonly layNotChecked: (beside: string, jobName: string, reason: string) => Promise<void>;
  readonly notices: (ended: EndedJob) => NewEffect[];
  /** Told how far a check is. */
  readonly progress?: (work: WorkProgress) => void;
}

/** How far the check of a revision is; the stage as `plateglass check --stages` names it. */
export interface WorkProgress {
  readonly jobId: number;
  readonly revision: number;
  readonly stage: string;
  readonly done: number;
  readonly total: number;
}

interface Answer {
  readonly verdict: Verdict;
  readonly reason: string;
  readonly report: ReportJson;
}

/** Checks one claimed job from its films to its folder. */
export class JobWorker {
  private readonly tools: WorkerTools;
  private readonly work: string;
  readonly workerId: string;

  constructor(tools: WorkerTools, workerId: string) {
    this.tools = tools;
    this.workerId = workerId;
    this.work = join(tools.spool.work, workFolderOf(workerId));
  }

  /** `stopping` ends the check and hands the job back. */
  async do(claim: Claim, stopping: AbortSignal): Promise<void> {
    const { disk, store, clock, leaseMs, say } = this.tools;
    const { lease } = claim;
    const lost = new AbortController();
    const beat = setInterval(() => {
      store.renew(lease, leaseMs).then(
        (until) => until === null && lost.abort(),
        // Out of reach: the lease runs on, and whether it was lost shows when the job is finished.
        () => undefined,
      );
    }, leaseMs / 4);
    const startedMs = clock.monotonicMs();
    try {
      await disk.remove(this.work);
      const out = join(this.work, 'report');
      await disk.makeFolder(out);
      const answer = await this.answer(claim, out, AbortSignal.any([stopping, lost.signal]));
      if (lost.signal.aborted) return say.trouble(`${claim.jobName}: taken over by another worker.`);
      if (answer === 'stopped') {
        await store.handBack(lease, 'the worker was stopped');
        return;
      }
      if (answer === 'failed') return;
      await this.finish(claim, answer, out, (clock.monotonicMs() - startedMs) / 1000, stopping);
    } catch (error) {
      await this.fail(claim, (error as Error).message);
    } finally {
      clearInterval(beat);
      await disk.remove(this.work).catch(() => undefined);
    }
  }

  private async answer(claim: Claim, out: string, signal: AbortSignal): Promise<Answer | 'stopped' | 'failed'> {
    const { disk, store, blobs, check, threads, mostTries, progress } = this.tools;
    const { art, ticketFile, refusal } = await artOf(disk, blobs, claim, this.work);
    if (refusal !== null) return this.notChecked(claim, out, refusal);
    const { jobId, revision } = claim;
    const onStage = (stage: string, done: number, total: number) => progress?.({ jobId, revision, stage, done, total });
    // Without it the films are measured, which takes longer and comes to the same.
    const measured = await layMeasuredBefore(disk, { store, blobs }, claim, this.work).catch(() => null);
    const order = { jobName: displayName(claim.jobName), art, ticketFile, measured, out, threads: threads(), onStage };
    const end = await check(order, signal);
    if (end.kind === 'answered')
      return { verdict: end.report.verdict, reason: reasonOf(end.report), report: end.report };
    if (end.kind === 'stopped') return 'stopped';
    if (end.kind === 'broken' && end.tryAgain && claim.failuresBefore + 1 < mostTries) {
      await this.fail(claim, end.reason);
      return 'failed';
    }
    return this.notChecked(claim, out, end.reason);
  }

  private async notChecked(claim: Claim, out: string, reason: string): Promise<Answer> {
    const { disk, writeNotChecked } = this.tools;
    // Half a report may lie there.
    await disk.remove(out);
    await disk.makeFolder(out);
    const report = await writeNotChecked(out, displayName(claim.jobName), reason);
    return { verdict: 'couldNotRun', reason: reason.split('\n')[0], report };
  }

  private async finish(
    claim: Claim,
    answer: Answer,
    out: string,
    seconds: number,
    stopping: AbortSignal,
  ): Promise<void> {
    const { disk, store, blobs, say, notices, clock, moveLeaseMs } = this.tools;
    const artifacts: Artifact[] = await keepReport(disk, blobs, out);
    const folder = await this.folderFor(claim, answer.verdict);
    const { jobName, revision, lease } = claim;
    const ended: EndedJob = {
      jobName,
      revision,
      revisionId: lease.revisionId,
      verdict: answer.verdict,
      reason: answer.reason,
      folder,
      at: clock.date().getTime(),
    };
    const result: WorkResult = {
      verdict: answer.verdict,
      reason: answer.reason,
      artifacts,
      inkNames: answer.report.inks.filter(({ printed }) => printed).map(({ name }) => name),
      timings: { ...secondsOf(answer.report.timings), all: Math.round(seconds * 1000) / 1000 },
      ...(folder === null ? {} : { moveTo: { folder, leaseMs: moveLeaseMs } }),
      effects: notices(ended),
    };
    const finished = await this.untilReached(() => store.finish(lease, result), stopping);
    if (!finished.accepted) return say.trouble(`${jobName}: another worker finished it first; this answer is dropped.`);
    say.job(verdictLine(claim, answer.verdict, answer.reason, seconds), { ...ended, seconds });
    if (finished.move === null) return;
    try {
      await carryOutMoveSoon(this.tools, finished.move);
    } catch (error) {
      say.trouble(`${jobName}: could not be put into ${folder} (${(error as Error).message}). It is tried again.`);
    }
  }

  /** Only what came through the folder is moved; what stays in the folder of its verdict keeps its name. */
  private async folderFor({ placeAt, jobName, revision }: Claim, verdict: Verdict): Promise<string | null> {
    const { spool, outcomes, disk } = this.tools;
    const isOurs = placeAt !== null && [spool.jobs, outcomes].some((folder) => placeAt.startsWith(`${folder}/`));
    return isOurs ? freeFolderFor(disk, outcomes, verdict, jobName, revision) : null;
  }

  private async fail(claim: Claim, reason: string): Promise<void> {
    const { store, say } = this.tools;
    const failed = await store.fail(claim.lease, reason).catch(() => null);
    const next = failed?.outcome === 'waitingAgain' ? 'It is tried again.' : 'It is put aside.';
    if (failed !== null && failed.outcome !== 'lost') say.trouble(`${claim.jobName}: ${reason} ${next}`);
  }

  /** A result is not thrown away because the store cannot be reached; finishing twice is finishing once. */
  private async untilReached<T>(call: () => Promise<T>, stopping: AbortSignal): Promise<T> {
    for (;;) {
      try {
        return await call();
      } catch (error) {
        if (!(error instanceof StoreUnreachableError) || stopping.aborted) throw error;
        await new Promise((resolve) => setTimeout(resolve, 1_000));
      }
    }
  }
}

/** What a job is called where its ticket does not say. */
export function displayName(jobName: string): string {
  return jobName.replace(/\.\w{1,5}$/, '');
}

function secondsOf(timings: Readonly<Record<string, number>>): Record<string, number> {
  return Object.fromEntries(Object.entries(timings).map(([name, ms]) => [name.replace(/Ms$/, ''), ms / 1000]));
}
