import type { ReportJson } from '../../src/report/reportJson.ts';

/** POST /api/jobs/:job/:revision/judge: the films of a revision by another ticket. Nothing is kept of it. */
export interface TicketToJudge {
  readonly ticket: Readonly<Record<string, unknown>>;
}

/** notMeasured: by this ticket the films must be measured again first, and why. */
export type JudgedFacts =
  | { readonly kind: 'judged'; readonly report: ReportJson }
  | { readonly kind: 'notMeasured'; readonly reasons: readonly string[] };

/** GET /api/jobs/:job/:revision/ticket: the ticket the revision was checked by, as it is written. */
export interface TicketFacts {
  readonly fileName: string | null;
  /** Empty without a ticket; null when the file cannot be read as one. */
  readonly values: Readonly<Record<string, unknown>> | null;
}
