import type { Disk } from './disk.ts';

/** A file that was taken in, by its path within the watched folder. */
export interface TakenFile {
  /** With forward slashes: "festival.pdf", "choir/coral.tif". */
  readonly path: string;
  readonly sizeBytes: number;
  readonly sha256: string;
  /** Of the source while it was copied; see DiskStat. */
  readonly identity: string;
}

/** What was taken in and from where, written before anybody is told. */
export interface Manifest {
  readonly version: 1;
  readonly id: string;
  readonly jobName: string;
  /** As the ticket names it. */
  readonly customer: string | null;
  /** Names in the watched folder that are to be moved into keep/, that of an answer with the folder it lay in. */
  readonly names: readonly string[];
  readonly art: readonly TakenFile[];
  readonly ticket: TakenFile | null;
  /** Files of a folder that are neither art nor its ticket: moved along, not looked at. */
  readonly others: readonly TakenFile[];
  /** Revision whose art was copied, for a ticket that came by itself; its files lie in keep/ already. */
  readonly artOfRevision: number | null;
  /** Why the art cannot be looked at: an archive that was refused. */
  readonly refusal: string | null;
  /** Milliseconds since 1970. */
  readonly arrivedAt: number;
}

export async function readManifest(disk: Disk, path: string): Promise<Manifest | null> {
  if ((await disk.stat(path)) === null) return null;
  const file = await disk.openToRead(path);
  try {
    const manifest = JSON.parse(await file.readFile('utf8')) as Manifest;
    return manifest.version === 1 ? manifest : null;
  } catch (error) {
    if (error instanceof SyntaxError) return null;
    throw error;
  } finally {
    await file.close();
  }
}
