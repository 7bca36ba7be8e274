import { createHash } from 'node:crypto';
import type { JobFile } from './jobTypes.ts';

/** The same for the same files (names and bytes) with the same ticket, in whatever order and wherever they lie. */
export function contentKey(files: readonly JobFile[], ticketFile: JobFile | null): string {
  const lines = files.map(({ name, sha256 }) => JSON.stringify([name.normalize('NFC'), sha256])).sort();
  return createHash('sha256')
    .update([...lines, ticketFile?.sha256 ?? 'no ticket'].join('\n'))
    .digest('hex');
}
