import type { JobLine } from './jobs.ts';

/** POST /api/uploads. The name may have folders: "films/coral.tif". */
export interface NewUpload {
  readonly name: string;
  readonly sizeBytes: number;
}

/**
 * Answer of POST, GET and PATCH /api/uploads/:id. PATCH sends the next piece (application/octet-stream, at most
 * `mostPieceBytes`) with the header `upload-offset`; when another offset is wanted the answer is 409 and GET tells it.
 */
export interface UploadFacts {
  readonly id: string;
  readonly name: string;
  readonly sizeBytes: number;
  /** Bytes that are safely there. */
  readonly offset: number;
}

export const mostPieceBytes = 4 * 1024 * 1024;
export const mostUploadBytes = 4 * 1024 * 1024 * 1024;
/** Uploads that are not part of a job yet. */
export const mostOpenUploads = 200;

/** POST /api/jobs, answered by `NewJobFacts`. */
export interface NewJob {
  /** Of uploads that are all there. */
  readonly uploads: readonly string[];
  /** Of a job whose next revision this is. */
  readonly jobId?: number;
  /** Of a new job; without it the name of its only file. */
  readonly jobName?: string;
  readonly customer?: string;
  /** As the ticket schema says; a ticket file among the uploads counts when this is left out. */
  readonly ticket?: Readonly<Record<string, unknown>>;
  readonly by?: string;
}

/** PUT /api/jobs/:job/ticket: the latest revision's films with this ticket are the next revision. */
export interface NewTicket {
  readonly ticket: Readonly<Record<string, unknown>>;
  readonly by?: string;
}

export interface NewJobFacts {
  /** alreadyKnown: the same films with the same ticket were there; nothing was added. */
  readonly kind: 'newJob' | 'newRevision' | 'alreadyKnown';
  readonly job: JobLine;
}
