import { join } from 'node:path';
import type { Verdict } from '../findings/outcome.ts';
import { verdictWords } from '../report/words.ts';
import type { Disk } from './disk.ts';

/** Files that were dropped again, byte for byte, after they had been taken in. */
export const againFolder = 'Dropped again';

/** In it a folder with the name of a job holds films that are its next revision, whatever they are called. */
export const answersFolder = 'Answers';

/** In a job's folder, beside its originals. */
export const reportFolder = 'Film report';

/** Names in the watched folder that are never a job. */
export const reservedNames: ReadonlySet<string> = new Set([
  ...Object.values(verdictWords),
  againFolder,
  answersFolder,
  reportFolder,
]);

/** A folder for one revision that is not there yet, in that of its verdict, which has the words of the report. */
export async function freeFolderFor(
  disk: Disk,
  outcomes: string,
  verdict: Verdict,
  jobName: string,
  revision: number,
): Promise<string> {
  return freeName(disk, join(outcomes, verdictWords[verdict]), `${safeName(jobName)}, revision ${revision}`);
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
