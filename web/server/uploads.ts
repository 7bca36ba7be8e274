import { randomBytes } from 'node:crypto';
import { mkdir, open, readdir, readFile, rm, stat, statfs, writeFile } from 'node:fs/promises';
import { join } from 'node:path';
import { isArtName, mayBeTicket } from '../../src/artwork/jobFileNames.ts';
import { mostOpenUploads, mostUploadBytes, type UploadFacts } from '../shared/uploads.ts';
import { notThere, Refused } from './refused.ts';

const forgottenAfterMs = 24 * 60 * 60 * 1000;
/** Left free on the disk for what checks write. */
const spareBytes = 1024 * 1024 * 1024;
const idPattern = /^[0-9a-f]{32}$/;

/** What one owner may have on its way in at once. */
export interface UploadLimits {
  readonly fileBytes: number;
  readonly open: number;
}

const usualLimits: UploadLimits = { fileBytes: mostUploadBytes, open: mostOpenUploads };

interface UploadNote {
  /** Who alone may go on with it; null: the people of the shop. */
  readonly owner?: string | null;
  readonly name: string;
  readonly sizeBytes: number;
}

/**
 * Files on their way in: ID.json says what is wanted, ID.part holds what has come. Nothing here looks into them or goes
 * by their names; that is for the process that checks them.
 */
export class Uploads {
  private readonly folder: string;
  private readonly owner: string | null;
  private readonly most: UploadLimits;
  private readonly busy = new Set<string>();

  /** @param owner sees and ends only what was begun under the same name; all owners of a folder share its disk. */
  constructor(folder: string, owner: string | null = null, most: UploadLimits = usualLimits) {
    this.folder = folder;
    this.owner = owner;
    this.most = most;
  }

  async begin(name: string, sizeBytes: number): Promise<UploadFacts> {
    const plain = checkedName(name);
    if (sizeBytes > this.most.fileBytes) throw tooLarge();
    await mkdir(this.folder, { recursive: true, mode: 0o700 });
    const open = await this.openNotes();
    if (open.filter((one) => this.isOwn(one)).length >= this.most.open)
      throw new Refused(429, 'too-many-uploads', 'Too many files are on their way in.', 'Wait until they have come.');
    const wanted = open.reduce((sum, one) => sum + one.sizeBytes, sizeBytes);
    const { bavail, bsize } = await statfs(this.folder);
    if (bavail * bsize < wanted + spareBytes)
      throw new Refused(507, 'disk-full', 'There is no room for this file on the disk.', 'Make room, then try again.');
    const id = randomBytes(16).toString('hex');
    await writeFile(this.partOf(id), '', { flag: 'wx', mode: 0o600 });
    await writeFile(this.noteOf(id), JSON.stringify({ owner: this.owner, name: plain, sizeBytes }), {
      flag: 'wx',
      mode: 0o600,
    });
    return { id, name: plain, sizeBytes, offset: 0 };
  }

  async facts(id: string): Promise<UploadFacts> {
    const { name, sizeBytes } = await this.note(id);
    return { id, name, sizeBytes, offset: (await stat(this.partOf(id))).size };
  }

  /** Puts a piece behind what is there. A piece that was sent before is not taken twice. */
  async add(id: string, offset: number, piece: Uint8Array): Promise<UploadFacts> {
    const { name, sizeBytes } = await this.note(id);
    if (this.busy.has(id)) throw wrongOffset();
    this.busy.add(id);
    try {
      const file = await open(this.partOf(id), 'r+');
      try {
        const { size } = await file.stat();
        if (size !== offset) throw wrongOffset();
        if (size + piece.length > sizeBytes) throw tooLarge();
        for (let done = 0; done < piece.length; )
          done += (await file.write(piece, done, piece.length - done, size + done)).bytesWritten;
        await file.datasync();
        return { id, name, sizeBytes, offset: size + piece.length };
      } finally {
        await file.close();
      }
    } finally {
      this.busy.delete(id);
    }
  }

  /** Of an upload that is all there. */
  async finished(id: string): Promise<{ readonly name: string; readonly path: string }> {
    const { name, sizeBytes, offset } = await this.facts(id);
    if (offset !== sizeBytes)
      throw new Refused(409, 'not-all-there', `${name} has not come as a whole yet.`, 'Send the rest of it first.');
    return { name, path: this.partOf(id) };
  }

  async remove(id: string): Promise<void> {
    await this.note(id);
    await this.forget(id);
  }

  private async openNotes(): Promise<UploadNote[]> {
    const ids = (await readdir(this.folder))
      .filter((entry) => entry.endsWith('.part'))
      .map((entry) => entry.slice(0, -'.part'.length))
      .filter((id) => idPattern.test(id));
    const notes = await Promise.all(
      ids.map(async (id) => {
        const { mtimeMs } = await stat(this.partOf(id));
        if (Date.now() - mtimeMs <= forgottenAfterMs) return this.readNote(id);
        await this.forget(id);
        return null;
      }),
    );
    return notes.filter((note) => note !== null);
  }

  private async forget(id: string): Promise<void> {
    await rm(this.noteOf(id), { force: true });
    await rm(this.partOf(id), { force: true });
  }

  private async note(id: string): Promise<UploadNote> {
    const note = idPattern.test(id) ? await this.readNote(id) : null;
    if (note === null || !this.isOwn(note)) throw notThere('upload');
    return note;
  }

  private async readNote(id: string): Promise<UploadNote | null> {
    const text = await readFile(this.noteOf(id), 'utf8').catch(() => null);
    return text === null ? null : (JSON.parse(text) as UploadNote);
  }

  private isOwn({ owner }: UploadNote): boolean {
    return (owner ?? null) === this.owner;
  }

  private partOf(id: string): string {
    return join(this.folder, `${id}.part`);
  }

  private noteOf(id: string): string {
    return join(this.folder, `${id}.json`);
  }
}

/** A name as a file of a job may have it, with the folders it was dropped with. */
function checkedName(name: string): string {
  const plain = name.normalize('NFC');
  const parts = plain.split('/');
  const isSound = parts.every(
    (part) =>
      part !== '' &&
      part !== '.' &&
      part !== '..' &&
      Buffer.byteLength(part) <= 180 &&
      // biome-ignore lint/suspicious/noControlCharactersInRegex: these are what no name may have.
      !/[\u0000-\u001f\u007f\\]/.test(part),
  );
  if (!isSound || parts.length > 8)
    throw new Refused(400, 'wrong-name', 'No file of a job can have this name.', 'Give the file a plain name.');
  const last = parts[parts.length - 1];
  if (!isArtName(last) && !mayBeTicket(last))
    throw new Refused(
      400,
      'no-art',
      `${last} is neither a film nor a ticket.`,
      'Leave it out: drop films, an archive of them, and the ticket.',
    );
  return plain;
}

function wrongOffset(): Refused {
  return new Refused(
    409,
    'wrong-offset',
    'Another piece of this file is wanted.',
    'Ask how much has come, go on there.',
  );
}

function tooLarge(): Refused {
  return new Refused(413, 'too-large', 'The file is larger than was said, or than is taken.', 'Send it another way.');
}
