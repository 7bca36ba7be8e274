import { join } from 'node:path';
import type { Completeness } from './complete/completeness.ts';
import { completenessOf } from './complete/index.ts';
import type { Disk } from './disk.ts';
import { codeOf } from './disk.ts';
import type { DropFiles } from './dropFiles.ts';
import { withSource } from './openSource.ts';

/** The worst of what the files of a drop say of their ends, or why one of them cannot be opened yet. */
export type Readiness =
  | { readonly kind: 'looked'; readonly worst: Completeness; readonly file: string | null }
  | { readonly kind: 'locked'; readonly file: string; readonly reason: string };

const rank: Record<Completeness, number> = { complete: 0, unknown: 1, short: 2 };

export async function readinessOf(disk: Disk, root: string, { files, unfinished }: DropFiles): Promise<Readiness> {
  let worst: Completeness = unfinished ? 'short' : 'complete';
  let worstFile: string | null = null;
  for (const { path, part } of files) {
    try {
      // Every file must open; only films tell where they end. An empty ticket is a ticket, an empty note a note.
      const completeness = await withSource(disk, join(root, path), (source) =>
        part === 'art' ? completenessOf(source) : Promise.resolve('complete' as const),
      );
      if (rank[completeness] > rank[worst]) [worst, worstFile] = [completeness, path];
    } catch (error) {
      return { kind: 'locked', file: path, reason: codeOf(error) || (error as Error).message };
    }
  }
  return { kind: 'looked', worst, file: worstFile };
}
