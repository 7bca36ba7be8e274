import type { OutgoingMail } from '../../src/post/outbox.ts';
import type { ReportDecisions } from '../../src/report/reportJson.ts';
import type { NoteAsk, NoteFacts } from '../shared/notes.ts';
import type { KeptPlateFile } from './revisionPlates.ts';

/** What was kept of a revision. */
export interface PaperFiles {
  /** The report JSON as the check wrote it. */
  readonly reportFile: string;
  /** The picture that lies beside the report; null where there is none. */
  readonly compositeFile: string | null;
  readonly plates: readonly KeptPlateFile[];
}

/** The revision that papers are made of. */
export interface PaperSource extends PaperFiles {
  readonly decisions: ReportDecisions;
  /** The customer as the job names it. */
  readonly customer: string | null;
  /** The last revision before it that was checked; null when there is none. */
  readonly before: PaperFiles | null;
}

export const noteFormats = ['eml', 'html', 'pdf', 'txt', 'md'] as const;
export type NoteFormat = (typeof noteFormats)[number];

/** Where the customer sees the job, and until which day, 2030-06-24. */
export interface PageLink {
  readonly url: string;
  readonly openUntil: string;
}

/** Makes papers of what was checked, as the shop's file says. Throws `Refused`. */
export interface NoteDesk {
  /** `pageLanguage`: of the points that are chosen from. */
  note(source: PaperSource, ask: NoteAsk, pageLanguage: string): Promise<Omit<NoteFacts, 'mails'>>;
  rendered(source: PaperSource, ask: NoteAsk & { readonly to?: string }, format: NoteFormat): Promise<Uint8Array>;
  workList(source: PaperSource, ask: Pick<NoteAsk, 'language' | 'units'>): Promise<Uint8Array>;
  /** Null where the size of a film is not known, as then there is nothing to approve. */
  proof(source: PaperSource, ask: Pick<NoteAsk, 'language' | 'units'>): Promise<Uint8Array | null>;
  /** The mail under the key that keeps it from going out twice; `link` is to the customer’s page. */
  mail(
    source: PaperSource,
    ask: NoteAsk & { readonly to: string },
    again: number,
    link: PageLink | null,
  ): Promise<OutgoingMail & { readonly key: string }>;
}
