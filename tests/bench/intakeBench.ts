/**
 * What a watched folder costs: idle over 20,000 old files, and 24 jobs of four plates at 720 dpi. Prints CPU, memory and how
 * busy the cores of the machine were, which has to have nothing else to do. node dist/tests/bench/intakeBench.js [idle|busy]
 */
import { spawn } from 'node:child_process';
import { mkdirSync, mkdtempSync, readdirSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { cpus, tmpdir } from 'node:os';
import { join } from 'node:path';
import { setTimeout as pause } from 'node:timers/promises';
import { fileURLToPath } from 'node:url';
import { drawBenchFilm } from './benchFilm.ts';

const main = fileURLToPath(new URL('../../cli/main.js', import.meta.url));
const ticksPerSecond = 100;
const scratch = mkdtempSync(join(tmpdir(), 'intake-bench-'));

function startWatch(hot: string, parameters: readonly string[]) {
  const env = { ...process.env, XDG_STATE_HOME: join(scratch, 'state') };
  const child = spawn(process.execPath, [main, 'watch', hot, ...parameters], { cwd: scratch, stdio: 'ignore', env });
  return { pid: child.pid!, child, ended: new Promise<void>((resolve) => child.once('close', () => resolve())) };
}

interface Usage {
  readonly cpuSeconds: number;
  readonly residentMb: number;
}

function usageOf(pid: number): Usage {
  const text = readFileSync(`/proc/${pid}/stat`, 'utf8');
  const fields = text.slice(text.lastIndexOf(')') + 2).split(' ');
  const residentKb = Number(/VmRSS:\s+(\d+)/.exec(readFileSync(`/proc/${pid}/status`, 'utf8'))![1]);
  const [user, system] = fields.slice(11, 13).map((ticks) => Number(ticks) / ticksPerSecond);
  return {
    cpuSeconds: user + system,
    residentMb: residentKb / 1024,
  };
}

async function idle(what: string, fill: (hot: string) => void): Promise<void> {
  const hot = join(scratch, what.replace(/\W/g, '-'));
  mkdirSync(hot);
  fill(hot);
  const { pid, child, ended } = startWatch(hot, []);
  // What is new is looked at until it has lain still.
  await pause(90_000);
  const before = usageOf(pid);
  await pause(60_000);
  const after = usageOf(pid);
  child.kill('SIGTERM');
  await ended;
  const percent = (100 * (after.cpuSeconds - before.cpuSeconds)) / 60;
  process.stdout.write(`idle, ${what}: ${percent.toFixed(2)} % of a core, ${after.residentMb.toFixed(0)} MB\n`);
}

function fillFolders(parent: string, folders: number, files: number, ending: string): void {
  for (let folder = 0; folder < folders; folder++) {
    const path = folders === 1 ? parent : join(parent, `old ${folder}`);
    mkdirSync(path, { recursive: true });
    for (let n = 0; n < files; n++) writeFileSync(join(path, `${n}${ending}`), 'old');
  }
}

/** Busy and all ticks of all cores since the machine started. */
function coreTicks(): { readonly busy: number; readonly all: number } {
  const ticks = readFileSync('/proc/stat', 'utf8').split('\n')[0].split(/\s+/).slice(1, 9).map(Number);
  const all = ticks.reduce((sum, value) => sum + value, 0);
  return { busy: all - ticks[3] - ticks[4], all };
}

/** Largest resident size of any process whose parents lead to this one. */
function largestChildMb(): number {
  let largest = 0;
  for (const pid of readdirSync('/proc').filter((name) => /^\d+$/.test(name))) {
    try {
      if (!readFileSync(`/proc/${pid}/cmdline`, 'utf8').includes(`${scratch}/`)) continue;
      largest = Math.max(
        largest,
        Number(/VmHWM:\s+(\d+)/.exec(readFileSync(`/proc/${pid}/status`, 'utf8'))?.[1] ?? 0) / 1024,
      );
    } catch {
      // It has just ended.
    }
  }
  return largest;
}

async function busy(): Promise<void> {
  const hot = join(scratch, 'busy');
  mkdirSync(hot);
  const jobs = 24;
  const film = await drawBenchFilm(150);
  for (let n = 0; n < jobs; n++) {
    writeFileSync(join(hot, `job ${n}.pdf`), Buffer.concat([film, Buffer.from(`\n% ${n}\n%%EOF\n`)]));
    writeFileSync(join(hot, `job ${n}.yaml`), 'film: { dpi: 720 }\n');
  }
  const started = performance.now();
  const { ended } = startWatch(hot, ['--once', '--memory', '2000']);
  const done = () =>
    ['Ready to film', 'Look first', 'Not ready', 'Not checked'].flatMap((name) => {
      try {
        return readdirSync(join(hot, name));
      } catch {
        return [];
      }
    });
  // From when the first is being checked until there are fewer left than hands.
  await pause(6_000);
  const before = coreTicks();
  let largestMb = 0;
  while (done().length < jobs - cpus().length) {
    await pause(500);
    largestMb = Math.max(largestMb, largestChildMb());
  }
  const after = coreTicks();
  await ended;
  const share = (100 * (after.busy - before.busy)) / (after.all - before.all);
  const seconds = (performance.now() - started) / 1000;
  const folders = readdirSync(hot)
    .filter((name) => !name.startsWith('.'))
    .join(', ');
  process.stdout.write(
    `busy, ${jobs} jobs of 4 plates at 720 dpi: cores ${share.toFixed(0)} % busy, ${seconds.toFixed(0)} s, largest process ${largestMb.toFixed(0)} MB, limit 2000 MB; all in ${folders}\n`,
  );
}

const wanted = process.argv[2];
if (wanted !== 'busy') {
  await idle('20,000 in folders of verdicts', (hot) => fillFolders(join(hot, 'Ready to film'), 200, 100, '.tif'));
  await idle('20,000 notes in the folder itself', (hot) => fillFolders(hot, 1, 20_000, '.txt'));
  await idle('20,000 notes in 200 sub-folders', (hot) => fillFolders(hot, 200, 100, '.txt'));
}
if (wanted !== 'idle') await busy();
rmSync(scratch, { recursive: true, force: true });
