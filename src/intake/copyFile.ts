import { createHash } from 'node:crypto';
import type { FileHandle } from 'node:fs/promises';
import type { Disk } from './disk.ts';
import { statOf } from './disk.ts';

const pieceBytes = 1 << 20;

/** The source was written to or replaced while it was copied, so the copy is worth nothing. */
export class ChangedWhileCopied extends Error {
  override readonly name = 'ChangedWhileCopied';
}

export interface CopiedFile {
  readonly sizeBytes: number;
  readonly sha256: string;
  readonly identity: string;
}

/**
 * Copies a file to a new one, hashing what goes through, and makes the copy last. The source must be the same file, with
 * the same size and time of writing, before, after, and under its name.
 */
export async function copyFile(disk: Disk, from: string, to: string): Promise<CopiedFile> {
  const source = await disk.openToRead(from);
  try {
    const before = statOf(await source.stat());
    const target = await disk.create(to);
    let copied: { sizeBytes: number; sha256: string };
    try {
      copied = await pour(source, target);
      await disk.sync(target);
    } finally {
      await target.close();
    }
    const after = statOf(await source.stat());
    const named = await disk.stat(from);
    if (after.look !== before.look || named?.look !== before.look || copied.sizeBytes !== before.sizeBytes)
      throw new ChangedWhileCopied(`${from} changed while it was copied`);
    return { ...copied, identity: before.identity };
  } finally {
    await source.close();
  }
}

/** Hexadecimal SHA-256 of a file. */
export async function hashFile(disk: Disk, path: string): Promise<string> {
  const source = await disk.openToRead(path);
  try {
    return (await pour(source, null)).sha256;
  } finally {
    await source.close();
  }
}

async function pour(
  source: FileHandle,
  target: FileHandle | null,
): Promise<{ readonly sizeBytes: number; readonly sha256: string }> {
  const hash = createHash('sha256');
  const piece = Buffer.allocUnsafe(pieceBytes);
  let sizeBytes = 0;
  for (;;) {
    const { bytesRead } = await source.read(piece, 0, pieceBytes, sizeBytes);
    if (bytesRead === 0) break;
    hash.update(piece.subarray(0, bytesRead));
    for (let done = 0; target !== null && done < bytesRead; )
      done += (await target.write(piece, done, bytesRead - done, sizeBytes + done)).bytesWritten;
    sizeBytes += bytesRead;
  }
  return { sizeBytes, sha256: hash.digest('hex') };
}
