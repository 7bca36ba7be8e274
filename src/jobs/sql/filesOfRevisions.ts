import type { JobFile } from '../jobTypes.ts';
import type { Transaction } from './database.ts';
import { marks } from './database.ts';
import { type FileRow, fileOf } from './rows.ts';

export interface FilesOfRevision {
  readonly files: readonly JobFile[];
  readonly ticketFile: JobFile | null;
}

/** The originals of each of these revisions, in the order they were given. */
export async function filesOfRevisions(
  transaction: Transaction,
  revisionIds: readonly number[],
): Promise<Map<number, FilesOfRevision>> {
  const found = new Map<number, FilesOfRevision>();
  if (revisionIds.length === 0) return found;
  const rows = await transaction.all<FileRow>(
    `SELECT * FROM files WHERE revision_id IN (${marks(revisionIds)}) ORDER BY revision_id, position`,
    revisionIds,
  );
  for (const id of revisionIds) {
    const own = rows.filter((row) => row.revision_id === id);
    const ticket = own.find(({ role }) => role === 'ticket');
    found.set(id, {
      files: own.filter(({ role }) => role === 'art').map(fileOf),
      ticketFile: ticket === undefined ? null : fileOf(ticket),
    });
  }
  return found;
}
