import { type CustomerNote, customerNote } from '../../../src/fixNotes/customerNote.ts';
import { type NotePicture, notePictures } from '../../../src/fixNotes/notePicture.ts';
import type { NoteUnits } from '../../../src/fixNotes/noteQuantities.ts';
import { type ProofFacts, proofFacts } from '../../../src/fixNotes/proofFacts.ts';
import type { ShopPhrases } from '../../../src/fixNotes/shopPhrases.ts';
import type { NoteLanguage } from '../../../src/fixNotes/words/wordsIn.ts';
import type { CustomerLink } from '../../../src/jobs/customerTypes.ts';
import type { OpenedStore } from '../../../src/jobs/jobStore.ts';
import type { Artifact, Job, Revision } from '../../../src/jobs/jobTypes.ts';
import type { ReportJson } from '../../../src/report/reportJson.ts';
import { decisionsOf } from '../decidedReports.ts';
import { Recent } from '../recent.ts';
import { nothingHere } from './guardCustomers.ts';

/** How the shop speaks to its customers: `note` of its file. */
export type ShopVoice = ShopPhrases & {
  readonly shop?: string;
  readonly language?: string;
  readonly units?: NoteUnits;
  readonly weFix?: readonly string[];
};

/** What a customer may see of a job that has been checked: what the note says, and the proof. */
export interface CheckedView {
  readonly note: CustomerNote;
  readonly pictures: ReadonlyMap<number, NotePicture>;
  /** Null where there is nothing to approve. */
  readonly proof: ProofFacts | null;
}

export interface CustomerView {
  readonly job: Job;
  /** The latest. */
  readonly revision: Revision;
  /** Null until the revision has been checked. */
  readonly checked: CheckedView | null;
}

const mostViews = 12;

/** Makes what customers see out of the reports; kept until somebody decides or the shop's words change. */
export class CustomerViews {
  private readonly views = new Recent<Promise<CheckedView>>(mostViews);
  private readonly store: OpenedStore;
  private readonly voice: () => Promise<ShopVoice>;

  constructor(store: OpenedStore, voice: () => Promise<ShopVoice>) {
    this.store = store;
    this.voice = voice;
  }

  async of({ jobId }: CustomerLink, language: NoteLanguage, units: NoteUnits): Promise<CustomerView> {
    const job = await this.store.jobs.job(jobId);
    const revision = job?.revisions.at(-1);
    if (job === null || revision === undefined) throw nothingHere();
    const report = revision.state === 'checked' ? artifactOf(revision, 'report.json') : null;
    if (report === null) return { job, revision, checked: null };
    const voice = await this.voice();
    const composite = artifactOf(revision, compositeName);
    const decisions = decisionsOf(job, revision);
    const said = { voice, decisions: decisions.made, job: [job.jobName, job.customer] };
    const key = JSON.stringify([report.sha256, composite?.sha256, said, language, units]);
    const make = async (): Promise<CheckedView> => {
      const checked = JSON.parse(Buffer.from(await this.store.blobs.read(report.sha256)).toString()) as ReportJson;
      const decided = { ...checked, decisions };
      const weFix = voice.weFix ?? [];
      const shop = voice.shop ?? null;
      const wish = { language, units, shop, customer: job.customer, answerBy: null, phrases: voice, weFix };
      const note = customerNote(decided, wish);
      const png = composite === null ? null : await this.store.blobs.read(composite.sha256);
      return {
        note,
        pictures: png === null ? new Map() : await notePictures(decided, note, png),
        proof: png === null || checked.error !== undefined ? null : proofFacts(decided, wish),
      };
    };
    return { job, revision, checked: await this.views.get(key, make) };
  }
}

/** The picture of the art on the garment, as the check left it. */
export const compositeName = 'composite.png';

export function artifactOf({ artifacts }: Revision, name: string): Artifact | null {
  return artifacts.find((one) => one.name === name) ?? null;
}
