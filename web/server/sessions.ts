import { createHash, randomBytes } from 'node:crypto';
import { readFileSync } from 'node:fs';
import { open, rename } from 'node:fs/promises';
import { z } from 'zod';
import type { Account } from './accounts.ts';

/** A working day; then one signs in again. */
const sessionMs = 12 * 60 * 60 * 1000;
const mostSessions = 500;

const session = z.strictObject({ key: z.string(), name: z.string(), passphraseMark: z.string(), until: z.number() });
const sessionFile = z.strictObject({ version: z.literal(1), sessions: z.array(session) });

export interface SignedIn {
  readonly name: string;
  /** Changes with the passphrase of the account. */
  readonly passphraseMark: string;
}

interface Session extends SignedIn {
  readonly until: number;
}

/**
 * Who is signed in, by a hash of the key each browser holds. Kept in a file that only its owner may read, so that nobody
 * is signed out when the server starts again; what stands in it opens nothing.
 */
export class Sessions {
  private readonly open = new Map<string, Session>();
  private readonly file: string | null;
  private readonly now: () => number;
  private writing: Promise<void> = Promise.resolve();

  /** @param file null keeps them in memory only. */
  constructor(file: string | null, now: () => number = Date.now) {
    this.file = file;
    this.now = now;
    for (const { key, ...rest } of file === null ? [] : sessionsIn(file)) this.open.set(key, rest);
  }

  /** A new key, which nobody has had before. */
  async begin({ name, hash }: Account): Promise<string> {
    const key = randomBytes(32).toString('base64url');
    this.open.set(hashed(key), { name, passphraseMark: passphraseMark(hash), until: this.now() + sessionMs });
    for (const [old, { until }] of this.open)
      if (until <= this.now() || this.open.size > mostSessions) this.open.delete(old);
    await this.save();
    return key;
  }

  /** The account as it was at sign-in; null when the key is nobody's or too old. */
  of(key: string): SignedIn | null {
    const found = this.open.get(hashed(key));
    return found !== undefined && found.until > this.now() ? found : null;
  }

  async end(key: string): Promise<void> {
    if (this.open.delete(hashed(key))) await this.save();
  }

  private save(): Promise<void> {
    const saved = this.writing.then(() => this.write());
    this.writing = saved.catch(() => undefined);
    return saved;
  }

  private async write(): Promise<void> {
    if (this.file === null) return;
    const sessions = [...this.open].map(([key, rest]) => ({ key, ...rest }));
    const unfinished = `${this.file}.part-${process.pid}`;
    const file = await open(unfinished, 'w', 0o600);
    try {
      await file.writeFile(JSON.stringify({ version: 1, sessions }));
      await file.sync();
    } finally {
      await file.close();
    }
    await rename(unfinished, this.file);
  }
}

/** Tells passphrases apart without telling anything of them. */
export function passphraseMark(accountHash: string): string {
  return hashed(accountHash);
}

/** None where the file is not there or is not what it should be: then everybody signs in again. */
function sessionsIn(file: string): z.infer<typeof session>[] {
  try {
    return sessionFile.parse(JSON.parse(readFileSync(file, 'utf8'))).sessions;
  } catch {
    return [];
  }
}

function hashed(key: string): string {
  return createHash('sha256').update(key).digest('hex');
}
