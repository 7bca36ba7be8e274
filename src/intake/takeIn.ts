import { dirname, join } from 'node:path';
import type { JobStore } from '../jobs/jobStore.ts';
import type { JobFile, TakenIn } from '../jobs/jobTypes.ts';
import type { AnsweredJob } from './answeredJob.ts';
import type { Clock } from './clock.ts';
import { copyFile } from './copyFile.ts';
import type { Disk } from './disk.ts';
import { writeWhole } from './disk.ts';
import type { DropFile, DropFiles } from './dropFiles.ts';
import { flatNames } from './dropFiles.ts';
import type { Drop } from './dropNames.ts';
import { jobKeyOf } from './dropNames.ts';
import type { Manifest, TakenFile } from './manifest.ts';
import type { JobPlace, Spool } from './spool.ts';
import { placeIn } from './spool.ts';
import { customerOn } from './ticketCustomer.ts';
import { unpackWhereArchive } from './unpackWhereArchive.ts';

/** What taking in works with. */
export interface IntakeTools {
  readonly disk: Disk;
  readonly clock: Clock;
  readonly spool: Spool;
  readonly store: JobStore;
  /** A name that nothing else has. */
  readonly newId: () => string;
}

/** What a ticket that came by itself is for: the latest revision of a job and its files. */
export interface EarlierArt {
  readonly jobName: string;
  readonly revisionId: number;
  readonly files: readonly JobFile[];
}

export interface Accepted {
  readonly manifest: Manifest;
  readonly place: JobPlace;
  readonly taken: TakenIn;
}

/**
 * Copies a drop into the spool, hashing it, and hands it to the store. When this is done the job outlasts a power cut;
 * the source has not been touched. What goes wrong before leaves the source as it was and at most a folder in tmp.
 */
export async function takeIn(
  tools: IntakeTools,
  drop: Drop,
  look: DropFiles,
  earlier: EarlierArt | null,
  answered: AnsweredJob | null = null,
): Promise<Accepted> {
  const { disk, spool } = tools;
  const id = tools.newId();
  const copying = placeIn(spool.tmp, id);
  let manifest: Manifest;
  try {
    manifest = await copyDrop(tools, id, copying, drop, look, { earlier, answered });
  } catch (error) {
    await disk.remove(copying.folder).catch(() => undefined);
    throw error;
  }
  const place = placeIn(spool.jobs, id);
  await disk.rename(copying.folder, place.folder);
  await disk.syncFolder(spool.jobs);
  return { manifest, place, taken: await handToStore(disk, tools.store, place, manifest) };
}

/** Hands a job in the spool to the store, once, and notes the answer beside it. */
export async function handToStore(disk: Disk, store: JobStore, place: JobPlace, manifest: Manifest): Promise<TakenIn> {
  const stored = ({ path, sizeBytes, sha256 }: TakenFile): JobFile => ({
    name: lastName(path),
    sizeBytes,
    sha256,
    storedPath: join(place.keep, path),
  });
  const taken = await store.takeIn({
    jobName: manifest.jobName,
    customer: manifest.customer ?? null,
    source: { kind: 'folder', detail: manifest.names.join(', ') },
    files: manifest.art.map((file) => ({ ...stored(file), name: nameInJob(file.path, manifest.names) })),
    ticketFile: manifest.ticket === null ? null : stored(manifest.ticket),
    arrivedAt: manifest.arrivedAt,
    by: 'hot folder',
    placeAt: place.keep,
  });
  await writeWhole(disk, place.taken, JSON.stringify(taken));
  return taken;
}

function lastName(path: string): string {
  return path.split('/').at(-1)!;
}

/** A path within the watched folder without the job's own folder. */
function nameInJob(path: string, names: readonly string[]): string {
  const folder = names.find((name) => path.startsWith(`${name}/`));
  return folder === undefined ? path : path.slice(folder.length + 1);
}

async function copyDrop(
  tools: IntakeTools,
  id: string,
  place: JobPlace,
  drop: Drop,
  look: DropFiles,
  { earlier, answered }: { readonly earlier: EarlierArt | null; readonly answered: AnsweredJob | null },
): Promise<Manifest> {
  const { disk, spool, clock } = tools;
  await disk.makeFolder(place.art);
  await disk.makeFolder(place.keep);
  const part = (wanted: DropFile['part']) => look.files.filter((file) => file.part === wanted);
  const art: TakenFile[] = [];
  if (earlier === null) {
    const files = part('art');
    const names = flatNames(files.map(({ path }) => path));
    for (const [index, file] of files.entries())
      art.push(await taken(disk, join(spool.root, file.path), file.path, join(place.art, names[index])));
  } else {
    // What is kept was moved away long ago, so the copies of a late ticket's art are kept, and copied once more to be checked.
    const names = flatNames(earlier.files.map(({ name }) => name));
    for (const [index, file] of earlier.files.entries()) {
      const kept = join(place.keep, file.name);
      await disk.makeFolder(dirname(kept));
      const copy = await taken(disk, file.storedPath, file.name, kept);
      if (copy.sha256 !== file.sha256) throw new ArtIsGone(`${file.storedPath} is not what it was when it was checked`);
      await copyFile(disk, kept, join(place.art, names[index]));
      art.push(copy);
    }
    await disk.syncFolder(place.keep);
  }
  const refusal = await unpackWhereArchive(disk, place);
  // Of several tickets the one laid beside the art comes first, then the one highest up in its folder.
  const depth = (file: DropFile) => (file.path === drop.ticketName ? 0 : file.path.split('/').length);
  const [ticketFile, ...otherTickets] = [...part('ticket')].sort((a, b) => depth(a) - depth(b));
  let ticket: TakenFile | null = null;
  let customer: string | null = null;
  if (ticketFile !== undefined) {
    await disk.makeFolder(place.ticket);
    const to = join(place.ticket, lastName(ticketFile.path));
    ticket = await taken(disk, join(spool.root, ticketFile.path), ticketFile.path, to);
    customer = await customerOn(disk, to);
    await disk.syncFolder(place.ticket);
  } else if (answered?.ticketFile) {
    ticket = await sameTicket(disk, answered.ticketFile, place);
  }
  const others: TakenFile[] = [...part('other'), ...otherTickets].map(({ path, stat }) => ({
    path,
    sizeBytes: stat.sizeBytes,
    sha256: '',
    identity: stat.identity,
  }));
  const names = [drop.art?.name, drop.ticketName, drop.markerName].filter((name) => name != null);
  const manifest: Manifest = {
    version: 1,
    id,
    jobName: earlier?.jobName ?? answered?.jobName ?? jobKeyOf(drop.art!),
    customer,
    names,
    art,
    ticket,
    others,
    artOfRevision: earlier?.revisionId ?? null,
    refusal,
    arrivedAt: clock.date().getTime(),
  };
  await disk.syncFolder(place.art);
  await writeWhole(disk, place.manifest, JSON.stringify(manifest, null, 1));
  return manifest;
}

/** A copy of the ticket of the revision before; null where it is no longer where it was put, or was changed there. */
async function sameTicket(
  disk: Disk,
  { name, storedPath, sha256 }: JobFile,
  place: JobPlace,
): Promise<TakenFile | null> {
  if ((await disk.stat(storedPath)) === null) return null;
  await disk.makeFolder(place.ticket);
  const copy = await taken(disk, storedPath, lastName(name), join(place.ticket, lastName(name)));
  if (copy.sha256 !== sha256) {
    await disk.remove(place.ticket);
    return null;
  }
  await disk.syncFolder(place.ticket);
  return copy;
}

async function taken(disk: Disk, from: string, path: string, to: string): Promise<TakenFile> {
  return { path, ...(await copyFile(disk, from, to)) };
}

/** The art that a late ticket is for is no longer where it was put, or was changed there. */
export class ArtIsGone extends Error {
  override readonly name = 'ArtIsGone';
}
