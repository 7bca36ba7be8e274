import type { Verdict } from '../findings/outcome.ts';
import type { CustomerAnswer, CustomerAnswerKind } from './customerTypes.ts';

/**
 * Plain data of the job store: everything here survives JSON. Times are milliseconds since 1970 by the clock of the
 * database, unless a field says otherwise.
 */

/**
 * waiting: in the queue. working: somebody holds a lease on it. checked: there is a report with a verdict.
 * couldNotRun: looked at, and it cannot be checked as it is (a film that does not open, a wrong ticket).
 * setAside: given up after too many tries that ended without an answer; the reason is kept.
 */
export type RevisionState = 'waiting' | 'working' | 'checked' | 'couldNotRun' | 'setAside';
export const revisionStates: readonly RevisionState[] = ['waiting', 'working', 'checked', 'couldNotRun', 'setAside'];

/** Large jobs are those that would keep a hand busy so long that small ones must not stand behind them. */
export type SizeClass = 'small' | 'large';

export interface JobFile {
  /** As it was dropped, relative to the job, with forward slashes: "coral.tif", "films/coral.tif". */
  readonly name: string;
  readonly sizeBytes: number;
  /** Lower-case hexadecimal. */
  readonly sha256: string;
  /** Absolute path at which the bytes lie now. Follows the moves of the revision. */
  readonly storedPath: string;
}

export interface Arrival {
  /** The name that makes two arrivals the same job. */
  readonly jobName: string;
  readonly customer: string | null;
  readonly source: { readonly kind: 'folder' | 'page' | 'commandLine' | 'mail'; readonly detail: string };
  /** At least one. For a ticket that came late: the files of the latest revision again. */
  readonly files: readonly JobFile[];
  readonly ticketFile: JobFile | null;
  /** By the clock of whoever received it. */
  readonly arrivedAt: number;
  /** Who brought it, for the history: a person, or "hot folder". */
  readonly by: string;
  /** Folder in which the originals lie now (staging), or null when they are not kept in a folder of ours. */
  readonly placeAt: string | null;
  /** Without it: large from `largeFromBytes` of art. */
  readonly sizeClass?: SizeClass;
  /** Effects to be carried out because it was taken in; dropped when it is already known. */
  readonly effects?: readonly NewEffect[];
}

/** Art of this size and more counts as large when the arrival does not say. */
export const largeFromBytes = 64 * 1024 * 1024;

export interface TakenIn {
  /**
   * alreadyKnown: the latest revision of this job has the same files (names and bytes) and the same ticket; nothing was
   * added. Anything else under a known name is the next revision.
   */
  readonly kind: 'newJob' | 'newRevision' | 'alreadyKnown';
  readonly jobId: number;
  readonly revisionId: number;
  /** 1 for the first. */
  readonly revision: number;
  readonly state: RevisionState;
}

/**
 * The right to work on a revision and to say how it ended: valid until somebody else has been given a later attempt.
 * Every change made under a lease checks attempt and worker.
 */
export interface Lease {
  readonly revisionId: number;
  readonly attempt: number;
  readonly workerId: string;
}

export interface Claim {
  readonly lease: Lease;
  readonly leaseUntil: number;
  /** Tries before this one that ended without an answer. */
  readonly failuresBefore: number;
  readonly jobId: number;
  readonly jobName: string;
  readonly customer: string | null;
  readonly revision: number;
  readonly source: Arrival['source'];
  readonly files: readonly JobFile[];
  readonly ticketFile: JobFile | null;
  readonly sizeClass: SizeClass;
  readonly placeAt: string | null;
}

export interface ClaimWish {
  /** Unlike that of every other hand: machine, process and number of the hand. */
  readonly workerId: string;
  readonly leaseMs: number;
}

export interface WorkWish extends ClaimWish {
  /** Only revisions whose originals lie in no folder of ours, or at a path that begins with one of these. */
  readonly placesUnder?: readonly string[];
}

/** Something was written into the history of a job. */
export interface Change {
  /** Grows with every change. */
  readonly id: number;
  readonly jobId: number;
  readonly what: string;
}

export type ArtifactKind = 'reportJson' | 'reportHtml' | 'reportPdf' | 'picture' | 'other';

/** A file made by the check, kept in the blob store under its hash. */
export interface Artifact {
  readonly kind: ArtifactKind;
  /** File name within the report's folder: "report.json", "pictures/thin-line-1.png". */
  readonly name: string;
  readonly sha256: string;
  readonly sizeBytes: number;
}

export interface WorkResult {
  /** couldNotRun puts the revision in the state of that name, every other verdict in `checked`. */
  readonly verdict: Verdict;
  /** Why it could not run, or one line about the verdict. */
  readonly reason: string | null;
  readonly artifacts: readonly Artifact[];
  readonly inkNames: readonly string[];
  /** Seconds by part of the work. */
  readonly timings: Readonly<Record<string, number>>;
  /** Where the originals are to go now; the move is pending from the same instant, held by this worker for `leaseMs`. */
  readonly moveTo?: { readonly folder: string; readonly leaseMs: number };
  readonly effects?: readonly NewEffect[];
}

export type Finished =
  /** Also when the same lease has finished it before: the first result stands. */
  | { readonly accepted: true; readonly move: PendingMove | null }
  /** Somebody else has taken over: nothing was written. */
  | { readonly accepted: false };

/** waitingAgain: tried again not before `notBefore`. setAside: that was the last try. lost: the lease had gone. */
export type Failed =
  | { readonly outcome: 'waitingAgain'; readonly notBefore: number; readonly failures: number }
  | { readonly outcome: 'setAside'; readonly failures: number }
  | { readonly outcome: 'lost' };

/** The right to carry out one move of originals; at most one is pending for a revision. */
export interface PendingMove {
  readonly revisionId: number;
  readonly jobId: number;
  readonly jobName: string;
  readonly revision: number;
  /** Null when the originals lay in no folder of ours. */
  readonly from: string | null;
  readonly to: string;
  readonly attempt: number;
  readonly workerId: string;
  readonly leaseUntil: number;
}

/** Something to be done outside the store: a notification, a mail. Carried out at least once; the key is unique. */
export interface NewEffect {
  /** The same key is never added twice: "webhook:17:checked". */
  readonly key: string;
  readonly kind: string;
  /** Any JSON value. */
  readonly payload: unknown;
  readonly revisionId?: number;
  /** Written into the history of the revision when the effect is added. */
  readonly told?: Told;
}

/** What an effect of a revision adds to the history of its job, in the same transaction. */
export interface Told {
  readonly who: string;
  readonly what: string;
  readonly detail?: Readonly<Record<string, unknown>>;
}

export type EffectState = 'waiting' | 'working' | 'done' | 'setAside';
export const effectStates: readonly EffectState[] = ['waiting', 'working', 'done', 'setAside'];

export interface EffectClaim {
  readonly effectId: number;
  readonly attempt: number;
  readonly workerId: string;
  readonly leaseUntil: number;
  readonly failuresBefore: number;
  /** The hand before was lost after it had begun: nobody knows whether it happened. */
  readonly begunBefore: boolean;
  readonly key: string;
  readonly kind: string;
  readonly payload: unknown;
  readonly revisionId: number | null;
}

/** An effect as it stands. */
export interface Effect {
  readonly effectId: number;
  readonly key: string;
  readonly payload: unknown;
  readonly state: EffectState;
  /** Why it failed last; null when it has not. */
  readonly reason: string | null;
  readonly addedAt: number;
  readonly doneAt: number | null;
}

/** released: may be filmed. onHold: must not be. Null: nobody has said so, or it was undone. */
export type Standing = 'released' | 'onHold' | null;

/**
 * Of a revision: release, hold, askCustomer (on hold until the customer has answered). Of a finding: acceptFinding (it is
 * filmed as it is), doOurselves (the shop puts it right itself).
 */
export type DecisionKind = 'release' | 'hold' | 'askCustomer' | FindingDecisionKind;
export type FindingDecisionKind = 'acceptFinding' | 'doOurselves';
export const findingDecisionKinds: readonly FindingDecisionKind[] = ['acceptFinding', 'doOurselves'];

export interface NewDecision {
  readonly revisionId: number;
  readonly kind: DecisionKind;
  readonly by: string;
  /** Asked for when it is of a finding. */
  readonly reason: string;
  /** Which one it is of, if of a finding. */
  readonly finding?: { readonly checkId: string; readonly code: string; readonly inkNames: readonly string[] };
}

export interface Decision extends NewDecision {
  readonly id: number;
  readonly at: number;
  readonly undone: { readonly at: number; readonly by: string; readonly reason: string } | null;
}

/** One line of the history: who did what when. */
export interface HistoryEntry {
  readonly at: number;
  readonly who: string;
  /** arrived, claimed, handedBack, leaseRanOut, failed, checked, couldNotRun, setAside, triedAgain, moved, mailQueued … */
  readonly what: string;
  readonly revision: number | null;
  readonly detail: Readonly<Record<string, unknown>>;
}

export interface RevisionSummary {
  readonly jobId: number;
  readonly jobName: string;
  readonly customer: string | null;
  readonly revisionId: number;
  readonly revision: number;
  readonly isLatest: boolean;
  readonly state: RevisionState;
  readonly verdict: Verdict | null;
  readonly standing: Standing;
  /** What the customer answered last to this revision. */
  readonly customerAnswer: CustomerAnswerKind | null;
  readonly reason: string | null;
  readonly inkNames: readonly string[];
  readonly sizeBytes: number;
  readonly arrivedAt: number;
  /** When it was taken in. */
  readonly takenInAt: number;
  readonly finishedAt: number | null;
}

export interface Revision extends RevisionSummary {
  readonly source: Arrival['source'];
  readonly sizeClass: SizeClass;
  readonly files: readonly JobFile[];
  readonly ticketFile: JobFile | null;
  readonly artifacts: readonly Artifact[];
  readonly timings: Readonly<Record<string, number>>;
  readonly attempt: number;
  readonly failures: number;
  /** Where the originals lie, and where they are on their way to. */
  readonly place: { readonly at: string | null; readonly movingTo: string | null };
  readonly decisions: readonly Decision[];
  /** The same for the same films with the same ticket. */
  readonly contentKey: string;
  /** What customers answered, oldest first; the last one counts. */
  readonly answers: readonly CustomerAnswer[];
}

export interface Job {
  readonly jobId: number;
  readonly jobName: string;
  readonly customer: string | null;
  /** Oldest first. */
  readonly revisions: readonly Revision[];
  /** Oldest first. */
  readonly history: readonly HistoryEntry[];
}

/** Everything given must hold; texts are sought without regard to case, anywhere in the name. */
export interface JobFilter {
  /** In the name, the customer or an ink's name. */
  readonly text?: string;
  readonly name?: string;
  readonly customer?: string;
  readonly ink?: string;
  readonly arrivedFrom?: number;
  readonly arrivedBefore?: number;
  readonly verdicts?: readonly Verdict[];
  readonly states?: readonly RevisionState[];
  readonly standing?: 'released' | 'onHold' | 'none';
  /** Only the latest revision of each job unless set. */
  readonly allRevisions?: boolean;
  /** At most this many, 100 unless given, 1,000 at most. */
  readonly limit?: number;
  /** `next` of the page before. */
  readonly after?: string;
}

export interface JobPage {
  /** Latest arrival first. */
  readonly revisions: readonly RevisionSummary[];
  readonly next: string | null;
}

export interface StoreCounts {
  readonly revisions: Readonly<Record<RevisionState, number>>;
  readonly effects: Readonly<Record<EffectState, number>>;
  /** Of those that wait or are worked on, how many of each kind. */
  readonly openEffects: Readonly<Record<string, number>>;
  readonly pendingMoves: number;
  readonly jobs: number;
  /** Age of the oldest revision that waits; null when none does. */
  readonly oldestWaitingMs: number | null;
  /** Of finished tries: how many, and how long from claim to result in all. */
  readonly worked: { readonly count: number; readonly totalMs: number };
  /** The clock of the database when it counted. */
  readonly now: number;
}

export interface PruneRule {
  /** Revisions that ended longer ago than this go. */
  readonly olderThanDays: number;
  /** The latest revision of a job stays; unless set to false. */
  readonly keepLatest?: boolean;
  /** What has been released stays; unless set to false. */
  readonly keepReleased?: boolean;
  /** Only say what would go. */
  readonly tryOut?: boolean;
}

export interface Pruned {
  readonly revisions: readonly {
    readonly jobName: string;
    readonly revision: number;
    readonly verdict: Verdict | null;
  }[];
  readonly jobsGone: number;
}
