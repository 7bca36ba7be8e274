import type { JobStore } from '../jobs/jobStore.ts';
import type { EffectClaim } from '../jobs/jobTypes.ts';
import type { Clock } from './clock.ts';
import { forgetNoticeCommand } from './noticeCommand.ts';
import type { NoticeTargets } from './notices.ts';
import { deliver, noticeKinds } from './notices.ts';
import type { Say } from './say.ts';

export interface NotifierOptions {
  readonly targets: NoticeTargets;
  readonly workerId: string;
  /** Where commands leave word that they ended. */
  readonly toldFolder: string;
  readonly pollMs: number;
  readonly firstPauseMs: number;
  readonly mostTries: number;
}

const leaseMs = 120_000;
const longestPauseMs = 3_600_000;

/**
 * Carries the notices out of the store to whom they are for, one after the other. Each is told at least once; a second
 * time only where it is not known whether a webhook took the first, and then with the same idempotency key.
 */
export class Notifier {
  private readonly store: JobStore;
  private readonly clock: Clock;
  private readonly say: Say;
  private readonly options: NotifierOptions;
  private readonly stopping = new AbortController();
  private running: Promise<void> = Promise.resolve();

  constructor(store: JobStore, clock: Clock, say: Say, options: NotifierOptions) {
    this.store = store;
    this.clock = clock;
    this.say = say;
    this.options = options;
  }

  start(): void {
    const { command, webhook } = this.options.targets;
    if (command !== null || webhook !== null) this.running = this.run();
  }

  async stop(): Promise<void> {
    this.stopping.abort();
    await this.running;
  }

  private async run(): Promise<void> {
    const { targets, workerId, pollMs } = this.options;
    const kinds = noticeKinds.filter(
      (kind) => (kind === 'notice.command' ? targets.command : targets.webhook) !== null,
    );
    while (!this.stopping.signal.aborted) {
      const claim = await this.store.claimEffect({ workerId, leaseMs, kinds }).catch(() => null);
      if (claim !== null) await this.tell(claim).catch(() => undefined);
      else await this.pause(pollMs);
    }
  }

  private async tell(claim: EffectClaim): Promise<void> {
    const { targets, toldFolder, firstPauseMs, mostTries } = this.options;
    try {
      await deliver(targets, claim, toldFolder, this.clock.date());
    } catch (error) {
      const tries = claim.failuresBefore + 1;
      const retryMs = tries >= mostTries ? null : Math.min(longestPauseMs, firstPauseMs * 2 ** (tries - 1));
      const { message } = error as Error;
      await this.store.effectFailed(claim, message, retryMs);
      if (retryMs === null) await forgetNoticeCommand(toldFolder, claim.key);
      if (tries === 1 || retryMs === null)
        this.say.trouble(
          `The notice ${claim.key} did not get through (${message}). ${retryMs === null ? 'It is given up.' : 'It is tried again.'}`,
        );
      return;
    }
    if (await this.store.effectDone(claim)) await forgetNoticeCommand(toldFolder, claim.key);
  }

  private pause(ms: number): Promise<void> {
    return new Promise((resolve) => {
      const timer = setTimeout(done, ms);
      const { signal } = this.stopping;
      function done() {
        clearTimeout(timer);
        signal.removeEventListener('abort', done);
        resolve();
      }
      signal.addEventListener('abort', done);
    });
  }
}
