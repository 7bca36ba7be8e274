import { join } from 'node:path';
import type { Readable } from 'node:stream';
import type { Entry, ZipFile } from 'yauzl';
import { isArtName, isFolderTicket } from '../artwork/jobFileNames.ts';
import type { Disk } from './disk.ts';
import { flatNames } from './dropFiles.ts';
import { isTemporaryName } from './dropNames.ts';

export interface ArchiveLimits {
  /** Of its list, whatever they are. */
  readonly entries: number;
  /** Of those that are unpacked. */
  readonly files: number;
  readonly bytes: number;
  /** How many times larger than its packed form a file of more than a megabyte may be. */
  readonly growth: number;
}

/** A TIFF of bare film shrinks a hundredfold; one of nothing at all some thousandfold. */
export const archiveLimits: ArchiveLimits = { entries: 20_000, files: 500, bytes: 8 * 2 ** 30, growth: 1_200 };

/** An archive that is not unpacked; the message says why, for the one who dropped it. */
export class ArchiveRefused extends Error {
  override readonly name = 'ArchiveRefused';
}

const longestNameBytes = 255;
// biome-ignore lint/suspicious/noControlCharactersInRegex: these are the characters that no name may have.
const noName = /[\u0000-\u001f]/;
const freelyGrownBytes = 1 << 20;

/**
 * Unpacks the films and the ticket of an archive into a folder of flat names and makes them last. What leads out of the
 * archive, unpacks to too much, is locked or is another archive is refused, and nothing of it kept.
 */
export async function unpackArchive(
  disk: Disk,
  archive: string,
  into: string,
  limits: ArchiveLimits = archiveLimits,
): Promise<number> {
  const zip = await openArchive(archive);
  try {
    const entries = await wantedEntries(zip, limits);
    const names = flatNames(entries.map(({ fileName }) => fileName));
    let bytes = 0;
    for (const [index, entry] of entries.entries()) {
      bytes += await unpackEntry(disk, zip, entry, join(into, names[index]));
      if (bytes > limits.bytes) throw new ArchiveRefused(tooLarge(limits));
    }
    return entries.length;
  } catch (error) {
    if (!isOfArchive(error)) throw error;
    const { message } = error as Error;
    // The reader refuses such names before it gives them.
    if (/invalid (?:relative path|characters in fileName)|absolute path/.test(message))
      throw new ArchiveRefused('A file in the archive has a path that leads out of it. Pack the films again.');
    throw new ArchiveRefused(`The archive is damaged: ${message}.`);
  } finally {
    zip.close();
  }
}

/** @throws ArchiveRefused */
export async function openArchive(archive: string): Promise<ZipFile> {
  const { openPromise } = await import('yauzl');
  try {
    return await openPromise(archive, { lazyEntries: true, strictFileNames: true, autoClose: false });
  } catch (error) {
    throw new ArchiveRefused(`The archive cannot be opened: ${(error as Error).message}.`);
  }
}

/** The films and tickets of an archive, in the order of its list. */
export async function wantedEntries(zip: ZipFile, limits: ArchiveLimits): Promise<Entry[]> {
  const wanted: Entry[] = [];
  const seen = new Set<string>();
  let declared = 0;
  if (zip.entryCount > limits.entries)
    throw new ArchiveRefused(`The archive holds more than ${limits.entries} entries. Send one job at a time.`);
  for (;;) {
    const entry = await nextEntry(zip);
    if (entry === null) break;
    const { fileName } = entry;
    if (fileName.endsWith('/')) continue;
    const parts = fileName.split('/');
    const name = parts.at(-1)!;
    if (noName.test(fileName) || parts.some((part) => Buffer.byteLength(part) > longestNameBytes))
      throw new ArchiveRefused('A file in the archive has a name that no disk takes. Give it a short, plain one.');
    if (parts.includes('__MACOSX') || isTemporaryName(name) || !(isArtName(name) || isFolderTicket(name))) continue;
    if (((entry.externalFileAttributes >>> 28) & 15) === 10)
      throw new ArchiveRefused('The archive holds links instead of films. Pack the films themselves.');
    if (entry.isEncrypted())
      throw new ArchiveRefused('The archive is locked by a password. Pack the films without one.');
    if (/\.(?:zip|rar|7z|tar|tgz|gz|bz2|xz)$/i.test(name))
      throw new ArchiveRefused(`There is an archive in the archive: ${name}. Pack the films themselves.`);
    if (seen.has(fileName))
      throw new ArchiveRefused(`Two files in the archive have the name ${fileName}. Pack only the one that is meant.`);
    seen.add(fileName);
    wanted.push(entry);
    declared += entry.uncompressedSize;
    if (wanted.length > limits.files)
      throw new ArchiveRefused(`The archive holds more than ${limits.files} files. Send one job at a time.`);
    const grown = entry.uncompressedSize > freelyGrownBytes + limits.growth * entry.compressedSize;
    if (grown || declared > limits.bytes) throw new ArchiveRefused(tooLarge(limits));
  }
  if (!wanted.some(({ fileName }) => isArtName(fileName.split('/').at(-1)!)))
    throw new ArchiveRefused('There is no film in the archive.');
  return wanted;
}

function nextEntry(zip: ZipFile): Promise<Entry | null> {
  return new Promise((resolve, reject) => {
    const settle = () => zip.removeAllListeners();
    zip.once('entry', (entry: Entry) => {
      settle();
      resolve(entry);
    });
    zip.once('end', () => {
      settle();
      resolve(null);
    });
    zip.once('error', (error) => {
      settle();
      reject(error);
    });
    zip.readEntry();
  });
}

/** How many bytes it gave. The reader stops by itself where there are more than the archive's list says. */
async function unpackEntry(disk: Disk, zip: ZipFile, entry: Entry, to: string): Promise<number> {
  const stream = await readEntry(zip, entry);
  const file = await disk.create(to);
  let bytes = 0;
  try {
    for await (const piece of stream as AsyncIterable<Buffer>) {
      for (let done = 0; done < piece.length; ) done += (await file.write(piece, done)).bytesWritten;
      bytes += piece.length;
    }
    await disk.sync(file);
  } finally {
    stream.destroy();
    await file.close();
  }
  return bytes;
}

export function readEntry(zip: ZipFile, entry: Entry): Promise<Readable> {
  return new Promise((resolve, reject) =>
    zip.openReadStream(entry, (error, opened) => (error ? reject(error) : resolve(opened))),
  );
}

/** Errors of the file system say which call failed; those of the archive and of its packing do not. */
function isOfArchive(error: unknown): boolean {
  return !(error instanceof ArchiveRefused) && (error as { syscall?: string }).syscall === undefined;
}

function tooLarge(limits: ArchiveLimits): string {
  return `The archive unpacks to more than it should: more than ${Math.round(limits.bytes / 2 ** 20)} MB, or far larger than it is packed. Send the films themselves.`;
}
