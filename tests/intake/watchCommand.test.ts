import { spawn, spawnSync } from 'node:child_process';
import {
  chmodSync,
  chownSync,
  existsSync,
  mkdirSync,
  mkdtempSync,
  readdirSync,
  readFileSync,
  rmSync,
  writeFileSync,
} from 'node:fs';
import type { AddressInfo } from 'node:net';
import { createServer } from 'node:net';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { root } from '../cli/runCli.ts';
import { drawnFilm } from '../soak/writers.ts';
import { filesBelow, sha256, svg } from './support/testIntake.ts';

const main = join(root, 'dist/cli/main.js');
let folder: string;
let hot: string;
let stop: (() => void)[];

beforeEach(() => {
  if (!existsSync(main)) throw new Error('dist/ is not built; run `npm run build`.');
  folder = mkdtempSync(join(tmpdir(), 'watch-'));
  hot = join(folder, 'hot');
  mkdirSync(hot);
  stop = [];
});

afterEach(() => {
  for (const end of stop) end();
  rmSync(folder, { recursive: true, force: true });
});

interface Watching {
  readonly pid: number;
  readonly said: () => string;
  readonly ended: Promise<number | null>;
  until(words: RegExp): Promise<void>;
}

function watch(parameters: readonly string[], program: readonly string[] = [process.execPath]): Watching {
  const [first, ...rest] = [...program, main, 'watch', hot, '--settle', '0.6', '--sweep', '0.2', ...parameters];
  const child = spawn(first, rest, { cwd: folder, env: { ...process.env, XDG_STATE_HOME: join(folder, 'state') } });
  let said = '';
  for (const stream of [child.stdout, child.stderr]) stream.on('data', (data) => (said += data));
  const ended = new Promise<number | null>((resolve) => child.once('close', resolve));
  stop.push(() => child.kill('SIGKILL'));
  const until = async (words: RegExp) => {
    for (let waited = 0; !words.test(said); waited += 50) {
      if (waited > 90_000) throw new Error(`never said ${words}:\n${said}`);
      await new Promise((resolve) => setTimeout(resolve, 50));
    }
  };
  return { pid: child.pid!, said: () => said, ended, until };
}

async function freePort(): Promise<number> {
  const server = createServer().listen(0, '127.0.0.1');
  await new Promise((resolve) => server.once('listening', resolve));
  const { port } = server.address() as AddressInfo;
  await new Promise((resolve) => server.close(resolve));
  return port;
}

describe('plateglass watch', () => {
  it('checks what lies there, tells figures, refuses a second one, and ends when asked to', async () => {
    const port = await freePort();
    writeFileSync(join(hot, 'festival.svg'), drawnFilm('festival'));
    const first = watch(['--metrics-port', String(port)]);
    // Its one ink has no name, so somebody has to look.
    await first.until(/^Look first: festival\.svg, revision 1\. unnamed-ink; /m);
    const second = watch([]);
    expect(await second.ended).toBe(2);
    expect(second.said()).toMatch(/watches this folder already/);
    const metrics = await (await fetch(`http://127.0.0.1:${port}/metrics`)).text();
    // The text format (version 0.0.4): comments, and a name with labels and a number a line.
    for (const line of metrics.trim().split('\n'))
      expect(line).toMatch(/^(# (HELP|TYPE) plateglass_\w+ .+|plateglass_\w+(\{\w+="\w+"\})? [\d.e+-]+)$/);
    expect(metrics).toMatch(/^plateglass_taken_in_total 1$/m);
    expect((await fetch(`http://127.0.0.1:${port}/health`)).status).toBe(200);
    process.kill(first.pid, 'SIGTERM');
    expect(await first.ended).toBe(0);
    expect(existsSync(join(hot, '.plateglass/lock'))).toBe(false);
    const names = Object.keys(filesBelow(hot));
    for (const name of ['festival.svg', 'Film report/report.html', 'Film report/report.pdf', 'Film report/report.json'])
      expect(names).toContain(`Look first/festival.svg, revision 1/${name}`);
    expect(readFileSync(join(hot, '.plateglass/log/plateglass.log'), 'utf8')).toMatch(/festival\.svg, revision 1/);
  });

  it('takes over the lock of one that was killed, and what that was doing', async () => {
    writeFileSync(join(hot, 'festival.svg'), svg('festival'));
    const first = watch([]);
    await first.until(/taken in/);
    process.kill(first.pid, 'SIGKILL');
    await first.ended;
    expect(existsSync(join(hot, '.plateglass/lock'))).toBe(true);
    const second = watch(['--once']);
    expect(await second.ended).toBe(0);
    expect(Object.keys(filesBelow(hot)).filter((name) => name.endsWith('/festival.svg'))).toHaveLength(1);
  });

  it('on a full disk leaves a drop where it is, says so, and takes it when there is room', async () => {
    const disk = join(folder, 'disk');
    mkdirSync(disk);
    if (spawnSync('mount', ['-t', 'tmpfs', '-o', 'size=3m', 'tmpfs', disk]).status !== 0)
      return process.stderr.write('no mount is allowed here: the full disk was not tested\n') as never;
    stop.push(() => spawnSync('umount', ['-l', disk]));
    hot = join(disk, 'hot');
    mkdirSync(hot);
    const film = svg('x'.repeat(400_000));
    writeFileSync(join(hot, 'festival.svg'), film);
    const ballast = join(disk, 'ballast');
    const first = watch(['--store', join(folder, 'store'), '--log', join(folder, 'log'), '--markers-only']);
    await first.until(/Watching/);
    let room = 3_000_000;
    for (; room > 1000; room = Math.floor(room / 2)) {
      try {
        writeFileSync(ballast, Buffer.alloc(room), { flag: 'a' });
      } catch {
        // Full at this size; a smaller piece may fit.
      }
    }
    writeFileSync(join(hot, 'festival.svg.done'), '');
    await first.until(/festival\.svg: could not be taken in \(ENOSPC/);
    expect(readFileSync(join(hot, 'festival.svg'), 'utf8')).toBe(film);
    expect(readdirSync(join(hot, '.plateglass/tmp'))).toEqual([]);
    rmSync(ballast);
    await first.until(/: festival\.svg, revision 1\. /);
    process.kill(first.pid, 'SIGTERM');
    await first.ended;
    const kept = Object.entries(filesBelow(hot)).filter(([name]) => name.endsWith('/festival.svg'));
    expect(kept.map(([, hash]) => hash)).toEqual([sha256(film)]);
  });

  it('says what it may not read, and takes it when it may', async () => {
    if (process.getuid?.() !== 0)
      return process.stderr.write('not root: a file of another user was not tested\n') as never;
    const nobody = 65_534;
    for (const path of [folder, hot]) chownSync(path, nobody, nobody);
    const film = join(hot, 'festival.svg');
    writeFileSync(film, svg('festival'));
    chmodSync(film, 0o600);
    const as = ['setpriv', '--reuid=65534', '--regid=65534', '--clear-groups', process.execPath];
    const first = watch(['--settle', '0.2'], as);
    await first.until(/festival\.svg cannot be opened yet \(EACCES\)/);
    chmodSync(film, 0o644);
    await first.until(/: festival\.svg, revision 1\. /);
    process.kill(first.pid, 'SIGTERM');
    expect(await first.ended).toBe(0);
  });
});
