import type { Verdict } from '../../findings/outcome.ts';
import type { CustomerAnswerKind } from '../customerTypes.ts';
import type { Arrival, EffectState, JobFile, RevisionState, SizeClass, Standing } from '../jobTypes.ts';

/** Rows as both databases give them. */
export interface RevisionRow {
  readonly id: number;
  readonly job_id: number;
  readonly revision: number;
  readonly content_key: string;
  readonly source_kind: Arrival['source']['kind'];
  readonly source_detail: string;
  readonly size_class: SizeClass;
  readonly size_bytes: number;
  readonly arrived_at: number;
  readonly taken_in_at: number;
  readonly state: RevisionState;
  readonly claimable_from: number;
  readonly attempt: number;
  readonly failures: number;
  readonly worker_id: string | null;
  readonly lease_ms: number | null;
  readonly lease_until: number | null;
  readonly claimed_at: number | null;
  readonly verdict: Verdict | null;
  readonly reason: string | null;
  readonly standing: Standing;
  readonly customer_answer: CustomerAnswerKind | null;
  readonly finished_at: number | null;
  readonly timings: string;
  readonly place_at: string | null;
  readonly moving_to: string | null;
  readonly move_attempt: number;
  readonly move_worker_id: string | null;
  readonly move_lease_ms: number | null;
  readonly move_lease_until: number | null;
}

export interface JobRow {
  readonly id: number;
  readonly name: string;
  readonly customer: string | null;
  readonly latest_revision: number;
}

/** A revision with what its job says of itself. */
export type RevisionOfJobRow = RevisionRow & {
  readonly job_name: string;
  readonly customer: string | null;
  readonly latest_revision: number;
};

export const revisionOfJob = `SELECT revisions.*, jobs.name AS job_name, jobs.customer AS customer,
  jobs.latest_revision AS latest_revision FROM revisions JOIN jobs ON jobs.id = revisions.job_id`;

export interface FileRow {
  readonly revision_id: number;
  readonly position: number;
  readonly role: 'art' | 'ticket';
  readonly name: string;
  readonly size_bytes: number;
  readonly sha256: string;
  readonly stored_path: string;
}

export interface EffectRow {
  readonly id: number;
  readonly effect_key: string;
  readonly kind: string;
  readonly payload: string;
  readonly revision_id: number | null;
  readonly state: EffectState;
  readonly attempt: number;
  readonly failures: number;
  readonly lease_until: number;
  readonly reason: string | null;
  readonly created_at: number;
  readonly done_at: number | null;
}

export function fileOf(row: FileRow): JobFile {
  return { name: row.name, sizeBytes: row.size_bytes, sha256: row.sha256, storedPath: row.stored_path };
}
