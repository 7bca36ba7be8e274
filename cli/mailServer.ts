import { mkdir, readFile, stat, writeFile } from 'node:fs/promises';
import { join, resolve } from 'node:path';
import type { PostTools } from '../src/post/postman.ts';
import { sendBySmtp } from '../src/post/smtp.ts';
import type { NoteSettings } from './shopNotes.ts';
import { UsageError } from './usageError.ts';

const usualPort = { tls: 465, starttls: 587 } as const;

/**
 * How mails go out, as the shop's file says: through its server, or in test mode into a folder. The password is in the
 * variable PLATEGLASS_MAIL_PASSWORD or in a file that nobody but its owner may read, never in the shop's file.
 */
export async function mailSender(
  { mail = {} }: NoteSettings,
  shopFolder: string,
): Promise<{ readonly send: PostTools['send']; readonly test: boolean }> {
  if (mail.testFolder !== undefined) {
    const folder = resolve(shopFolder, mail.testFolder);
    return {
      test: true,
      send: async (key, _envelope, bytes, onBegin) => {
        if (!(await onBegin())) return { kind: 'later', said: 'another process has taken it over' };
        await mkdir(folder, { recursive: true });
        await writeFile(join(folder, `${key.replace(/\W/g, '-')}.eml`), bytes, { mode: 0o600 });
        return { kind: 'sent', said: 'test' };
      },
    };
  }
  if (mail.host === undefined)
    throw new UsageError(
      'No mail server is set: give note.mail.host in the shop’s file, or write a draft with --format eml.',
    );
  const security = mail.security ?? 'starttls';
  const server = {
    host: mail.host,
    port: mail.port ?? usualPort[security],
    security,
    user: mail.user ?? null,
    password: mail.user === undefined ? null : await passwordOf(mail.passwordFile, shopFolder),
    ...(mail.caFile === undefined ? {} : { ca: await textOf(resolve(shopFolder, mail.caFile)) }),
  };
  return { test: false, send: (_key, envelope, bytes, onBegin) => sendBySmtp(server, envelope, bytes, onBegin) };
}

async function passwordOf(file: string | undefined, shopFolder: string): Promise<string> {
  const fromEnvironment = process.env.PLATEGLASS_MAIL_PASSWORD;
  if (file === undefined) {
    if (fromEnvironment) return fromEnvironment;
    throw new UsageError('The mail server wants a password: set PLATEGLASS_MAIL_PASSWORD, or note.mail.passwordFile.');
  }
  const path = resolve(shopFolder, file);
  const found = await stat(path).catch(() => null);
  if (found !== null && process.platform !== 'win32' && (found.mode & 0o077) !== 0)
    throw new UsageError(`Others may read ${path}, which holds a password. Let only its owner: chmod 600.`);
  return (await textOf(path)).trim();
}

async function textOf(path: string): Promise<string> {
  try {
    return await readFile(path, 'utf8');
  } catch {
    throw new UsageError(`${path} is not there, or may not be read.`);
  }
}
