import { createHash } from 'node:crypto';
import { mkdirSync, readdirSync, readFileSync, statSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import type { CheckEnd, CheckOrder } from '../../../src/intake/childCheck.ts';
import type { Disk } from '../../../src/intake/disk.ts';
import { realDisk } from '../../../src/intake/disk.ts';
import { prepareFolder } from '../../../src/intake/folderIdentity.ts';
import { Hands } from '../../../src/intake/hands.ts';
import type { EndedJob, WorkerTools } from '../../../src/intake/jobWorker.ts';
import { repair } from '../../../src/intake/repair.ts';
import type { SettlingRules } from '../../../src/intake/settling.ts';
import { spoolIn } from '../../../src/intake/spool.ts';
import { WatchedFolder } from '../../../src/intake/watchedFolder.ts';
import type { JobStore, OpenedStore } from '../../../src/jobs/jobStore.ts';
import type { NewEffect } from '../../../src/jobs/jobTypes.ts';
import { openJobStore } from '../../../src/jobs/openJobStore.ts';
import type { ReportJson } from '../../../src/report/reportJson.ts';

export const quickRules: SettlingRules = {
  stillMs: 3_000,
  folderStillMs: 8_000,
  unknownStillMs: 20_000,
  longMs: 600_000,
};

export interface TestIntakeOptions {
  readonly disk?: Disk;
  readonly wrapStore?: (store: JobStore) => JobStore;
  readonly rules?: SettlingRules;
  readonly markersOnly?: boolean;
  readonly outcomes?: string;
  /** The folder of the store; beside the watched one unless given. */
  readonly store?: string;
  readonly check?: (order: CheckOrder, signal: AbortSignal) => Promise<CheckEnd>;
  readonly notices?: (ended: EndedJob) => NewEffect[];
  readonly leaseMs?: number;
}

/** Intake on a real folder and a real store, with a clock that the test turns and a check that the test answers. */
export class TestIntake {
  readonly root: string;
  readonly lines: string[] = [];
  readonly opened: OpenedStore;
  readonly hands: Hands;
  readonly watched: WatchedFolder;
  nowMs = 1_000_000;
  /** By how much the clock on the wall was set. */
  wallMs = 0;
  private readonly tools: WorkerTools & { newId: () => string };
  private readonly outcomes: string;

  static async open(root: string, options: TestIntakeOptions = {}): Promise<TestIntake> {
    mkdirSync(root, { recursive: true });
    const opened = await openJobStore({ location: options.store ?? `${root}.store`, owner: 'a test' });
    const folderId = await prepareFolder(options.disk ?? realDisk, spoolIn(root), () => 'folder');
    return new TestIntake(root, opened, folderId, options);
  }

  private constructor(root: string, opened: OpenedStore, folderId: string, options: TestIntakeOptions) {
    this.root = root;
    this.opened = opened;
    const say = { job: (line: string) => this.lines.push(line), trouble: (line: string) => this.lines.push(line) };
    const writeNotChecked = async (folder: string, _jobName: string, reason: string) => {
      const report = reportOf('couldNotRun');
      writeFileSync(join(folder, 'report.json'), JSON.stringify(report));
      writeFileSync(join(folder, 'report.html'), reason);
      return report;
    };
    let ids = 0;
    this.outcomes = options.outcomes ?? root;
    this.tools = {
      disk: options.disk ?? realDisk,
      clock: { monotonicMs: () => this.nowMs, date: () => new Date(Date.UTC(2030, 0, 1) + this.nowMs + this.wallMs) },
      spool: spoolIn(root),
      store: options.wrapStore?.(opened.jobs) ?? opened.jobs,
      blobs: opened.blobs,
      say,
      outcomes: this.outcomes,
      leaseMs: options.leaseMs ?? 30_000,
      moveLeaseMs: options.leaseMs ?? 30_000,
      mostTries: 2,
      check: options.check ?? passes,
      threads: () => 1,
      writeNotChecked,
      layNotChecked: async (beside, jobName, reason) => {
        mkdirSync(join(beside, 'Film report'), { recursive: true });
        await writeNotChecked(join(beside, 'Film report'), jobName, reason);
      },
      notices: options.notices ?? (() => []),
      newId: () => `${process.pid}-${process.hrtime.bigint()}-${ids++}`,
    };
    this.watched = new WatchedFolder(
      this.tools,
      {
        rules: options.rules ?? quickRules,
        markersOnly: options.markersOnly ?? false,
        folderId,
        outcomes: this.outcomes,
        retryMs: 30_000,
      },
      say,
      () => this.hands.nudge(),
    );
    this.hands = new Hands(this.tools, 50);
  }

  /** As `watch` starts. */
  async start(): Promise<void> {
    await repair(this.tools, this.outcomes, this.tools.say);
    this.hands.start(`test:${process.pid}:${process.hrtime.bigint()}:`, 2);
  }

  /** One sweep a second, for so long. */
  async pass(seconds: number): Promise<void> {
    for (let second = 0; second < seconds; second++) {
      this.nowMs += 1_000;
      await this.watched.sweep();
      await this.watched.idle();
    }
  }

  /** Until the store has nothing left to do. */
  async done(): Promise<void> {
    await this.watched.idle();
    for (;;) {
      const { revisions, pendingMoves } = await this.opened.jobs.counts();
      if (revisions.waiting + revisions.working + pendingMoves === 0) return;
      await new Promise((resolve) => setTimeout(resolve, 20));
    }
  }

  async close(): Promise<void> {
    await this.watched.idle();
    await this.hands.stop(100);
    await this.opened.close();
  }

  drop(name: string, content: string | Uint8Array): void {
    const path = join(this.root, name);
    mkdirSync(join(path, '..'), { recursive: true });
    writeFileSync(path, content);
  }

  /** All files below a folder by their paths, with the beginning of their hashes; intake's own left out. */
  files(folder = this.root): Record<string, string> {
    return filesBelow(folder);
  }
}

export function filesBelow(folder: string): Record<string, string> {
  const found: Record<string, string> = {};
  for (const name of (readdirSync(folder, { recursive: true }) as string[]).sort()) {
    if (name.startsWith('.plateglass')) continue;
    const path = join(folder, name);
    if (statSync(path).isFile()) found[name] = sha256(readFileSync(path));
  }
  return found;
}

export function sha256(content: string | Uint8Array): string {
  return createHash('sha256').update(content).digest('hex').slice(0, 12);
}

/** A film that says where it ends. */
export function svg(words: string): string {
  return `<svg xmlns="http://www.w3.org/2000/svg" width="10mm" height="10mm"><!-- ${words} --></svg>`;
}

export function reportOf(verdict: ReportJson['verdict']): ReportJson {
  return { schema: 'plateglass/report/1', verdict, inks: [], checks: [], timings: {} } as unknown as ReportJson;
}

export async function passes(order: CheckOrder): Promise<CheckEnd> {
  const report = reportOf('pass');
  writeFileSync(join(order.out, 'report.json'), JSON.stringify(report));
  for (const name of ['report.html', 'report.pdf']) writeFileSync(join(order.out, name), `${name} of ${order.jobName}`);
  return { kind: 'answered', report };
}
