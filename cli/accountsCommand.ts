import { mkdir } from 'node:fs/promises';
import { createInterface } from 'node:readline';
import { type Account, shortestPassphrase, WrongAccountError } from '../web/server/accounts.ts';
import { accountsIn, homeOf } from './accountsFile.ts';
import { plainText } from './plainText.ts';
import { UsageError } from './usageError.ts';

interface AccountOptions {
  readonly store: string;
}

/** Adds an account of the review, or gives one another role and passphrase. */
export async function addAccount(
  name: string,
  options: AccountOptions & { readonly role: Account['role'] },
): Promise<number> {
  const home = homeOf(options.store);
  await mkdir(home, { recursive: true, mode: 0o700 });
  const passphrase = await askForPassphrase(name);
  await accountsIn(home)
    .set(name, options.role, passphrase)
    .catch((error) => {
      throw error instanceof WrongAccountError ? new UsageError(error.message) : error;
    });
  process.stdout.write(plainText(`${name} may sign in now (${options.role}).`));
  process.stdout.write('\n');
  return 0;
}

export async function removeAccount(name: string, options: AccountOptions): Promise<number> {
  if (!(await accountsIn(homeOf(options.store)).remove(name))) throw new UsageError(`There is no account "${name}".`);
  process.stdout.write(plainText(`${name} is signed out and may not sign in any more.`));
  process.stdout.write('\n');
  return 0;
}

export async function listAccounts(options: AccountOptions): Promise<number> {
  for (const { name, role } of await accountsIn(homeOf(options.store)).list())
    process.stdout.write(`${plainText(`${role.padEnd(11)}${name}`)}\n`);
  return 0;
}

/** From the terminal, where it is not shown, or one line from standard input. */
async function askForPassphrase(name: string): Promise<string> {
  const { stdin, stderr } = process;
  if (stdin.isTTY) {
    stderr.write(plainText(`Passphrase for ${name}, ${shortestPassphrase} characters or more (not shown): `));
    stdin.setRawMode(true);
  }
  try {
    return stdin.isTTY ? await typedLine(stdin) : await firstLine(stdin);
  } finally {
    if (stdin.isTTY) {
      stdin.setRawMode(false);
      stdin.pause();
      stderr.write('\n');
    }
  }
}

async function firstLine(input: NodeJS.ReadableStream): Promise<string> {
  for await (const line of createInterface({ input })) return line;
  return '';
}

function typedLine(input: NodeJS.ReadStream): Promise<string> {
  return new Promise((resolve, reject) => {
    let typed: string[] = [];
    const take = (data: Buffer) => {
      for (const character of data.toString('utf8')) {
        if (character === '\r' || character === '\n') return done(() => resolve(typed.join('')));
        if (character === '\u0003') return done(() => reject(new UsageError('Given up; nothing was changed.')));
        if (character === '\u007f' || character === '\b') typed = typed.slice(0, -1);
        else if (character >= ' ') typed.push(character);
      }
    };
    const done = (end: () => void) => {
      input.off('data', take);
      end();
    };
    input.on('data', take);
  });
}
