import { spawn } from 'node:child_process';
import { createHash } from 'node:crypto';
import { mkdir, open, readFile, rm, stat } from 'node:fs/promises';
import { join } from 'node:path';

/** The command in a shell of its own, so that whatever it does to its shell, this one notes that it ended well. */
const script = '/bin/sh -c "$1" && : > "$2"';

/** Files of one notice that is being told by a command. */
function filesOf(folder: string, key: string): { body: string; said: string; done: string } {
  const stem = join(folder, createHash('sha256').update(key).digest('hex').slice(0, 32));
  return { body: `${stem}.json`, said: `${stem}.said`, done: `${stem}.done` };
}

/**
 * Runs the shop's command with the body on its standard input, and not again for a key for which it ended well, also
 * where this process was killed before it heard of that: the command outlives it, and its shell leaves a mark in
 * `folder`. Throws when it ends badly or takes longer than `limitMs`.
 */
export async function runNoticeCommand(
  folder: string,
  command: string,
  key: string,
  body: string,
  limitMs: number,
): Promise<void> {
  const files = filesOf(folder, key);
  if (await isThere(files.done)) return;
  await mkdir(folder, { recursive: true });
  const written = await open(files.body, 'w', 0o600);
  await written.writeFile(`${body}\n`);
  await written.close();
  const input = await open(files.body, 'r');
  const said = await open(files.said, 'w', 0o600);
  try {
    const how = await ended(command, files.done, key, [input.fd, said.fd], limitMs);
    if (how === null) return;
    const words = (await readFile(files.said, 'utf8')).slice(-500).trim().split('\n').at(-1);
    throw new Error(`the command ended with ${how}: ${words}`);
  } finally {
    await Promise.all([input.close(), said.close()]);
  }
}

/** What a command left, once the store knows that it was run, or it is given up. */
export async function forgetNoticeCommand(folder: string, key: string): Promise<void> {
  await Promise.all(Object.values(filesOf(folder, key)).map((file) => rm(file, { force: true })));
}

/** How it ended, in words; null when well. */
function ended(
  command: string,
  done: string,
  key: string,
  [input, said]: readonly [number, number],
  limitMs: number,
): Promise<string | null> {
  return new Promise((resolve, reject) => {
    const child = spawn('/bin/sh', ['-c', script, 'notice', command, done], {
      stdio: [input, 'ignore', said],
      env: { ...process.env, PLATEGLASS_NOTICE: key },
      // A group of its own: it is ended as a whole, and not with this process.
      detached: true,
    });
    const timer = setTimeout(() => {
      if (child.pid !== undefined) process.kill(-child.pid, 'SIGKILL');
    }, limitMs);
    child.on('error', reject);
    child.on('exit', (code, signal) => {
      clearTimeout(timer);
      resolve(code === 0 ? null : (signal ?? `code ${code}`));
    });
  });
}

async function isThere(path: string): Promise<boolean> {
  return stat(path).then(
    () => true,
    () => false,
  );
}
