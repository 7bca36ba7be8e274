import { open, readFile, rename, stat } from 'node:fs/promises';
import { dirname } from 'node:path';
import { hash, verify } from '@node-rs/argon2';
import { z } from 'zod';
import type { Role } from '../shared/session.ts';

/** Argon2id is the default of the package; memory and passes of RFC 9106, section 4, second recommendation. */
const cost = { memoryCost: 65_536, timeCost: 3, parallelism: 1 };
export const shortestPassphrase = 12;
export const roles = ['look', 'decide', 'administer'] as const satisfies readonly Role[];

const account = z.strictObject({ name: z.string(), role: z.enum(roles), hash: z.string() });
const accountFile = z.strictObject({ version: z.literal(1), accounts: z.array(account) });
export type Account = z.infer<typeof account>;

/** A name or a passphrase that no account can have; the message says why. */
export class WrongAccountError extends Error {}

/** The accounts of a server: a file that only its owner may read, with a hash in place of each passphrase. */
export class Accounts {
  private readonly file: string;
  private known: { readonly look: string; readonly accounts: readonly Account[] } | null = null;
  private decoy: Promise<string> | null = null;

  constructor(file: string) {
    this.file = file;
  }

  async list(): Promise<readonly Account[]> {
    const look = await stat(this.file).then(
      ({ mtimeMs, size, ino }) => `${mtimeMs} ${size} ${ino}`,
      (error: NodeJS.ErrnoException) => {
        if (error.code === 'ENOENT') return null;
        throw error;
      },
    );
    if (look === null) return [];
    if (this.known?.look !== look) {
      const { accounts } = accountFile.parse(JSON.parse(await readFile(this.file, 'utf8')));
      this.known = { look, accounts };
    }
    return this.known.accounts;
  }

  async find(name: string): Promise<Account | null> {
    return (await this.list()).find((one) => one.name === name) ?? null;
  }

  /** The account of this name and passphrase. A name that is not there takes as long as a wrong passphrase. */
  async verified(name: string, passphrase: string): Promise<Account | null> {
    const found = await this.find(name.normalize('NFC'));
    this.decoy ??= hash('nobody has this passphrase', cost);
    const fits = await verify(found?.hash ?? (await this.decoy), passphrase.normalize('NFC'));
    return found !== null && fits ? found : null;
  }

  /** Adds an account, or gives the one of this name another role and passphrase. */
  async set(name: string, role: Role, passphrase: string): Promise<void> {
    const plain = name.normalize('NFC').trim();
    if (!/^[\p{L}\p{N}][\p{L}\p{N} ._'-]{0,79}$/u.test(plain))
      throw new WrongAccountError("A name has letters, digits, spaces and . _ ' -, 80 at most.");
    if ([...passphrase].length < shortestPassphrase || passphrase.length > 1_000)
      throw new WrongAccountError(`A passphrase has ${shortestPassphrase} characters or more: several words are best.`);
    const entry = { name: plain, role, hash: await hash(passphrase.normalize('NFC'), cost) };
    await this.write([...(await this.list()).filter((one) => one.name !== plain), entry]);
  }

  /** False when there was none. */
  async remove(name: string): Promise<boolean> {
    const accounts = await this.list();
    const left = accounts.filter((one) => one.name !== name.normalize('NFC').trim());
    if (left.length < accounts.length) await this.write(left);
    return left.length < accounts.length;
  }

  private async write(accounts: readonly Account[]): Promise<void> {
    const sorted = [...accounts].sort((a, b) => a.name.localeCompare(b.name, 'en'));
    const unfinished = `${this.file}.part-${process.pid}`;
    const file = await open(unfinished, 'w', 0o600);
    try {
      await file.writeFile(`${JSON.stringify({ version: 1, accounts: sorted }, null, 2)}\n`);
      await file.sync();
    } finally {
      await file.close();
    }
    await rename(unfinished, this.file);
    const folder = await open(dirname(this.file), 'r');
    try {
      await folder.sync();
    } finally {
      await folder.close();
    }
    this.known = null;
  }
}
