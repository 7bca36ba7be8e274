import type { ByteSource } from '../artwork/byteSource.ts';
import type { PackedPlate } from '../plateArchive/archivePlate.ts';
import type { Plate } from '../plates/plate.ts';
import type { Reader, ReadOptions } from '../readers/reader.ts';
import { buildReport } from '../report/buildReport.ts';
import type { Inspection } from '../report/inspection.ts';
import type { ResolvedTicket } from '../ticket/ticket.ts';
import type { Crew } from './crew.ts';
import { joinJob, judgeJob } from './judgeJob.ts';
import { packFacts } from './measuredFacts.ts';
import type { Progress } from './measureJob.ts';
import { measureJob } from './measureJob.ts';
import { notLookedAt } from './notLookedAt.ts';
import { readSources } from './readSources.ts';
import { takeMarkPictures } from './takeMarkPictures.ts';
import { takePictures } from './takePictures.ts';
import { takeSpectra } from './takeSpectra.ts';
import { warmUp } from './warmUp.ts';

export interface JobInput {
  readonly name: string;
  readonly sources: readonly ByteSource[];
  readonly ticket: ResolvedTicket;
  readonly readOptions: ReadOptions;
  readonly readers: readonly Reader[];
  readonly crew: Crew;
  readonly version: string;
  readonly progress: Progress;
  /** Milliseconds from any fixed moment; only the report's `timings` are made of it. */
  readonly clock: () => number;
  /** Takes what a later look or judgement needs of the job; without it nothing is kept. */
  readonly keep?: Keep;
}

export interface Keep {
  /** Which build of the program this is; see `MeasuredFacts`. */
  readonly program: string;
  /** The plates, packed for looking at, one after the other as each is packed. */
  plate(plateId: string, packed: PackedPlate): Promise<void>;
  /** What was measured; see `measuredFacts.ts`. */
  facts(packed: Uint8Array): Promise<void>;
}

/**
 * Inspects one job from its files to its report.
 *
 * @throws UnreadableFilmError when a film of the job cannot be opened.
 */
export async function inspectJob(input: JobInput): Promise<Inspection> {
  const { ticket, crew, progress, clock, keep, version } = input;
  const timings: Record<string, number> = {};
  let since = clock();
  const lap = (stage: string) => {
    const now = clock();
    timings[`${stage}Ms`] = Math.round(now - since);
    since = now;
  };

  void warmUp(crew, input.sources);
  const { sources } = input;
  const read = await readSources(sources, input.readOptions, input.readers, crew, (count) =>
    progress('reading', count, sources.length),
  );
  const films = read.flatMap((source) => source.films);
  const sourceFiles = read.map(({ file }) => file);
  const artwork = joinJob(input.name, films, ticket);
  lap('read');

  const measured = await measureJob(artwork, ticket, crew, progress);
  const { ask } = measured;
  lap('measure');
  const keeping = keepPlates(measured.plates, crew, keep);
  // Whoever is told of a failure below is told of this one too; it must not end the process meanwhile.
  keeping.catch(() => undefined);

  progress('judging', 0, 1);
  const { checks, plan, art } = judgeJob(ask);
  lap('judge');
  const pictures = {
    ...takePictures(artwork, measured.plates, measured.previews, checks),
    marks: takeMarkPictures(ask.marks, measured.plates),
    spectra: takeSpectra(ask.plates, measured.plates),
  };
  lap('picture');
  const report = buildReport({ version, ask, checks, plan, art, sourceFiles, notLookedAt, timings });
  const { dpi } = input.readOptions;
  await keep?.facts(packFacts({ ask, films, plan: measured.plan, program: keep.program, sourceFiles, dpi }));
  await keeping;
  return { report, pictures };
}

async function keepPlates(plates: readonly Plate[], crew: Crew, keep: Keep | undefined): Promise<void> {
  if (keep === undefined) return;
  await Promise.all(plates.map(async (plate) => keep.plate(plate.id, await crew.do('archivePlate', { plate }))));
}
