import { dirname, join } from 'node:path';
import type { BlobStore } from '../jobs/jobStore.ts';
import type { Artifact, ArtifactKind } from '../jobs/jobTypes.ts';
import { copyFile } from './copyFile.ts';
import type { Disk } from './disk.ts';
import { reportFolder } from './outcomes.ts';

/** What the review in the browser is shown of; whoever opens the folder has no use for it. */
const onlyForReview = /^plates\//;

/** Keeps every file of a written report and of the folders in it, in the order of their names. */
export async function keepReport(disk: Disk, blobs: BlobStore, folder: string): Promise<Artifact[]> {
  const artifacts: Artifact[] = [];
  for (const name of (await namesBelow(disk, folder, '')).sort())
    artifacts.push({ kind: kindOf(name), name, ...(await blobs.putFile(join(folder, name))) });
  return artifacts;
}

async function namesBelow(disk: Disk, folder: string, before: string): Promise<string[]> {
  const names: string[] = [];
  for (const { name, kind } of await disk.list(join(folder, before))) {
    if (kind === 'file') names.push(before + name);
    else if (kind === 'folder') names.push(...(await namesBelow(disk, folder, `${before}${name}/`)));
  }
  return names;
}

function kindOf(name: string): ArtifactKind {
  if (name === 'report.json') return 'reportJson';
  if (name === 'report.html') return 'reportHtml';
  if (name === 'report.pdf') return 'reportPdf';
  return name.endsWith('.png') ? 'picture' : 'other';
}

/** Lays the report, without the plates, beside the originals: all of it, or, after a crash, none; instead of an earlier one. */
export async function layReport(
  disk: Disk,
  blobs: BlobStore,
  artifacts: readonly Artifact[],
  beside: string,
): Promise<void> {
  const unfinished = join(beside, `.${reportFolder}.part`);
  await disk.remove(unfinished);
  await disk.makeFolder(unfinished);
  for (const { name, sha256 } of artifacts.filter((artifact) => !onlyForReview.test(artifact.name))) {
    const to = join(unfinished, name);
    await disk.makeFolder(dirname(to));
    const copied = await copyFile(disk, blobs.pathOf(sha256), to);
    if (copied.sha256 !== sha256) throw new Error(`${blobs.pathOf(sha256)} is not what it was`);
  }
  await disk.syncFolder(unfinished);
  const laid = join(beside, reportFolder);
  await disk.remove(laid);
  await disk.rename(unfinished, laid);
  await disk.syncFolder(beside);
}
