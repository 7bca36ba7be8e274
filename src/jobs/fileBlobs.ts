import { createHash, randomUUID } from 'node:crypto';
import { createReadStream } from 'node:fs';
import { type FileHandle, mkdir, open, readdir, readFile, rename, rm, stat, utimes } from 'node:fs/promises';
import { dirname, join } from 'node:path';
import type { BlobStore } from './jobStore.ts';
import { StoreRequestError, UnusableStoreError } from './storeErrors.ts';

const dayMs = 86_400_000;
const hashPattern = /^[0-9a-f]{64}$/;

/**
 * Blobs as files named by their SHA-256, in folders by its first two digits. A blob is written under another name,
 * synced, renamed, and its folder synced: under its own name it is complete, whatever happens.
 */
export class FileBlobs implements BlobStore {
  readonly #place: string | null;

  /** Null: only the records of the store are used. */
  constructor(folder: string | null) {
    this.#place = folder;
  }

  put(bytes: Uint8Array) {
    return this.#write([bytes]);
  }

  putFile(path: string) {
    return this.#write(createReadStream(path));
  }

  async read(sha256: string): Promise<Uint8Array> {
    const bytes = new Uint8Array(await readFile(this.pathOf(sha256)));
    if (createHash('sha256').update(bytes).digest('hex') !== sha256) {
      throw new UnusableStoreError(`${this.pathOf(sha256)} is damaged: it is not what was stored.`);
    }
    return bytes;
  }

  pathOf(sha256: string): string {
    if (!hashPattern.test(sha256)) throw new StoreRequestError(`"${sha256}" is not a SHA-256.`);
    return join(this.#folder, sha256.slice(0, 2), sha256);
  }

  async has(sha256: string): Promise<boolean> {
    return (await sizeOf(this.pathOf(sha256))) !== null;
  }

  async sweep(inUse: ReadonlySet<string>) {
    const before = Date.now() - dayMs;
    const total = { count: 0, sizeBytes: 0 };
    for (const path of await this.#oldFiles(before, (name) => hashPattern.test(name) && !inUse.has(name))) {
      // Put again at this very moment, it has a new time: out of the way first, then look once more.
      const aside = join(this.#incoming, randomUUID());
      await mkdir(this.#incoming, { recursive: true });
      await rename(path, aside);
      const { mtimeMs, size } = await stat(aside);
      if (mtimeMs >= before) await rename(aside, path);
      else {
        await rm(aside);
        total.count += 1;
        total.sizeBytes += size;
      }
    }
    for (const path of await this.#oldFiles(before, (name) => !hashPattern.test(name))) await rm(path, { force: true });
    return total;
  }

  get #folder(): string {
    if (this.#place === null) throw new StoreRequestError('The store was opened for its records only.');
    return this.#place;
  }

  get #incoming(): string {
    return join(this.#folder, 'incoming');
  }

  async #oldFiles(before: number, wanted: (name: string) => boolean): Promise<string[]> {
    const found: string[] = [];
    for (const folder of await readdir(this.#folder).catch(() => [])) {
      if (!/^([0-9a-f]{2}|incoming)$/.test(folder)) continue;
      for (const name of await readdir(join(this.#folder, folder))) {
        const path = join(this.#folder, folder, name);
        if (!wanted(name)) continue;
        const information = await stat(path).catch(() => null);
        if (information !== null && information.mtimeMs < before) found.push(path);
      }
    }
    return found;
  }

  async #write(parts: Iterable<Uint8Array> | AsyncIterable<Uint8Array>) {
    await mkdir(this.#incoming, { recursive: true });
    const incoming = join(this.#incoming, randomUUID());
    try {
      const handle = await open(incoming, 'wx', 0o644);
      let written: { sha256: string; sizeBytes: number };
      try {
        written = await writeParts(handle, parts);
        await handle.sync();
      } finally {
        await handle.close();
      }
      const path = this.pathOf(written.sha256);
      if (await touch(path, written.sizeBytes)) return written;
      await makeFolder(dirname(path));
      await rename(incoming, path);
      await syncFolder(dirname(path));
      return written;
    } finally {
      await rm(incoming, { force: true });
    }
  }
}

async function writeParts(handle: FileHandle, parts: Iterable<Uint8Array> | AsyncIterable<Uint8Array>) {
  const hash = createHash('sha256');
  let sizeBytes = 0;
  for await (const part of parts) {
    hash.update(part);
    for (let from = 0; from < part.length; ) from += (await handle.write(part, from)).bytesWritten;
    sizeBytes += part.length;
  }
  return { sha256: hash.digest('hex'), sizeBytes };
}

/** Whether it is there already, in full; then it counts as put now. */
async function touch(path: string, sizeBytes: number): Promise<boolean> {
  if ((await sizeOf(path)) !== sizeBytes) return false;
  const now = new Date();
  return utimes(path, now, now).then(
    () => true,
    () => false,
  );
}

async function sizeOf(path: string): Promise<number | null> {
  return stat(path).then(
    ({ size }) => size,
    () => null,
  );
}

async function makeFolder(folder: string): Promise<void> {
  if ((await mkdir(folder, { recursive: true })) !== undefined) await syncFolder(dirname(folder));
}

/** A name lasts only when its folder has been synced. */
export async function syncFolder(folder: string): Promise<void> {
  const handle = await open(folder, 'r');
  try {
    await handle.sync();
  } finally {
    await handle.close();
  }
}
