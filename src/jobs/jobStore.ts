import type { Answered, CustomerLink, NewCustomerAnswer, NewCustomerLink } from './customerTypes.ts';
import type {
  Arrival,
  Change,
  Claim,
  ClaimWish,
  Decision,
  Effect,
  EffectClaim,
  Failed,
  Finished,
  Job,
  JobFilter,
  JobPage,
  Lease,
  NewDecision,
  NewEffect,
  PendingMove,
  Pruned,
  PruneRule,
  Revision,
  StoreCounts,
  TakenIn,
  Told,
  WorkResult,
  WorkWish,
} from './jobTypes.ts';

/**
 * The job store and its queue: one interface for the embedded store and for PostgreSQL. Every call is one transaction,
 * lasting when its promise is kept. A call that is rejected with `StoreUnreachableError` may or may not have been
 * carried out; every call may then be made again: taking in, finishing, adding effects and ending a move do nothing the
 * second time, and a claim that got lost runs out.
 */
export interface JobStore {
  takeIn(arrival: Arrival): Promise<TakenIn>;

  /**
   * The next revision to work on, or null. Oldest first, but large ones only while they take less than half of the
   * hands at work and this hand's last one was small, unless no small one waits. Leases that ran out are taken back first.
   */
  claim(wish: WorkWish): Promise<Claim | null>;
  /** Heartbeat. The new end of the lease, or null when it was lost: stop working on it. */
  renew(lease: Lease, leaseMs: number): Promise<number | null>;
  finish(lease: Lease, result: WorkResult): Promise<Finished>;
  /** Back into the queue, without counting as a failure. False when the lease was lost. */
  handBack(lease: Lease, reason: string): Promise<boolean>;
  /** The try ended without an answer (a crash, a limit): tried again later, or set aside when that was the last try. */
  fail(lease: Lease, reason: string): Promise<Failed>;
  /** Everything that these workers, known to be gone, still hold goes back into the queue at once; how many. */
  handBackAllOf(workerIds: readonly string[], reason: string): Promise<number>;
  /** Puts a revision that ended or was set aside back into the queue. False when it waits or is being worked on. */
  tryAgain(revisionId: number, by: string): Promise<boolean>;

  /** Starts a move of the originals; null when one is pending already. */
  planMove(revisionId: number, to: string, wish: ClaimWish): Promise<PendingMove | null>;
  /** A pending move that nobody holds any more (or that this worker holds), to be finished or undone; null: none. */
  claimMove(wish: ClaimWish & { readonly revisionId?: number }): Promise<PendingMove | null>;
  /** After `done` place and files point to the new folder, after `undone` to the old. False when the move was lost. */
  endMove(move: PendingMove, outcome: 'done' | 'undone'): Promise<boolean>;

  /** How many were new. */
  addEffects(effects: readonly NewEffect[]): Promise<number>;
  claimEffect(wish: ClaimWish & { readonly kinds?: readonly string[] }): Promise<EffectClaim | null>;
  /** For what must never happen twice: said just before it happens, so that whoever claims it next knows. False when lost. */
  effectBegun(claim: EffectClaim): Promise<boolean>;
  /**
   * `told` is written into the history of the effect's revision the first time; `kept` is what stays of its payload, where
   * not all of it is to.
   */
  effectDone(claim: EffectClaim, told?: Told | null, kept?: unknown): Promise<boolean>;
  /** Tried again after `retryAfterMs`, set aside with the reason when null. False when the claim was lost. */
  effectFailed(claim: EffectClaim, reason: string, retryAfterMs: number | null, told?: Told | null): Promise<boolean>;
  /** The effects of a revision of one kind, oldest first. */
  effectsOf(revisionId: number, kind: string): Promise<readonly Effect[]>;

  decide(decision: NewDecision): Promise<Decision>;
  /** False when it was undone before. */
  undoDecision(decisionId: number, by: string, reason: string): Promise<boolean>;

  makeCustomerLink(link: NewCustomerLink): Promise<CustomerLink>;
  customerLinkBy(tokenSha256: string): Promise<CustomerLink | null>;
  /** Of a job, or with null of all; the latest first. */
  customerLinks(jobId: number | null): Promise<readonly CustomerLink[]>;
  /** False when it was revoked before, or is not there. */
  revokeCustomerLink(linkId: number, by: string): Promise<boolean>;
  answerAsCustomer(answer: NewCustomerAnswer): Promise<Answered>;

  /** By name or by id; null when there is none. */
  job(nameOrId: string | number): Promise<Job | null>;
  revision(revisionId: number): Promise<Revision | null>;
  /** The latest that has a file of this hash among those its check left. */
  revisionOfArtifact(sha256: string): Promise<Revision | null>;
  find(filter: JobFilter): Promise<JobPage>;
  counts(): Promise<StoreCounts>;
  /** What was written into histories after the change of this id, in that order, 1,000 at most; null: only the last. */
  changesAfter(id: number | null): Promise<readonly Change[]>;

  /** Removes records by a rule; never one that waits, is worked on, is being moved or has an effect to come. */
  prune(rule: PruneRule, by: string): Promise<Pruned>;
  /** Hashes of all blobs that some revision refers to. */
  blobsInUse(): Promise<readonly string[]>;
  /** Writes all records, as of one instant, into this file that must not exist; see backup.ts for the format. */
  exportRows(file: string): Promise<void>;

  close(): Promise<void>;
}

/** Files by content hash. What `put` has answered is on the disk, name and all. */
export interface BlobStore {
  put(bytes: Uint8Array): Promise<{ readonly sha256: string; readonly sizeBytes: number }>;
  /** Takes a copy of a file. */
  putFile(path: string): Promise<{ readonly sha256: string; readonly sizeBytes: number }>;
  /** The bytes, checked against their hash; throws when they are not there or not what they were. */
  read(sha256: string): Promise<Uint8Array>;
  pathOf(sha256: string): string;
  has(sha256: string): Promise<boolean>;
  /** Removes what is not in use and older than a day: what a worker has just put is not yet referred to. */
  sweep(inUse: ReadonlySet<string>): Promise<{ readonly count: number; readonly sizeBytes: number }>;
}

/** What `openJobStore` gives. */
export interface OpenedStore {
  readonly jobs: JobStore;
  readonly blobs: BlobStore;
  close(): Promise<void>;
}

export interface OpenOptions {
  /** A folder on a local disk, or "postgres://…". */
  readonly location: string;
  /** Reports and pictures; by default "blobs" in the store's folder. Must be given, and be shared, with PostgreSQL. */
  readonly blobFolder?: string;
  /** Only the records are wanted: the place of reports need not be known, and they cannot be used. */
  readonly recordsOnly?: boolean;
  /** What this process is, for others that find the folder owned: "plateglass watch". */
  readonly owner: string;
  /** Tries of one revision that may end without an answer before it is set aside; 3 unless given. */
  readonly maxFailures?: number;
}
