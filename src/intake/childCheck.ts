import { spawn } from 'node:child_process';
import { readFile } from 'node:fs/promises';
import { join } from 'node:path';
import { createInterface } from 'node:readline';
import type { ReportJson } from '../report/reportJson.ts';
import type { Isolation } from './isolation.ts';
import { interpreterFolder, isolated } from './isolation.ts';

/** How jobs are checked: the program to run for one, and what it may use. */
export interface CheckProgram {
  /** The built program, which is run as `plateglass check`. */
  readonly main: string;
  /** Folders it needs to see: its own and that of its packages. */
  readonly own: readonly string[];
  readonly shopFile: string | null;
  readonly isolation: Isolation;
  readonly memoryBytes: number;
  readonly timeLimitMs: number;
}

export interface CheckOrder {
  readonly jobName: string;
  readonly art: string;
  readonly ticketFile: string | null;
  /** A folder that is there and empty. */
  readonly out: string;
  readonly threads: number;
  /** Folder with what an earlier check of these films kept; judged again where that is enough. */
  readonly measured?: string | null;
  /** Nobody will look at the plates. */
  readonly withoutPlates?: boolean;
  /** Told how far it is: the stage as `plateglass check --stages` names it. */
  readonly onStage?: (stage: string, done: number, total: number) => void;
}

/**
 * How a check ended. answered: there is a report. refused: the job cannot be looked at as it is, and why. broken: the
 * process ended without an answer, what it was doing then, and whether it may do better another time.
 */
export type CheckEnd =
  | { readonly kind: 'answered'; readonly report: ReportJson }
  | { readonly kind: 'refused'; readonly reason: string }
  | { readonly kind: 'broken'; readonly reason: string; readonly tryAgain: boolean }
  | { readonly kind: 'stopped' };

const stageLine = /^stage (\w+) (\d+)\/(\d+)$/;
const stageWords: Record<string, string> = {
  reading: 'reading the files',
  drawing: 'drawing the plates',
  measuring: 'measuring the plates',
  comparing: 'laying plates on each other',
  judging: 'judging',
  picturing: 'taking pictures',
  writing: 'writing the report',
};
const memoryTrouble = /allocation failed|out of memory|ERR_MEMORY_ALLOCATION_FAILED|bad_alloc|Cannot allocate memory/i;
const programFault = /^plateglass: this is a fault of the program/m;
const keptLines = 60;

/** Checks one job in a process of its own. `signal` stops it. */
export async function checkInChild(program: CheckProgram, order: CheckOrder, signal: AbortSignal): Promise<CheckEnd> {
  const { shopFile, isolation } = program;
  const call = isolated(isolation, {
    program: process.execPath,
    parameters: [
      program.main,
      'check',
      order.art,
      ...['--name', order.jobName, '--out', order.out, '--threads', String(order.threads)],
      ...['--quiet', '--stages'],
      ...(order.withoutPlates ? [] : ['--keep-plates']),
      ...(order.measured == null ? [] : ['--measured', order.measured]),
      ...(order.ticketFile === null ? [] : ['--ticket', order.ticketFile]),
      ...(shopFile === null ? [] : ['--shop', shopFile]),
    ],
    readable: [
      order.art,
      ...(order.measured == null ? [] : [order.measured]),
      ...(order.ticketFile === null ? [] : [order.ticketFile]),
      ...(shopFile === null ? [] : [shopFile]),
    ],
    writable: [order.out],
    own: [...program.own, interpreterFolder()],
    memoryBytes: program.memoryBytes,
    cpuSeconds: Math.ceil((program.timeLimitMs / 1000) * Math.max(1, order.threads)),
  });
  if (signal.aborted) return { kind: 'stopped' };
  const { PATH, LANG, TMPDIR } = process.env;
  const child = spawn(call.program, call.parameters, {
    stdio: ['ignore', 'ignore', 'pipe'],
    // A group of its own, so that all of it can be ended at once.
    detached: true,
    cwd: order.out,
    env: { PATH, LANG, TMPDIR, HOME: order.out },
  });
  let ending: 'stopped' | 'tooLong' | null = null;
  const end = (why: 'stopped' | 'tooLong') => {
    ending ??= why;
    try {
      process.kill(-child.pid!, 'SIGKILL');
    } catch {
      // It has ended by itself.
    }
  };
  const stop = () => end('stopped');
  signal.addEventListener('abort', stop);
  const timer = setTimeout(() => end('tooLong'), program.timeLimitMs);
  let stage = 'starting';
  const said: string[] = [];
  createInterface({ input: child.stderr }).on('line', (line) => {
    const match = stageLine.exec(line);
    if (match === null) said.splice(0, said.length - keptLines + 1, ...said.slice(-keptLines + 1), line.slice(0, 500));
    else {
      stage = `${stageWords[match[1]] ?? match[1]}${Number(match[3]) > 1 ? ` (${match[2]} of ${match[3]})` : ''}`;
      order.onStage?.(match[1], Number(match[2]), Number(match[3]));
    }
  });
  try {
    const { code, killedBy } = await new Promise<{ code: number | null; killedBy: string | null }>(
      (resolve, reject) => {
        child.once('error', reject);
        child.once('close', (exitCode, exitSignal) => resolve({ code: exitCode, killedBy: exitSignal }));
      },
    );
    if (ending === 'stopped') return { kind: 'stopped' };
    if (ending === 'tooLong') {
      const reason = `It was stopped after ${Math.round(program.timeLimitMs / 1000)} s, while ${stage}.`;
      return { kind: 'broken', reason, tryAgain: false };
    }
    return await judgeEnd(order.out, code, killedBy, said.join('\n'), stage, program.memoryBytes);
  } finally {
    clearTimeout(timer);
    signal.removeEventListener('abort', stop);
  }
}

async function judgeEnd(
  out: string,
  code: number | null,
  killedBy: string | null,
  said: string,
  stage: string,
  memoryBytes: number,
): Promise<CheckEnd> {
  if (code === 0 || code === 1 || code === 2) {
    const report = await readReport(join(out, 'report.json'));
    if (report !== null) return { kind: 'answered', report };
    if (code === 2 && !programFault.test(said) && said !== '')
      return { kind: 'refused', reason: said.replace(/^plateglass: /, '') };
  }
  if (memoryTrouble.test(said)) {
    const reason = `It needed more than the ${Math.round(memoryBytes / 2 ** 20)} MB of memory a job may have, while ${stage}.`;
    return { kind: 'broken', reason, tryAgain: false };
  }
  const error = said.split('\n').find((line) => /^\w*Error\b/.test(line));
  const fault = error === undefined ? '' : `: ${error.replace(/\.$/, '')}`;
  const how = killedBy !== null ? `was ended by ${killedBy}` : `ended with code ${code}`;
  return { kind: 'broken', reason: `The check ${how} while ${stage}${fault}.`, tryAgain: true };
}

/** The report, if it was written to its end. */
async function readReport(path: string): Promise<ReportJson | null> {
  try {
    return JSON.parse(await readFile(path, 'utf8')) as ReportJson;
  } catch {
    return null;
  }
}
