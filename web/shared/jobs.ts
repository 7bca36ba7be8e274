import type { Verdict } from '../../src/findings/outcome.ts';
import type { ValueProblem } from './shop.ts';

/** Times are milliseconds since 1970. */

export type RevisionState = 'waiting' | 'working' | 'checked' | 'couldNotRun' | 'setAside';
/** Null: nobody has decided yet. */
export type Standing = 'released' | 'onHold' | null;

export type CustomerAnswerKind = 'approved' | 'declined';

export interface JobLine {
  readonly jobId: number;
  readonly jobName: string;
  readonly customer: string | null;
  readonly revision: number;
  readonly state: RevisionState;
  readonly verdict: Verdict | null;
  readonly standing: Standing;
  /** What the customer answered last to this revision. */
  readonly customerAnswer: CustomerAnswerKind | null;
  readonly reason: string | null;
  readonly inkNames: readonly string[];
  readonly sizeBytes: number;
  readonly arrivedAt: number;
  readonly finishedAt: number | null;
}

export interface JobLines {
  readonly jobs: readonly JobLine[];
  /** Asks for the next page; null on the last. */
  readonly next: string | null;
  /** The clock of the store, which ages are reckoned by. */
  readonly now: number;
}

export interface RevisionFacts extends JobLine {
  readonly isLatest: boolean;
  readonly files: readonly { readonly name: string; readonly sizeBytes: number; readonly sha256: string }[];
  readonly ticketFileName: string | null;
  /** Names of what the check left: "report.json", "crop-1.png" … */
  readonly artifacts: readonly { readonly name: string; readonly sizeBytes: number }[];
  readonly decisions: readonly DecisionFacts[];
  /** What customers answered by their links, oldest first; the last one counts. */
  readonly answers: readonly CustomerAnswerFacts[];
}

export interface CustomerAnswerFacts {
  readonly kind: CustomerAnswerKind;
  readonly name: string;
  readonly remark: string;
  readonly at: number;
  /** Hash of the films and the ticket it holds for. */
  readonly contentKey: string;
}

/** askCustomer: on hold until the customer has answered. */
export type RevisionDecisionKind = 'release' | 'hold' | 'askCustomer';
/** acceptFinding: filmed as it is. doOurselves: the shop puts it right itself. */
export type FindingDecisionKind = 'acceptFinding' | 'doOurselves';

export interface DecisionFacts {
  readonly id: number;
  readonly kind: RevisionDecisionKind | FindingDecisionKind;
  readonly by: string;
  readonly reason: string;
  readonly at: number;
  readonly finding: FindingKey | null;
  readonly undone: { readonly at: number; readonly by: string; readonly reason: string } | null;
}

/** Which finding of a report, so that it is found again in another report of the same job. */
export interface FindingKey {
  readonly checkId: string;
  readonly code: string;
  readonly inkNames: readonly string[];
}

export interface JobFacts {
  readonly jobId: number;
  readonly jobName: string;
  readonly customer: string | null;
  /** Latest first. */
  readonly revisions: readonly RevisionFacts[];
  /** Latest first. */
  readonly history: readonly {
    readonly at: number;
    readonly who: string;
    readonly what: string;
    readonly revision: number | null;
    /** Of what became of a mail. */
    readonly mail?: { readonly to: string; readonly messageId: string };
  }[];
}

/** `by` may be left out where one signs in with an account. */
export type NewDecision =
  | { readonly kind: RevisionDecisionKind; readonly by?: string; readonly reason: string }
  | { readonly kind: FindingDecisionKind; readonly by?: string; readonly reason: string; readonly finding: FindingKey }
  | { readonly kind: 'undo'; readonly by?: string; readonly reason: string; readonly decisionId: number };

/** What every refused request answers. */
export interface RefusedRequest {
  readonly error: {
    readonly code: string;
    readonly message: string;
    readonly remedy: string;
    /** Of "wrong-values": each mistake of a ticket or a shop. */
    readonly problems?: readonly ValueProblem[];
  };
}

/** Sent to every open page (GET /api/events). shop: the shop's values were changed; it is of no job. */
export type JobEvent = ProgressEvent | { readonly what: 'job'; readonly jobId: number } | { readonly what: 'shop' };

export interface ProgressEvent {
  readonly what: 'progress';
  readonly jobId: number;
  readonly revision: number;
  /** reading, drawing, measuring, comparing, judging, picturing or writing. */
  readonly stage: string;
  readonly done: number;
  readonly total: number;
}
