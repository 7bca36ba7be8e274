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

try {
  const file = join(scratch, 'film.pdf');
  writeFileSync(file, await drawBenchFilm());
  const ours: Run[] = [];
  const theirs: Run[] = [];
  for (let run = 0; run <= runs; run++) {
    const our = await timed(process.execPath, [main, 'check', file, '--out', join(scratch, 'report'), '--quiet']);
    const their = await timed('gs', [
      '-q',
      '-dSAFER',
      '-dBATCH',
      '-dNOPAUSE',
      '-sDEVICE=tiffsep',
      '-r600',
      '-o',
      join(scratch, 'plate.tif'),
      file,
    ]);
    if (run === 0) continue;
    ours.push(our);
    theirs.push(their);
  }
  const ourSeconds = median(ours.map(({ seconds }) => seconds));
  const theirSeconds = median(theirs.map(({ seconds }) => seconds));
  const ratios = ours.map(({ seconds }, index) => seconds / theirs[index].seconds);
  process.stdout.write(
    [
      `file to report     ${ourSeconds.toFixed(2)} s   peak ${Math.max(...ours.map(({ peakMb }) => peakMb)).toFixed(0)} MB`,
      `tiffsep at 600 dpi ${theirSeconds.toFixed(2)} s   peak ${Math.max(...theirs.map(({ peakMb }) => peakMb)).toFixed(0)} MB`,
      `ratio, pair by pair: median ${median(ratios).toFixed(2)}, ${Math.min(...ratios).toFixed(2)} to ${Math.max(...ratios).toFixed(2)} (${runs} pairs; below 1 is faster)`,
      '',
    ].join('\n'),
  );
} finally {
  rmSync(scratch, { recursive: true, force: true });
}
