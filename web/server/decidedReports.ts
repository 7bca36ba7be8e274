import { createHash } from 'node:crypto';
import { isCustomer } from '../../src/jobs/customerTypes.ts';
import type { BlobStore } from '../../src/jobs/jobStore.ts';
import type { Job, Revision } from '../../src/jobs/jobTypes.ts';
import type { ReportDecisions } from '../../src/report/reportJson.ts';
import type { PlateFile } from './comparisons.ts';
import { Recent } from './recent.ts';
import type { RevisionPlates } from './revisionPlates.ts';

/** A report to be written once more, with what was decided in it. */
export interface RenderOrder {
  /** The report JSON as the check wrote it. */
  readonly reportFile: string;
  readonly decisions: ReportDecisions;
  /** Those kept of the revision, by plate id; without them the report has no pictures. */
  readonly plates: readonly (PlateFile & { readonly plateId: string })[];
}

export interface RenderedReport {
  readonly json: Uint8Array;
  readonly html: Uint8Array;
  readonly pdf: Uint8Array;
}

export type RenderReport = (order: RenderOrder) => Promise<RenderedReport>;

/** A report with pictures takes up to some megabytes. */
const mostReports = 6;

/** Reports with the decisions of people in them; kept until somebody decides again. */
export class DecidedReports {
  private readonly reports = new Recent<Promise<RenderedReport>>(mostReports);
  private readonly blobs: BlobStore;
  private readonly plates: RevisionPlates;
  private readonly render: RenderReport;

  constructor(blobs: BlobStore, plates: RevisionPlates, render: RenderReport) {
    this.blobs = blobs;
    this.plates = plates;
    this.render = render;
  }

  /** Null where the check left no report. */
  async of(job: Job, revision: Revision): Promise<RenderedReport | null> {
    const { artifacts } = revision;
    const report = artifacts.find(({ kind }) => kind === 'reportJson');
    if (report === undefined) return null;
    const decisions = decisionsOf(job, revision);
    const plates = await this.plates.filesOf(artifacts);
    const reportFile = this.blobs.pathOf(report.sha256);
    const key = createHash('sha256')
      .update(JSON.stringify([report.sha256, this.plates.version(artifacts), decisions]))
      .digest('hex');
    return this.reports.get(key, () => this.render({ reportFile, decisions, plates }));
  }
}

/** What was decided of a revision, as a report tells it. */
export function decisionsOf(job: Job, { revision, isLatest, standing, decisions }: Revision): ReportDecisions {
  return {
    revision,
    isSuperseded: !isLatest,
    standing,
    made: decisions.map(({ kind, by, reason, at, finding, undone }) => ({
      ...{ kind, by, reason, at: isoOf(at), finding: finding ?? null },
      undone: undone === null ? null : { ...undone, at: isoOf(undone.at) },
    })),
    history: job.history
      .filter((entry) => entry.revision === null || entry.revision === revision)
      .map(({ at, who, what, revision: of }) => ({ at: isoOf(at), who: personOf(who), what, revision: of })),
  };
}

function isoOf(atMs: number): string {
  return new Date(atMs).toISOString();
}

/** Workers go by machine and process (`workerPrefix`), which tells nobody anything; customers call themselves anything. */
function personOf(who: string): string {
  return /^[^:]*:\d+:/.test(who) && !isCustomer(who) ? 'Plateglass' : who;
}
