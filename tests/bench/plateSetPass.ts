/**
 * One process of the plate set benchmark: `decode` reads the films to raw bytes by sharp, `measure` reads them and
 * measures everything a report asks for, the beats of halftones with their mesh and each other included; `measurePlain`
 * leaves halftones, their beats, marks and register out. The engine is set as the program sets it. Prints what it took.
 */
import { readFileSync } from 'node:fs';
import { basename } from 'node:path';
import { performance } from 'node:perf_hooks';
import { optimiseLater } from '../../cli/optimiseLater.ts';
import { byteSourceOf } from '../../src/artwork/byteSource.ts';
import { joinFilms } from '../../src/artwork/joinFilms.ts';
import { checks } from '../../src/checks/index.ts';
import { type Crew, crewOfOne } from '../../src/inspect/crew.ts';
import { measureJob } from '../../src/inspect/measureJob.ts';
import { readSources } from '../../src/inspect/readSources.ts';
import { runCheck } from '../../src/inspect/runCheck.ts';
import type { TaskName } from '../../src/inspect/task.ts';
import { workerCrew } from '../../src/inspect/workerCrew.ts';
import { allReaders } from '../../src/readers/allReaders.ts';
import { resolveTicket } from '../../src/ticket/resolveTicket.ts';

export interface Took {
  readonly wallS: number;
  readonly cpuS: number;
  readonly peakMb: number;
  readonly found: string;
}

async function decode(files: readonly string[]): Promise<string> {
  const { default: sharp } = await import('sharp');
  sharp.concurrency(1);
  let bytes = 0;
  for (const file of files) {
    const raw = await sharp(file, { limitInputPixels: false }).toColourspace('b-w').raw().toBuffer();
    bytes += raw.length;
  }
  return `${(bytes / 1e6).toFixed(0)} MB`;
}

/** What the work that is left out would find where there is nothing to be found. */
const nothing: { readonly [Name in TaskName]?: unknown } = {
  measureHalftone: { regions: [] },
  measureMarks: [],
  measureRegistration: null,
};

function plainCrew(crew: Crew): Crew {
  return { ...crew, do: async (name, input) => (name in nothing ? (nothing[name] as never) : crew.do(name, input)) };
}

/** The checks that look for beats. */
const beatChecks = ['angle-clash', 'coarse-mesh-for-ruling', 'mesh-moire', 'tone-out-of-range'];
const mesh = 'mesh: { threadsPerCm: 77, threadUm: 48 }';

async function measure(files: readonly string[], threads: number, isPlain: boolean): Promise<string> {
  const whole = threads === 0 ? crewOfOne() : workerCrew(threads);
  const crew = isPlain ? plainCrew(whole) : whole;
  const sources = files.map((file) => byteSourceOf(basename(file), readFileSync(file)));
  const read = await readSources(sources, {}, allReaders(), crew, () => {});
  const films = read.flatMap((source) => source.films);
  const artwork = joinFilms(films, { jobName: 'set', screens: [], printWhite: 'unknown' });
  const { ask } = await measureJob(artwork, resolveTicket({}), crew, () => {});
  await crew.dismiss();
  const ticket = resolveTicket({ ticket: { fileName: 'ticket.yaml', text: mesh } });
  const judged = isPlain ? [] : checks.filter(({ id }) => beatChecks.includes(id));
  const beats = judged.map((check) => runCheck(check, { ...ask, ticket }).readingsTotal);
  if (!isPlain && (beats.length !== beatChecks.length || beats.includes(0))) {
    throw new Error(`Checks of halftones read nothing: ${beats.join(' ')}`);
  }
  const places = ask.plates.map(({ detail }) =>
    [detail.lines, detail.gaps, detail.dots, detail.islands].map(({ length }) => length).join('/'),
  );
  const parts = ask.plates.reduce((sum, { halftone }) => sum + halftone.regions.length, 0);
  return `${places.join(' ')} narrow places, ${ask.overlaps.length} pairs that touch, ${parts} halftones`;
}

optimiseLater();
const [what, threads, ...files] = process.argv.slice(2);
const start = performance.now();
const found = what === 'decode' ? await decode(files) : await measure(files, Number(threads), what === 'measurePlain');
const { userCPUTime, systemCPUTime, maxRSS } = process.resourceUsage();
const took: Took = {
  wallS: (performance.now() - start) / 1000,
  cpuS: (userCPUTime + systemCPUTime) / 1e6,
  peakMb: maxRSS / 1024,
  found,
};
process.stdout.write(`${JSON.stringify(took)}\n`);
