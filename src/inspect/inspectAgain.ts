import { previewPlate } from '../measurements/previewPlate.ts';
import type { PackedPlate } from '../plateArchive/archivePlate.ts';
import type { PlateArchive } from '../plateArchive/openArchive.ts';
import { restorePlate } from '../plateArchive/restorePlate.ts';
import { buildReport } from '../report/buildReport.ts';
import type { Inspection } from '../report/inspection.ts';
import type { JobInput } from './inspectJob.ts';
import { judgeJob } from './judgeJob.ts';
import { askAgain, type MeasuredFacts } from './measuredFacts.ts';
import { previewPx } from './measureJob.ts';
import { notLookedAt } from './notLookedAt.ts';
import { takeMarkPictures } from './takeMarkPictures.ts';
import { takePictures } from './takePictures.ts';
import { takeSpectra } from './takeSpectra.ts';

/** What an earlier check of the same films left. */
export interface KeptInspection {
  readonly facts: MeasuredFacts;
  readonly packedFacts: Uint8Array;
  readonly plates: ReadonlyMap<string, { readonly archive: PlateArchive; readonly packed: PackedPlate }>;
}

/** A job judged and pictured anew, or what must be measured for it first. */
export type InspectedAgain =
  | { readonly kind: 'inspected'; readonly inspection: Inspection }
  | { readonly kind: 'notMeasured'; readonly reasons: readonly string[] };

/**
 * Inspects a job by another ticket without reading, drawing or measuring its films. Report and pictures are, but for
 * `timings`, those of `inspectJob` with that ticket.
 */
export async function inspectAgain(
  { facts, packedFacts, plates: kept }: KeptInspection,
  {
    name,
    ticket,
    version,
    progress,
    clock,
    keep,
  }: Pick<JobInput, 'name' | 'ticket' | 'version' | 'progress' | 'clock' | 'keep'>,
): Promise<InspectedAgain> {
  const startMs = clock();
  progress('judging', 0, 1);
  const again = askAgain(facts, name, ticket);
  if (again.kind === 'notMeasured') return again;
  const { ask } = again;
  if (ask.plates.some(({ id }) => !kept.has(id)))
    return { kind: 'notMeasured', reasons: ['Not all of its plates were kept.'] };
  const { checks, plan, art } = judgeJob(ask);
  const judgedMs = clock();
  progress('picturing', 0, 1);
  const plates = await Promise.all(
    ask.artwork.plateSources.map((source) => restorePlate(kept.get(source.id)!.archive, source)),
  );
  const previews = new Map(plates.map((plate) => [plate.id, previewPlate(plate, previewPx)]));
  const pictures = {
    ...takePictures(ask.artwork, plates, previews, checks),
    marks: takeMarkPictures(ask.marks, plates),
    spectra: takeSpectra(ask.plates, plates),
  };
  const timings = { judgeMs: Math.round(judgedMs - startMs), pictureMs: Math.round(clock() - judgedMs) };
  const report = buildReport({ version, ask, checks, plan, art, sourceFiles: facts.sourceFiles, notLookedAt, timings });
  for (const [plateId, { packed }] of kept) await keep?.plate(plateId, packed);
  await keep?.facts(packedFacts);
  return { kind: 'inspected', inspection: { report, pictures } };
}
