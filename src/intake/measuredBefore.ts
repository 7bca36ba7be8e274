import { basename, join } from 'node:path';
import { factsFileName } from '../inspect/measuredFacts.ts';
import type { BlobStore, JobStore } from '../jobs/jobStore.ts';
import type { Artifact, Claim, JobFile } from '../jobs/jobTypes.ts';
import { copyFile } from './copyFile.ts';
import type { Disk } from './disk.ts';

const keptFolder = /^plates\//;

/** What an earlier check kept beside its plates of what it measured; null when it kept nothing. */
export function factsAmong(artifacts: readonly Artifact[]): Artifact | null {
  return artifacts.find(({ name }) => name === `plates/${factsFileName}`) ?? null;
}

/**
 * Lays what an earlier revision with the same films kept of them into a folder, to be judged again; null when there is
 * no such revision. That they are the same films the check looks at once more.
 */
export async function layMeasuredBefore(
  disk: Disk,
  { store, blobs }: { readonly store: JobStore; readonly blobs: BlobStore },
  claim: Claim,
  work: string,
): Promise<string | null> {
  const revisions = (await store.job(claim.jobId))?.revisions ?? [];
  const before = revisions
    .filter(({ revision }) => revision < claim.revision)
    .findLast(({ files, artifacts }) => factsAmong(artifacts) !== null && sameFilms(files, claim.files));
  if (before === undefined) return null;
  const folder = join(work, 'measured');
  await disk.makeFolder(folder);
  for (const { name, sha256 } of before.artifacts.filter((artifact) => keptFolder.test(artifact.name))) {
    const copied = await copyFile(disk, blobs.pathOf(sha256), join(folder, basename(name)));
    if (copied.sha256 !== sha256) throw new Error(`${blobs.pathOf(sha256)} is not what it was`);
  }
  return folder;
}

function sameFilms(a: readonly JobFile[], b: readonly JobFile[]): boolean {
  const key = (files: readonly JobFile[]) =>
    files
      .map(({ name, sha256 }) => `${sha256} ${name}`)
      .sort()
      .join('\n');
  return key(a) === key(b);
}
