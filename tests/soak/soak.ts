import { spawn } from 'node:child_process';
import { appendFileSync, existsSync, mkdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { openJobStore } from '../../src/jobs/openJobStore.ts';
import { seededRandom } from '../support/seededRandom.ts';
import type { Dropped } from './writers.ts';
import { hashesBelow, write } from './writers.ts';

export interface SoakOptions {
  readonly folder: string;
  readonly jobs: number;
  /** Seconds between two kills, about; longer after a life in which fewer than two jobs were done. */
  readonly killEveryS: number;
  readonly limitS: number;
  readonly seed: number;
}

export interface SoakResult {
  readonly dropped: number;
  readonly files: number;
  readonly kills: number;
  readonly jobsInStore: number;
  readonly checked: number;
  readonly couldNotRun: number;
  /** Of those dropped, so many can only be Not checked. */
  readonly damaged: number;
  readonly unfinished: number;
  readonly foundOnce: number;
  readonly missing: readonly string[];
  readonly twice: readonly string[];
  readonly changed: readonly string[];
  readonly withoutReport: readonly string[];
  /** Notices by how often each came. */
  readonly notices: Readonly<Record<string, number>>;
  readonly noticesTwice: number;
  readonly seconds: number;
}

const writers = 3;
const killedShare = 0.6;
const leastDone = 2;
const mostPatience = 8;
const root = fileURLToPath(new URL('../../../', import.meta.url));
const main = join(root, 'dist/cli/main.js');
const film = join(root, 'fixtures/films/pdf/reportlab-flat-spots.pdf');

/**
 * Three writers drop jobs into a watched folder while the watch is killed with SIGKILL again and again; then it is left
 * to finish, and every file dropped is looked for.
 */
export async function soak(options: SoakOptions): Promise<SoakResult> {
  const started = performance.now();
  const hot = join(options.folder, 'hot');
  const store = join(options.folder, 'store');
  const told = join(options.folder, 'told');
  mkdirSync(hot, { recursive: true });
  const random = seededRandom(options.seed);
  const dropped: Dropped[] = [];
  let writing = true;
  const pdf = readFileSync(film);
  const written = Promise.all(
    Array.from({ length: writers }, (_, n) =>
      write(hot, n, Math.floor(options.jobs / writers) + (n < options.jobs % writers ? 1 : 0), pdf, dropped),
    ),
  ).then(() => {
    writing = false;
  });
  const parameters = [main, 'watch', hot, '--store', store, '--settle', '1.5', '--sweep', '0.5', '--once'];
  const start = () => {
    const child = spawn(process.execPath, [...parameters, '--notify-command', `cat >> '${told}'`], {
      stdio: ['ignore', 'pipe', 'pipe'],
      detached: true,
    });
    for (const stream of [child.stdout, child.stderr])
      stream.on('data', (data) => appendFileSync(join(options.folder, 'said'), data));
    return { child, ended: new Promise<number | null>((resolve) => child.once('close', resolve)) };
  };
  let kills = 0;
  /** Lives grow while nothing gets done in them, so that a busy machine comes to the end as well. */
  let patience = 1;
  const late = () => (performance.now() - started) / 1000 > options.limitS;
  // Killed while jobs come in and until most of them have been checked; then it may finish.
  const killing = () => writing || linesOf(told).length < options.jobs * killedShare;
  for (;;) {
    const { child, ended } = start();
    const mayFinish = !killing();
    const waitMs = (mayFinish ? options.limitS : (0.5 + random()) * options.killEveryS * patience) * 1000;
    const doneBefore = linesOf(told).length;
    const timer = setTimeout(() => process.kill(child.pid!, 'SIGKILL'), waitMs);
    const code = await ended;
    clearTimeout(timer);
    if (code === null) kills += 1;
    patience = linesOf(told).length - doneBefore < leastDone ? Math.min(patience * 1.5, mostPatience) : 1;
    if ((code === 0 && mayFinish) || late()) break;
  }
  await written;
  return count(hot, store, told, dropped, kills, (performance.now() - started) / 1000);
}

function linesOf(file: string): string[] {
  return existsSync(file) ? readFileSync(file, 'utf8').trim().split('\n') : [];
}

async function count(
  hot: string,
  store: string,
  told: string,
  dropped: readonly Dropped[],
  kills: number,
  seconds: number,
): Promise<SoakResult> {
  const found = hashesBelow(hot);
  const places = new Map<string, string[]>();
  const jobFolders = new Set<string>();
  for (const path of found.keys()) {
    const match = /^(?:Ready to film|Look first|Not ready|Not checked)\/([^/]+), revision 1\/(.+)$/.exec(path);
    if (match === null || match[2].startsWith('Film report/')) continue;
    places.set(match[2], [...(places.get(match[2]) ?? []), path]);
    jobFolders.add(path.split('/').slice(0, 2).join('/'));
  }
  const at = ({ name }: Dropped) => places.get(name) ?? [];
  const opened = await openJobStore({ location: store, owner: 'the soak' });
  const { revisions, jobs } = await opened.jobs.counts();
  await opened.close();
  const notices = new Map<string, number>();
  for (const line of linesOf(told)) {
    const { job, revision } = JSON.parse(line) as { job: string; revision: number };
    notices.set(`${job} ${revision}`, (notices.get(`${job} ${revision}`) ?? 0) + 1);
  }
  const byCount: Record<string, number> = {};
  for (const times of notices.values()) byCount[times] = (byCount[times] ?? 0) + 1;
  const reports = ['report.html', 'report.pdf', 'report.json'];
  return {
    dropped: new Set(dropped.map(({ job }) => job)).size,
    files: dropped.length,
    kills,
    jobsInStore: jobs,
    checked: revisions.checked,
    couldNotRun: revisions.couldNotRun,
    damaged: dropped.filter(({ damaged }) => damaged).length,
    unfinished: revisions.waiting + revisions.working + revisions.setAside,
    foundOnce: dropped.filter((file) => at(file).length === 1).length,
    missing: dropped.filter((file) => at(file).length === 0).map(({ name }) => name),
    twice: dropped.filter((file) => at(file).length > 1).map(({ name }) => name),
    changed: dropped.filter((file) => at(file).some((path) => found.get(path) !== file.sha256)).map(({ name }) => name),
    withoutReport: [...jobFolders].filter((job) => reports.some((name) => !found.has(`${job}/Film report/${name}`))),
    notices: byCount,
    noticesTwice: [...notices.values()].filter((times) => times > 1).length,
    seconds: Math.round(seconds),
  };
}
