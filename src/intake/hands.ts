import type { PendingMove } from '../jobs/jobTypes.ts';
import { verdictWords } from '../report/words.ts';
import type { EndedJob, WorkerTools } from './jobWorker.ts';
import { JobWorker } from './jobWorker.ts';
import { carryOutMove } from './outcomeMove.ts';
import { freeFolderFor } from './outcomes.ts';
import { OnceEach } from './say.ts';

const longestMovePauseMs = 5_000;

/**
 * The hands of this process: each takes one job at a time from the store. Which job a hand is given, so that large ones
 * do not keep small ones waiting, is for the store to say.
 */
export class Hands {
  private readonly tools: WorkerTools;
  private readonly pollMs: number;
  private readonly stopping = new AbortController();
  private readonly halting = new AbortController();
  private readonly running: Promise<void>[] = [];
  private readonly once: OnceEach;
  private wake: () => void = () => undefined;
  private woken: Promise<void> = Promise.resolve();
  busy = 0;

  constructor(tools: WorkerTools, pollMs: number) {
    this.tools = tools;
    this.pollMs = pollMs;
    this.once = new OnceEach((line) => tools.say.trouble(line));
    this.rearm();
  }

  start(workerPrefix: string, count: number): void {
    for (let n = 1; n <= count; n++) this.running.push(this.work(new JobWorker(this.tools, `${workerPrefix}${n}`)));
    this.running.push(this.moveOn(`${workerPrefix}moves`));
  }

  /** Carries out at once what workers had begun that are known to be gone. */
  async takeUpMoves(workerIds: readonly string[]): Promise<void> {
    const { store, moveLeaseMs } = this.tools;
    for (const workerId of workerIds) {
      for (;;) {
        const move = await this.reached(() => store.claimMove({ workerId, leaseMs: moveLeaseMs }));
        if (move == null || !(await this.carryOut(move))) break;
      }
    }
  }

  /** There may be something to do at once. */
  nudge(): void {
    this.wake();
    this.rearm();
  }

  /** Takes nothing new; what is being checked is finished, or handed back after `graceMs`. */
  async stop(graceMs: number): Promise<void> {
    this.stopping.abort();
    this.nudge();
    const timer = setTimeout(() => this.halt(), graceMs);
    await Promise.all(this.running);
    clearTimeout(timer);
  }

  /** Hands back at once what is being checked. */
  halt(): void {
    this.halting.abort();
  }

  private rearm(): void {
    this.woken = new Promise((resolve) => {
      this.wake = resolve;
    });
  }

  private async work(worker: JobWorker): Promise<void> {
    const { store, leaseMs, spool, outcomes } = this.tools;
    // What came through another folder is for those who can put it away there.
    const placesUnder = [spool.jobs, outcomes].map((folder) => `${folder}/`);
    while (!this.stopping.signal.aborted) {
      const claim = await this.reached(() => store.claim({ workerId: worker.workerId, leaseMs, placesUnder }));
      if (claim == null) {
        await this.pause(this.pollMs);
        continue;
      }
      this.busy += 1;
      await worker.do(claim, this.halting.signal);
      this.busy -= 1;
    }
  }

  /** Moves that a crash or a full disk left undone, and jobs that the store gave up. */
  private async moveOn(workerId: string): Promise<void> {
    const wish = { workerId, leaseMs: this.tools.moveLeaseMs };
    while (!this.stopping.signal.aborted) {
      const move = await this.reached(() => this.tools.store.claimMove(wish));
      if (move != null) await this.carryOut(move);
      await this.reached(() => this.moveSetAside(wish));
      await this.pause(Math.min(longestMovePauseMs, 20 * this.pollMs));
    }
  }

  private async carryOut(move: PendingMove): Promise<boolean> {
    const about = `move ${move.revisionId}`;
    try {
      const folder = await carryOutMove(this.tools, move);
      if (folder !== null && this.once.settled(about))
        this.tools.say.trouble(`${move.jobName}, revision ${move.revision} is in its place now: ${folder}`);
      return folder !== null;
    } catch (error) {
      const why = `could not be put into ${move.to} (${(error as Error).message})`;
      this.once.tell(about, `${move.jobName}, revision ${move.revision}: ${why}. It is tried again.`);
      return false;
    }
  }

  private async moveSetAside(wish: { workerId: string; leaseMs: number }): Promise<void> {
    const { store, spool, disk, outcomes, say, clock, notices } = this.tools;
    const { revisions } = await store.find({ states: ['setAside'], allRevisions: true, limit: 1000 });
    for (const { revisionId, jobName, revision, reason } of revisions) {
      const place = (await store.revision(revisionId))?.place;
      if (place == null || place.movingTo !== null || !place.at?.startsWith(`${spool.jobs}/`)) continue;
      const folder = await freeFolderFor(disk, outcomes, 'couldNotRun', jobName, revision);
      const move = await store.planMove(revisionId, folder, wish);
      if (move === null) continue;
      const why = reason ?? 'It was tried too often without an answer';
      say.job(`${verdictWords.couldNotRun}: ${jobName}, revision ${revision}. ${why.replace(/\.$/, '')}.`, {
        jobName,
        revision,
      });
      const ended: EndedJob = {
        ...{ jobName, revision, revisionId, folder, reason: why },
        ...{ verdict: 'couldNotRun', at: clock.date().getTime() },
      };
      await store.addEffects(notices(ended));
      await carryOutMove(this.tools, move);
    }
  }

  private async reached<T>(call: () => Promise<T>): Promise<T | undefined> {
    try {
      const answer = await call();
      if (this.once.settled('store')) this.tools.say.trouble('The job store can be used again.');
      return answer;
    } catch (error) {
      this.once.tell('store', `The job store cannot be used now (${(error as Error).message}). It is tried again.`);
      return undefined;
    }
  }

  private async pause(ms: number): Promise<void> {
    let timer: NodeJS.Timeout | undefined;
    const waited = new Promise<void>((resolve) => {
      timer = setTimeout(resolve, ms);
    });
    await Promise.race([waited, this.woken]);
    clearTimeout(timer);
  }
}
