import { basename, dirname, join } from 'node:path';
import type { BlobStore } from '../jobs/jobStore.ts';
import type { Claim, JobFile } from '../jobs/jobTypes.ts';
import { copyFile } from './copyFile.ts';
import type { Disk } from './disk.ts';
import { flatNames } from './dropFiles.ts';
import { readManifest } from './manifest.ts';
import type { JobPlace } from './spool.ts';
import { placeIn } from './spool.ts';
import { unpackWhereArchive } from './unpackWhereArchive.ts';

/** What a check is given: a folder of films, a ticket, or why there is nothing to check. */
export interface JobArt {
  readonly art: string;
  readonly ticketFile: string | null;
  readonly refusal: string | null;
}

/** What must be known of a job to get at its films. */
export type ArtOfJob = Pick<Claim, 'source' | 'files' | 'ticketFile' | 'placeAt'>;

/** The place in the spool whose keep/ the originals lie in; null when they lie anywhere else. */
export async function placeOfKeep(disk: Disk, keep: string | null): Promise<JobPlace | null> {
  if (keep === null || basename(keep) !== 'keep') return null;
  const place = placeIn(dirname(dirname(keep)), basename(dirname(keep)));
  return (await disk.stat(place.manifest)) === null ? null : place;
}

/**
 * The films of a job: the copies that were made when it was taken in, or, when it is checked once more or came from
 * elsewhere, copies made now, which must be what was hashed then.
 */
export async function artOf(disk: Disk, blobs: BlobStore, claim: ArtOfJob, work: string): Promise<JobArt> {
  const { ticketFile } = claim;
  const place = await placeOfKeep(disk, claim.placeAt);
  const manifest = place === null ? null : await readManifest(disk, place.manifest);
  if (place !== null && manifest !== null && (await disk.stat(place.art)) !== null) {
    const ticket = manifest.ticket === null ? null : join(place.ticket, basename(manifest.ticket.path));
    return { art: place.art, ticketFile: ticket, refusal: manifest.refusal };
  }
  const made = placeIn(work, 'job');
  await disk.makeFolder(made.art);
  const names = flatNames(claim.files.map(({ name }) => name));
  // What came through the page is kept with the reports, wherever those have been moved to since.
  const lies = ({ storedPath, sha256 }: JobFile) => (claim.source.kind === 'page' ? blobs.pathOf(sha256) : storedPath);
  for (const [index, file] of claim.files.entries())
    await copyChecked(disk, lies(file), join(made.art, names[index]), file.sha256);
  const refusal = await unpackWhereArchive(disk, made);
  if (ticketFile === null) return { art: made.art, ticketFile: null, refusal };
  await disk.makeFolder(made.ticket);
  const ticket = join(made.ticket, basename(ticketFile.name));
  await copyChecked(disk, lies(ticketFile), ticket, ticketFile.sha256);
  return { art: made.art, ticketFile: ticket, refusal };
}

async function copyChecked(disk: Disk, from: string, to: string, sha256: string): Promise<void> {
  if ((await copyFile(disk, from, to)).sha256 !== sha256)
    throw new Error(`${from} is not the file that was taken in. Drop it again.`);
}
