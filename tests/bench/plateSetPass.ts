/**
 * One process of the plate set benchmark: `decode` reads the films to raw bytes by sharp, `measure` reads them and
 * measures everything a report asks for. Prints what it took.
 */
import { readFileSync } from 'node:fs';
import { basename } from 'node:path';
import { performance } from 'node:perf_hooks';
import { byteSourceOf } from '../../src/artwork/byteSource.ts';
import { joinFilms } from '../../src/artwork/joinFilms.ts';
import { crewOfOne } from '../../src/inspect/crew.ts';
import { measureJob } from '../../src/inspect/measureJob.ts';
import { readSources } from '../../src/inspect/readSources.ts';
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

async function measure(files: readonly string[], threads: number): Promise<string> {
  const crew = threads === 0 ? crewOfOne() : workerCrew(threads);
  const sources = files.map((file) => byteSourceOf(basename(file), readFileSync(file)));
  const read = await readSources(sources, {}, allReaders(), crew, () => {});
  const films = read.flatMap((source) => source.films);
  const artwork = joinFilms(films, { jobName: 'set', screens: [], printWhite: 'unknown' });
  const { ask } = await measureJob(artwork, resolveTicket({}), crew, () => {});
  await crew.dismiss();
  const places = ask.plates.map(({ detail }) =>
    [detail.lines, detail.gaps, detail.dots, detail.islands].map(({ length }) => length).join('/'),
  );
  return `${places.join(' ')} narrow places, ${ask.overlaps.length} pairs that touch`;
}

const [what, threads, ...files] = process.argv.slice(2);
const start = performance.now();
const found = what === 'decode' ? await decode(files) : await measure(files, Number(threads));
const { userCPUTime, systemCPUTime, maxRSS } = process.resourceUsage();
const took: Took = {
  wallS: (performance.now() - start) / 1000,
  cpuS: (userCPUTime + systemCPUTime) / 1e6,
  peakMb: maxRSS / 1024,
  found,
};
process.stdout.write(`${JSON.stringify(took)}\n`);
