/**
 * A 300 x 360 mm, four-ink vector PDF from file to report, against the time Ghostscript's tiffsep needs to write its
 * plates at the same pitch. Prints seconds, peak memory and the ratio; run it with `npm run bench`, with `gs` installed.
 */
import { spawn } from 'node:child_process';
import { mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { performance } from 'node:perf_hooks';
import { fileURLToPath } from 'node:url';
import { drawBenchFilm } from './benchFilm.ts';

const runs = 5;
const main = fileURLToPath(new URL('../../cli/main.js', import.meta.url));
const scratch = mkdtempSync(join(tmpdir(), 'plateglass-bench-'));

interface Run {
  readonly seconds: number;
  readonly peakMb: number;
}

async function timed(program: string, parameters: readonly string[]): Promise<Run> {
  const start = performance.now();
  const child = spawn(program, parameters, { stdio: 'ignore' });
  let peakKb = 0;
  const look = setInterval(() => {
    try {
      peakKb = Math.max(
        peakKb,
        Number(/VmHWM:\s+(\d+)/.exec(readFileSync(`/proc/${child.pid}/status`, 'utf8'))?.[1] ?? 0),
      );
    } catch {
      // The program has just ended.
    }
  }, 10);
  const exitCode = await new Promise((resolve) => child.on('close', resolve));
  clearInterval(look);
  if (exitCode !== 0 && exitCode !== 1) throw new Error(`${program} ended with ${exitCode}; there is nothing to time.`);
  return { seconds: (performance.now() - start) / 1000, peakMb: peakKb / 1024 };
}

function median(values: readonly number[]): number {
  return [...values].sort((a, b) => a - b)[Math.floor(values.length / 2)];
}

/** Ordinary garment art, and art as dense as four inks of small shapes all over each other can be. */
const films = [
  { name: '200 shapes, 20 lines', shapesPerInk: 50 },
  { name: '2,000 shapes, 200 lines', shapesPerInk: 500 },
];

async function compare(film: (typeof films)[number]): Promise<void> {
  const file = join(scratch, 'film.pdf');
  writeFileSync(file, await drawBenchFilm(film.shapesPerInk));
  const ours: Run[] = [];
  const theirs: Run[] = [];
  for (let run = 0; run <= runs; run++) {
    const our = await timed(process.execPath, [main, 'check', file, '--out', join(scratch, 'report'), '--quiet']);
    const plates = ['-sDEVICE=tiffsep', '-r600', '-o', join(scratch, 'plate.tif')];
    const their = await timed('gs', ['-q', '-dSAFER', '-dBATCH', '-dNOPAUSE', ...plates, file]);
    if (run === 0) continue;
    ours.push(our);
    theirs.push(their);
  }
  const seconds = (list: readonly Run[]) => median(list.map((run) => run.seconds)).toFixed(2);
  const peak = (list: readonly Run[]) => Math.max(...list.map(({ peakMb }) => peakMb)).toFixed(0);
  const ratios = ours.map((run, index) => run.seconds / theirs[index].seconds);
  process.stdout.write(
    [
      `${film.name}`,
      `  file to report     ${seconds(ours)} s   peak ${peak(ours)} MB`,
      `  tiffsep at 600 dpi ${seconds(theirs)} s   peak ${peak(theirs)} MB`,
      `  ratio, pair by pair: median ${median(ratios).toFixed(2)}, ${Math.min(...ratios).toFixed(2)} to ${Math.max(...ratios).toFixed(2)} (${runs} pairs; below 1 is faster)`,
      '',
    ].join('\n'),
  );
}

try {
  for (const film of films) await compare(film);
} finally {
  rmSync(scratch, { recursive: true, force: true });
}
