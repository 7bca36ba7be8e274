import { createHash } from 'node:crypto';
import { readFile } from 'node:fs/promises';
import { dirname, join } from 'node:path';
import { byteSourceOf } from '../src/artwork/byteSource.ts';
import type { PaintPart } from '../src/fixNotes/notePicture.ts';
import type { NoteSince } from '../src/fixNotes/noteSince.ts';
import { artPartPainter } from '../src/inspect/artPart.ts';
import type { BlobStore, OpenedStore } from '../src/jobs/jobStore.ts';
import type { Job, Revision } from '../src/jobs/jobTypes.ts';
import type { KeptPlates } from '../src/plateArchive/keptPlates.ts';
import { PlateArchive } from '../src/plateArchive/openArchive.ts';
import type { ReportJson } from '../src/report/reportJson.ts';
import { answeredFindings } from '../src/revisions/answeredFindings.ts';
import { artChanges, type RevisionArt } from '../src/revisions/artChanges.ts';
import { decisionsOf } from '../web/server/decidedReports.ts';
import { parseReport, readReport } from './readReport.ts';
import { UsageError } from './usageError.ts';

/** Jobs of a like name that are looked through. */
const mostJobs = 100;

/** One checked revision with what a note shows of it. */
export interface CheckedRevision {
  readonly report: ReportJson;
  /** The art on the garment; null where no picture was kept. */
  readonly compositePng: Uint8Array | null;
  /** Null where the plates were not kept. */
  readonly art: RevisionArt | null;
}

/** Paints parts of the art finer than the picture beside the report; null where the plates were not kept. */
export function paintPartOf({ report, art }: CheckedRevision): PaintPart | null {
  if (art === null) return null;
  const plateOf = new Map(art.plates.map((plate) => [plate.plateId, plate]));
  return artPartPainter(report, new Set(plateOf.keys()), (id) => art.open(plateOf.get(id)!));
}

/** A report that a check wrote into a folder, with what lies beside it. */
export async function revisionOfFile(reportFile: string): Promise<CheckedRevision> {
  const report = await readReport(reportFile);
  const folder = dirname(reportFile);
  return {
    report,
    compositePng: await readFile(join(folder, 'composite.png')).catch(() => null),
    art: await artIn((name) => readFile(join(folder, 'plates', name))),
  };
}

/** A revision as the job store keeps it, with what was decided on it; null when it has no report. */
async function revisionOfStore(blobs: BlobStore, job: Job, revision: Revision): Promise<CheckedRevision | null> {
  const { artifacts } = revision;
  const bytesOf = async (name: string) => {
    const found = artifacts.find((artifact) => artifact.name === name);
    if (found === undefined) throw new UsageError(`${name} was not kept.`);
    return blobs.read(found.sha256);
  };
  if (!artifacts.some(({ kind }) => kind === 'reportJson')) return null;
  return {
    report: {
      ...parseReport(Buffer.from(await bytesOf('report.json')).toString('utf8'), 'report.json'),
      // What was decided on a revision held for the note on it, whatever came after.
      decisions: { ...decisionsOf(job, revision), isSuperseded: false },
    },
    compositePng: await bytesOf('composite.png').catch(() => null),
    art: await artIn((name) => bytesOf(`plates/${name}`)),
  };
}

async function artIn(bytesOf: (name: string) => Promise<Uint8Array>): Promise<RevisionArt | null> {
  const list = await bytesOf('plates.json').catch(() => null);
  if (list === null) return null;
  const { plates } = JSON.parse(Buffer.from(list).toString('utf8')) as KeptPlates;
  const opened = new Map<string, Promise<PlateArchive>>();
  return {
    plates,
    open: (plate) => {
      const open = async () => PlateArchive.open(plate, byteSourceOf(plate.file, await bytesOf(plate.file)));
      const known = opened.get(plate.file) ?? open();
      opened.set(plate.file, known);
      return known;
    },
  };
}

/** A revision that a note is about, and the one before it; null where there is none. */
export interface NoteSource {
  readonly after: CheckedRevision;
  readonly before: CheckedRevision | null;
}

/** The latest revision of a job of the store that has a report, with the one before it. */
export async function sourceOfJob(store: OpenedStore, name: string): Promise<NoteSource> {
  const job = await store.jobs.job(name);
  if (job === null) throw new UsageError(`${name} is neither a report.json nor a job of the store. Check the name.`);
  for (const revision of job.revisions.toReversed()) {
    const after = await revisionOfStore(store.blobs, job, revision);
    if (after !== null) return { after, before: await revisionBefore(store.blobs, job, revision) };
  }
  throw new UsageError(`No revision of ${name} has been checked yet.`);
}

/** The revision of the store that has this very report, with the one before it; null when none has. */
export async function sourceOfReport(store: OpenedStore, reportFile: string): Promise<NoteSource | null> {
  const bytes = await readFile(reportFile);
  const sha256 = createHash('sha256').update(bytes).digest('hex');
  const { films, job: named } = parseReport(bytes.toString('utf8'), reportFile);
  for (const name of new Set([...films.map(({ file }) => file), named.name])) {
    const { revisions } = await store.jobs.find({ name, limit: mostJobs });
    for (const { jobId } of revisions) {
      const job = await store.jobs.job(jobId);
      const own = job?.revisions.find(({ artifacts }) => artifacts.some((artifact) => artifact.sha256 === sha256));
      if (job === null || own === undefined) continue;
      const after = await revisionOfStore(store.blobs, job, own);
      if (after !== null) return { after, before: await revisionBefore(store.blobs, job, own) };
    }
  }
  return null;
}

/** The last revision before one that has a report; null when there is none. */
async function revisionBefore(
  blobs: BlobStore,
  job: Job,
  { revision }: Pick<Revision, 'revision'>,
): Promise<CheckedRevision | null> {
  for (const one of job.revisions.filter((earlier) => earlier.revision < revision).toReversed()) {
    const found = await revisionOfStore(blobs, job, one);
    if (found !== null && found.report.error === undefined) return found;
  }
  return null;
}

/** What became of one revision in the next, and whether the art could be compared too. */
export async function sinceRevision(
  before: CheckedRevision,
  after: CheckedRevision,
): Promise<{ readonly since: NoteSince; readonly isArtCompared: boolean }> {
  const isArtCompared = before.art !== null && after.art !== null;
  const changes = isArtCompared ? await artChanges(before.art!, after.art!) : [];
  const findings = answeredFindings(before.report, after.report, changes);
  return { since: { report: before.report, findings, changes }, isArtCompared };
}
