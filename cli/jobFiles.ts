import type { Stats } from 'node:fs';
import { open, readdir, stat } from 'node:fs/promises';
import { basename, extname, join, resolve } from 'node:path';
import type { ByteSource } from '../src/artwork/byteSource.ts';
import { byFileName, isArtName, isFolderTicket } from '../src/artwork/jobFileNames.ts';
import { UsageError } from './usageError.ts';

export interface JobFiles {
  readonly name: string;
  readonly sources: readonly ByteSource[];
  /** A ticket that lay in the job's folder. */
  readonly ticketFile: string | null;
}

/** The files of one job: those named, and those in a folder that is named, in the order of their names. */
export async function findJobFiles(paths: readonly string[]): Promise<JobFiles> {
  const files: string[] = [];
  const tickets: string[] = [];
  for (const path of paths) {
    const stats = await statOf(path);
    if (stats.isDirectory()) {
      const names = (await readdir(path)).sort(byFileName);
      for (const name of names) {
        if (isFolderTicket(name)) tickets.push(join(path, name));
        else if (isArtName(name) && (await statOf(join(path, name))).isFile()) files.push(join(path, name));
      }
    } else if (stats.isFile()) files.push(path);
    else
      throw new UsageError(
        `${path} is neither a file nor a folder. Give the files of the job, or the folder they are in.`,
      );
  }
  if (files.length === 0)
    throw new UsageError(
      `There is no film in ${paths.join(', ')}. Give the files of the job, or a folder that holds them.`,
    );
  if (tickets.length > 1)
    throw new UsageError(`There are several tickets: ${tickets.join(', ')}. Say which one with --ticket.`);
  const first = resolve(paths[0]);
  return {
    name: basename(first, extname(first)),
    sources: await Promise.all(files.map(fileSource)),
    ticketFile: tickets[0] ?? null,
  };
}

async function statOf(path: string): Promise<Stats> {
  try {
    return await stat(path);
  } catch {
    throw new UsageError(`${path} is not there, or may not be read. Check the name.`);
  }
}

async function fileSource(path: string): Promise<ByteSource> {
  const { size } = await statOf(path);
  return {
    name: basename(path),
    sizeBytes: size,
    read: async (offset, length) => {
      const wanted = Math.max(0, Math.min(length, size - offset));
      const bytes = new Uint8Array(wanted);
      const file = await open(path, 'r');
      try {
        let got = 0;
        while (got < wanted) {
          const { bytesRead } = await file.read(bytes, got, wanted - got, offset + got);
          if (bytesRead === 0) break;
          got += bytesRead;
        }
        return bytes.subarray(0, got);
      } finally {
        await file.close();
      }
    },
  };
}
