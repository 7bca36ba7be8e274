/**
 * Six plates of 11,520 x 14,400 px (16 x 20 inches at 720 dpi) as G4 TIFF, two of them 55 lpi halftones: own reading
 * and all measurements, exhaustive, against the time sharp needs merely to decode the same files to raw bytes, and
 * what halftones, their beats, marks and register add to all the rest. Prints the ratios of runs that alternate. `node dist/tests/bench/plateSetBench.js [scratch folder]`; the plates are kept there.
 */
import { execFileSync } from 'node:child_process';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { writePlateSet } from './plateSet.ts';
import type { Took } from './plateSetPass.ts';

const runs = 3;
const pass = fileURLToPath(new URL('plateSetPass.js', import.meta.url));
const folder = process.argv[2] ?? join(tmpdir(), 'plateglass-plate-set');
const files = await writePlateSet(folder, { widthPx: 11520, heightPx: 14400, dpi: 720 });

function timed(what: 'decode' | 'measure' | 'measurePlain', threads: number): Took {
  return JSON.parse(execFileSync(process.execPath, [pass, what, String(threads), ...files], { encoding: 'utf8' }));
}

const median = (values: readonly number[]) => [...values].sort((a, b) => a - b)[Math.floor(values.length / 2)];
const spread = (values: readonly number[]) =>
  `${median(values).toFixed(2)} (${Math.min(...values).toFixed(2)} to ${Math.max(...values).toFixed(2)})`;
const print = (line: string): boolean => process.stdout.write(`${line}\n`);

const all = Array.from({ length: runs }, () => ({
  sharp: timed('decode', 0),
  one: timed('measure', 0),
  plain: timed('measurePlain', 0),
  two: timed('measure', 2),
}));
print(all[0].one.found);
for (const [name, pick] of [
  ['sharp, decoding only', (run: (typeof all)[0]) => run.sharp],
  ['one thread', (run: (typeof all)[0]) => run.one],
  ['one thread without halftones, marks and register', (run: (typeof all)[0]) => run.plain],
  ['two workers', (run: (typeof all)[0]) => run.two],
] as const) {
  const took = all.map(pick);
  const seconds = (of: (one: Took) => number) => median(took.map(of)).toFixed(2);
  const peak = Math.max(...took.map(({ peakMb }) => peakMb)).toFixed(0);
  print(`${name}: ${seconds((one) => one.cpuS)} s CPU, ${seconds((one) => one.wallS)} s, peak ${peak} MB`);
}
print(`CPU of one thread / CPU of sharp: ${spread(all.map(({ one, sharp }) => one.cpuS / sharp.cpuS))}`);
const added = all.map(({ one, plain }) => 100 * (one.cpuS / plain.cpuS - 1));
print(`halftones, their beats, marks and register add to the CPU of the rest, in percent: ${spread(added)}`);
print(`time of two workers / time of one thread: ${spread(all.map(({ one, two }) => two.wallS / one.wallS))}`);
