import type { ByteSource } from '../artwork/byteSource.ts';
import type { Artwork } from '../artwork/film.ts';
import { joinFilms } from '../artwork/joinFilms.ts';
import { checks as allChecks } from '../checks/index.ts';
import type { PackedPlate } from '../plateArchive/archivePlate.ts';
import type { Plate } from '../plates/plate.ts';
import { planPress } from '../pressPlan/planPress.ts';
import type { Reader, ReadOptions } from '../readers/reader.ts';
import { buildReport } from '../report/buildReport.ts';
import type { Inspection } from '../report/inspection.ts';
import type { ResolvedTicket } from '../ticket/ticket.ts';
import type { Crew } from './crew.ts';
import type { MeasuredJob, Progress } from './measureJob.ts';
import { measureJob } from './measureJob.ts';
import { notLookedAt } from './notLookedAt.ts';
import { readSources } from './readSources.ts';
import { runCheck } from './runCheck.ts';
import { takeMarkPictures } from './takeMarkPictures.ts';
import { takePictures } from './takePictures.ts';
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
  /** Takes the plates, packed for looking at, one after the other as each is packed; without it none is. */
  readonly keepPlate?: (plateId: string, packed: PackedPlate) => Promise<void>;
}

/**
 * Inspects one job from its files to its report.
 *
 * @throws UnreadableFilmError when a film of the job cannot be opened.
 */
export async function inspectJob(input: JobInput): Promise<Inspection> {
  const { ticket, crew, progress, clock } = input;
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
  const artwork = joinFilms(films, {
    jobName: input.name,
    screens: ticket.screens.map(({ inkName, file }) => ({ inkName, file: file ?? undefined })),
    printWhite: printsWhite(ticket),
  });
  lap('read');

  const measured = await measureJob(artwork, ticket, crew, progress);
  lap('measure');
  const keeping = keepPlates(measured.plates, crew, input.keepPlate);
  // Whoever is told of a failure below is told of this one too; it must not end the process meanwhile.
  keeping.catch(() => undefined);

  progress('judging', 0, 1);
  const checks = allChecks.map((check) => runCheck(check, measured.ask));
  const plan = planPress({
    artwork,
    ticket,
    coverageByInkId: coverageByInk(measured),
    touchingInkIdPairs: measured.ask.overlaps.map(
      ({ plateIds }) => [inkOf(artwork, plateIds[0]), inkOf(artwork, plateIds[1])] as const,
    ),
  });
  lap('judge');
  const pictures = {
    ...takePictures(artwork, measured.plates, measured.previews, checks),
    marks: takeMarkPictures(measured.ask.marks, measured.plates),
  };
  lap('picture');
  const report = buildReport({
    version: input.version,
    ask: measured.ask,
    checks,
    plan,
    sourceFiles: read.map(({ file }) => file),
    notLookedAt,
    timings,
  });
  await keeping;
  return { report, pictures };
}

async function keepPlates(plates: readonly Plate[], crew: Crew, keep: JobInput['keepPlate']): Promise<void> {
  if (keep === undefined) return;
  await Promise.all(plates.map(async (plate) => keep(plate.id, await crew.do('archivePlate', { plate }))));
}

/** White in the art is an ink when the ticket lists one; on a white garment without one it is the garment. */
function printsWhite(ticket: ResolvedTicket): 'yes' | 'no' | 'unknown' {
  if (ticket.screens.some(({ inkName, role }) => /\bwhite\b/i.test(inkName) || role.value === 'highlight'))
    return 'yes';
  return ticket.screens.length > 0 || /^#f[0-9a-f]f[0-9a-f]f[0-9a-f]$/i.test(ticket.garment.colourHex.value)
    ? 'no'
    : 'unknown';
}

function coverageByInk({ ask }: MeasuredJob): Map<string, number> {
  const coverage = new Map<string, number>();
  for (const { ink, opacity } of ask.plates)
    coverage.set(ink.id, Math.max(coverage.get(ink.id) ?? 0, opacity.coveragePercent));
  return coverage;
}

function inkOf(artwork: Artwork, plateId: string): string {
  return artwork.plateSources.find(({ id }) => id === plateId)!.inkId;
}
