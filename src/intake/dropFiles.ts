import { join } from 'node:path';
import { byFileName, isArtName, isFolderTicket } from '../artwork/jobFileNames.ts';
import type { Disk, DiskStat } from './disk.ts';
import type { Drop } from './dropNames.ts';
import { isTemporaryName } from './dropNames.ts';

const deepest = 4;
const mostFiles = 2_000;
/** What the system's reader puts for bytes that are no text; nothing can be opened by such a name. */
const notUtf8 = /\ufffd/;
/** What file systems take. */
const longestNameBytes = 255;

export interface DropFile {
  /** Within the watched folder, with forward slashes. */
  readonly path: string;
  readonly stat: DiskStat;
  readonly part: 'art' | 'ticket' | 'other';
}

/** All files of a drop as one look found them. */
export interface DropFiles {
  readonly files: readonly DropFile[];
  /** Its folder and those below, by their paths within the watched one; they change when a name in them does. */
  readonly folders: readonly { readonly path: string; readonly stat: DiskStat }[];
  /** Something in it has a temporary name, so more is to come. */
  readonly unfinished: boolean;
  /** More files than one job may have, or folders within folders without end. */
  readonly tooMany: boolean;
}

/** Lists a drop, going into its folder. Null when part of it vanished meanwhile. */
export async function lookAtDrop(disk: Disk, root: string, drop: Drop): Promise<DropFiles | null> {
  const found: DropFile[] = [];
  const folders: { path: string; stat: DiskStat }[] = [];
  let unfinished = false;
  let tooMany = false;
  const add = async (path: string, part: DropFile['part']): Promise<boolean> => {
    const stat = await disk.stat(join(root, path));
    if (stat === null && notUtf8.test(path)) throw new Error(`the name of ${path} is not UTF-8; give it another one`);
    if (stat === null) return false;
    if (stat.kind === 'file') found.push({ path, stat, part });
    return true;
  };
  const addFolder = async (folder: string, depth: number): Promise<boolean> => {
    // Before it is listed, so that a name added meanwhile shows later.
    const stat = await disk.stat(join(root, folder));
    if (stat === null && notUtf8.test(folder))
      throw new Error(`the name of ${folder} is not UTF-8; give it another one`);
    if (stat === null) return false;
    folders.push({ path: folder, stat });
    const entries = [...(await disk.list(join(root, folder)))].sort((a, b) => byFileName(a.name, b.name));
    for (const { name, kind } of entries) {
      const path = `${folder}/${name}`;
      if (found.length >= mostFiles || depth > deepest) tooMany = true;
      if (tooMany) return true;
      if (isTemporaryName(name)) unfinished ||= !name.startsWith('.');
      else if (kind === 'folder') {
        if (!(await addFolder(path, depth + 1))) return false;
      } else if (kind === 'file' && !(await add(path, partOf(name, depth)))) return false;
    }
    return true;
  };
  if (drop.art !== null) {
    const there = drop.art.isFolder ? await addFolder(drop.art.name, 1) : await add(drop.art.name, 'art');
    if (!there) return null;
  }
  if (drop.ticketName !== null && !(await add(drop.ticketName, 'ticket'))) return null;
  return { files: found, folders, unfinished, tooMany };
}

function partOf(name: string, depth: number): DropFile['part'] {
  if (isFolderTicket(name) && depth <= 2) return 'ticket';
  return isArtName(name) ? 'art' : 'other';
}

/** Whether no name was added to or taken from these folders since they were looked at; costs a call a folder. */
export async function areUnchanged(disk: Disk, root: string, folders: DropFiles['folders']): Promise<boolean> {
  for (const { path, stat } of folders) if ((await disk.stat(join(root, path)))?.look !== stat.look) return false;
  return true;
}

/** One text that changes when anything about the drop does. */
export function signatureOf({ files, unfinished }: DropFiles): string {
  return `${unfinished} ${files.map(({ path, stat }) => `${path} ${stat.look}`).join('\n')}`;
}

/** Names for one flat folder, each once: the file's own, with its folders before it where two would be alike. */
export function flatNames(paths: readonly string[]): string[] {
  const taken = new Set<string>();
  return paths.map((path) => {
    const parts = path.split('/');
    const own = parts.at(-1)!;
    let name = own;
    const whole = parts.join(' - ');
    const long = Buffer.byteLength(whole) > longestNameBytes - 5 ? ending(own) : whole;
    if (taken.has(name.toLowerCase())) name = long;
    for (let n = 2; taken.has(name.toLowerCase()); n++) name = `${n} ${long}`;
    taken.add(name.toLowerCase());
    return name;
  });
}

/** The end of a long name, where its kind stands. */
function ending(name: string): string {
  let kept = name;
  while (Buffer.byteLength(kept) > longestNameBytes - 5) kept = kept.slice(1);
  return kept;
}
