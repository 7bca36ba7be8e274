import { watch as watchEvents } from 'node:fs';
import type { Say } from './say.ts';
import { OnceEach } from './say.ts';
import type { Sweep } from './watchedFolder.ts';

/** A sweep is followed by a pause of so many times its own length, so that it takes less than a hundredth of a core. */
const restFactor = 150;
const longestPauseMs = 60_000;
/** Events come in swarms. */
const hintPauseMs = 200;
const slowSweepMs = 30_000;

/**
 * Sweeps a folder again and again. Events of the file system only bring the next sweep forward: they are lost when there
 * are many, and never come from other machines.
 */
export class WatchLoop {
  private readonly sweep: () => Promise<Sweep>;
  private readonly folder: string;
  private readonly everyMs: number;
  private readonly once: OnceEach;
  private stopped = false;
  private hint: () => void = () => undefined;
  private running: Promise<void> = Promise.resolve();
  private lastSweepMs = performance.now();
  /** Null before the first sweep. */
  last: Sweep | null = null;

  constructor(folder: string, sweep: () => Promise<Sweep>, everyMs: number, say: Say) {
    this.folder = folder;
    this.sweep = sweep;
    this.everyMs = everyMs;
    this.once = new OnceEach((line) => say.trouble(line));
  }

  start(): void {
    this.running = this.run();
  }

  async stop(): Promise<void> {
    this.stopped = true;
    this.hint();
    await this.running;
  }

  secondsSinceSweep(): number {
    return (performance.now() - this.lastSweepMs) / 1000;
  }

  private async run(): Promise<void> {
    let close = this.listen();
    while (!this.stopped) {
      const startedMs = performance.now();
      const slow = setTimeout(
        () => this.once.tell('slow', `${this.folder} has not answered for ${slowSweepMs / 1000} s. I wait for it.`),
        slowSweepMs,
      );
      const wasThere = this.last?.there ?? true;
      this.last = await this.sweep();
      clearTimeout(slow);
      this.once.settled('slow');
      this.lastSweepMs = performance.now();
      // What was listened to went away with the share.
      if (this.last.there && !wasThere) {
        close();
        close = this.listen();
      }
      const tookMs = this.lastSweepMs - startedMs;
      const restMs = this.last.settling > 0 ? this.everyMs : Math.min(longestPauseMs, tookMs * restFactor);
      await this.pause(Math.max(this.everyMs, restMs));
    }
    close();
  }

  private listen(): () => void {
    try {
      const watcher = watchEvents(this.folder, { persistent: false }, () => this.hint());
      watcher.on('error', () => watcher.close());
      return () => watcher.close();
    } catch {
      return () => undefined;
    }
  }

  private async pause(ms: number): Promise<void> {
    if (this.stopped) return;
    await new Promise<void>((resolve) => {
      let timer = setTimeout(resolve, ms);
      this.hint = () => {
        this.hint = () => undefined;
        clearTimeout(timer);
        timer = setTimeout(resolve, this.stopped ? 0 : Math.min(ms, hintPauseMs));
      };
    });
    this.hint = () => undefined;
  }
}
