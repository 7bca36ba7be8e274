import { constants } from 'node:fs';
import { access, realpath, stat } from 'node:fs/promises';
import { availableParallelism, totalmem } from 'node:os';
import { dirname, resolve } from 'node:path';
import { fileURLToPath } from 'node:url';
import type { CheckProgram } from '../src/intake/childCheck.ts';
import { describeIsolation, findIsolation } from '../src/intake/isolation.ts';
import { RotatingLog } from '../src/intake/rotatingLog.ts';
import type { Say } from '../src/intake/say.ts';
import type { NoticeOptions } from './shopNotices.ts';
import { loadTicket } from './tickets.ts';
import { UsageError } from './usageError.ts';

/** Options that `watch` and `worker` share. */
export interface ServiceOptions extends NoticeOptions {
  readonly store?: string;
  readonly blobs?: string;
  readonly shop?: string;
  readonly outcomes?: string;
  readonly log?: string;
  readonly hands?: number;
  readonly memory?: number;
  readonly timeLimit?: number;
  readonly grace?: number;
  readonly lease?: number;
  readonly metricsPort?: number;
}

/** A job has no use for less: the program alone takes a part of it. */
const leastJobBytes = 1_200_000_000;
const usualTimeLimitS = 1_200;
const usualLeaseS = 30;
const usualGraceS = 30;

export function leaseMsOf({ lease }: ServiceOptions): number {
  return (lease ?? usualLeaseS) * 1000;
}

export function graceMsOf({ grace }: ServiceOptions): number {
  return (grace ?? usualGraceS) * 1000;
}

/** Hands and the memory of each: as many as there are cores, if each can have what a job of usual size takes. */
export function shareOut(options: ServiceOptions): { readonly hands: number; readonly memoryBytes: number } {
  const constrained = process.constrainedMemory?.() ?? 0;
  const machineBytes = constrained > 0 && constrained < totalmem() ? constrained : totalmem();
  const usableBytes = machineBytes * 0.8;
  const hands =
    options.hands ??
    Math.max(1, Math.min(Math.max(2, availableParallelism()), Math.floor(usableBytes / leastJobBytes)));
  const memoryBytes = options.memory === undefined ? Math.floor(usableBytes / hands) : options.memory * 2 ** 20;
  return { hands, memoryBytes };
}

/** How jobs are checked here. The shop's file is read once, so that its mistakes are told at the start. */
export async function checkProgram(options: ServiceOptions, memoryBytes: number): Promise<CheckProgram> {
  const shopFile = await shopFileOf(options.shop);
  await loadTicket(undefined, shopFile);
  const main = await realpath(fileURLToPath(new URL('./main.js', import.meta.url)));
  return {
    main,
    own: await programFolders(dirname(main)),
    shopFile: shopFile ?? null,
    isolation: findIsolation(),
    memoryBytes,
    timeLimitMs: (options.timeLimit ?? usualTimeLimitS) * 1000,
  };
}

/** As for `check`: the file that is named, else `shop.yaml` in this folder if there is one. */
async function shopFileOf(named: string | undefined): Promise<string | undefined> {
  const path = resolve(named ?? 'shop.yaml');
  try {
    await access(path, constants.R_OK);
    return path;
  } catch {
    if (named === undefined) return undefined;
    throw new UsageError(`${named} is not there, or may not be read. Check the name.`);
  }
}

/** The program's folder, and every folder of packages above it. */
async function programFolders(folder: string): Promise<string[]> {
  const folders = [dirname(folder)];
  for (let at = folder; ; at = dirname(at)) {
    const packages = resolve(at, 'node_modules');
    if (
      await stat(packages).then(
        () => true,
        () => false,
      )
    )
      folders.push(packages);
    if (at === dirname(at)) return folders;
  }
}

/** Lines on the console, and with their time and facts in the log. A log that cannot be written stops nothing. */
export function sayOn(folder: string): Say {
  const log = new RotatingLog(folder);
  let logWorks = true;
  const put = (stream: NodeJS.WriteStream, line: string, facts?: Readonly<Record<string, unknown>>) => {
    // biome-ignore lint/suspicious/noControlCharactersInRegex: names may hold them; a terminal must not obey them.
    const plain = line.replace(/[\u0000-\u001f\u007f-\u009f]/g, ' ');
    stream.write(`${plain}\n`);
    try {
      log.write(`${new Date().toISOString()} ${plain}${facts === undefined ? '' : ` ${JSON.stringify(facts)}`}`);
      logWorks = true;
    } catch (error) {
      if (logWorks) stream.write(`The log cannot be written (${(error as Error).message}).\n`);
      logWorks = false;
    }
  };
  return {
    job: (line, facts) => put(process.stdout, line, facts),
    trouble: (line, facts) => put(process.stderr, line, facts),
  };
}

export function describeSetUp(program: CheckProgram, hands: number): string {
  const megabytes = Math.round(program.memoryBytes / 2 ** 20);
  return `${describeIsolation(program.isolation)} ${hands} at once, ${megabytes} MB and ${program.timeLimitMs / 1000} s each.`;
}

/** Resolves with the first signal that asks the program to end; `again` is called for a second one. */
export function askedToEnd(again: () => void): Promise<void> {
  return new Promise((resolve) => {
    let asked = false;
    const onSignal = () => {
      if (asked) again();
      asked = true;
      resolve();
    };
    for (const signal of ['SIGTERM', 'SIGINT', 'SIGHUP'] as const) process.on(signal, onSignal);
  });
}

/** The folder's own path, without links. */
export async function folderThatIsThere(folder: string): Promise<string> {
  try {
    if ((await stat(folder)).isDirectory()) return await realpath(folder);
  } catch {
    // Said below.
  }
  throw new UsageError(`${folder} is not a folder that can be read. Make it, or check the name.`);
}
