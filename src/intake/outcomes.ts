import { join } from 'node:path';
import type { Verdict } from '../findings/outcome.ts';
import type { Disk } from './disk.ts';

/** Where a job's folder goes, by its verdict; in the words the report has for it. */
export const outcomeFolders: Record<Verdict, string> = {
  pass: 'Ready to film',
  needsReview: 'Look first',
  fail: 'Not ready',
  couldNotRun: 'Not checked',
};

/** Files that were dropped again, byte for byte, after they had been taken in. */
export const againFolder = 'Dropped again';

/** In a job's folder, beside its originals. */
export const reportFolder = 'Film report';

/** Names in the watched folder that are never a job. */
export const reservedNames: ReadonlySet<string> = new Set([
  ...Object.values(outcomeFolders),
  againFolder,
  reportFolder,
]);

/** A folder for one revision that is not there yet. */
export async function freeFolderFor(
  disk: Disk,
  outcomes: string,
  verdict: Verdict,
  jobName: string,
  revision: number,
): Promise<string> {
  return freeName(disk, join(outcomes, outcomeFolders[verdict]), `${safeName(jobName)}, revision ${revision}`);
}

/** A name that nothing has yet: as wished, or with a number behind. */
export async function freeName(disk: Disk, folder: string, wished: string): Promise<string> {
  for (let n = 1; ; n++) {
    const path = join(folder, n === 1 ? wished : `${wished} (${n})`);
    if ((await disk.stat(path)) === null) return path;
  }
}

/** Jobs may come from elsewhere with a name that no folder can have. */
function safeName(jobName: string): string {
  // biome-ignore lint/suspicious/noControlCharactersInRegex: these are the characters to take out.
  const name = jobName.replace(/[/\\:*?"<>|\u0000-\u001f]/g, '_').replace(/^\.+|[. ]+$/g, '_');
  return (
    Buffer.from(name)
      .subarray(0, 180)
      .toString('utf8')
      .replace(/\ufffd+$/, '') || 'job'
  );
}
