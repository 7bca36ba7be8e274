import { mkdirSync, mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { createServer } from 'node:net';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import type { CheckEnd } from '../../src/intake/childCheck.ts';
import { checkInChild } from '../../src/intake/childCheck.ts';
import type { Isolation } from '../../src/intake/isolation.ts';
import { findIsolation } from '../../src/intake/isolation.ts';
import { reportOf } from './support/testIntake.ts';

let folder: string;
let isolation: Isolation;
let runs = 0;

beforeAll(() => {
  folder = mkdtempSync(join(tmpdir(), 'child-'));
  isolation = findIsolation();
});

afterAll(() => rmSync(folder, { recursive: true, force: true }));

/** Checks with a program of the test's own in place of ours; it is given the folder for its report as `out`. */
function check(
  code: string,
  limits: { timeLimitMs?: number; memoryBytes?: number; signal?: AbortSignal } = {},
): Promise<CheckEnd> {
  const home = join(folder, `run ${++runs}`);
  const [art, out, own] = ['art', 'out', 'own'].map((name) => join(home, name));
  for (const path of [art, out, own]) mkdirSync(path, { recursive: true });
  const main = join(own, 'main.mjs');
  writeFileSync(
    main,
    `import * as fs from 'node:fs';\nconst out = process.argv[process.argv.indexOf('--out') + 1];\nconst art = process.argv[3];\n${code}`,
  );
  const program = {
    ...{ main, own: [own], shopFile: null, isolation },
    ...{ timeLimitMs: limits.timeLimitMs ?? 60_000, memoryBytes: limits.memoryBytes ?? 2_000_000_000 },
  };
  const order = { jobName: 'festival', art, ticketFile: null, out, threads: 1 };
  return checkInChild(program, order, limits.signal ?? new AbortController().signal);
}

const stage = `process.stderr.write('stage drawing 1/3\\n');`;

describe('a check in a process of its own', () => {
  it('gives its report', async () => {
    const report = reportOf('needsReview');
    const end = await check(
      `fs.writeFileSync(out + '/report.json', ${JSON.stringify(JSON.stringify(report))}); process.exitCode = 1;`,
    );
    expect(end).toEqual({ kind: 'answered', report });
  });

  it('says what it refused', async () => {
    const end = await check(`process.stderr.write('plateglass: ticket.yaml: not a ticket\\n'); process.exitCode = 2;`);
    expect(end).toEqual({ kind: 'refused', reason: 'ticket.yaml: not a ticket' });
  });

  it.each(['SIGSEGV', 'SIGABRT', 'SIGKILL'])(
    'ended by %s, says what it was doing and is worth another try',
    async (signal) => {
      const end = await check(
        `${stage} setTimeout(() => process.kill(process.pid, '${signal}'), 50); setInterval(() => {}, 1000);`,
      );
      expect(end).toMatchObject({ kind: 'broken', tryAgain: true });
      // Within the sandbox the signal comes back as 128 and its number.
      expect(end).toHaveProperty('reason', expect.stringMatching(/while drawing the plates \(1 of 3\)\.$/));
    },
  );

  it('says what a fault of the program was, and has a home for programs that ask for one', async () => {
    const end = await check(`${stage} if ((await import('node:os')).homedir() === '') throw 1; null.length;`);
    const reason = expect.stringMatching(/^The check ended with code 1 while drawing .+: TypeError: Cannot read .+\.$/);
    expect(end).toEqual({ kind: 'broken', tryAgain: true, reason });
  });

  it('takes half a report for none', async () => {
    const end = await check(`fs.writeFileSync(out + '/report.json', '{"schema": "plategl'); process.exit(1);`);
    expect(end).toMatchObject({ kind: 'broken' });
  });

  it('is stopped when it takes too long, with all it started', async () => {
    const end = await check(
      `${stage} (await import('node:child_process')).spawn('sleep', ['300'], { stdio: 'inherit' }); setInterval(() => {}, 1000);`,
      { timeLimitMs: 1_500 },
    );
    expect(end).toEqual({
      kind: 'broken',
      tryAgain: false,
      reason: 'It was stopped after 2 s, while drawing the plates (1 of 3).',
    });
  });

  it('is stopped when it is asked to', async () => {
    const asked = new AbortController();
    setTimeout(() => asked.abort(), 500);
    expect(await check('setInterval(() => {}, 1000);', { signal: asked.signal })).toEqual({ kind: 'stopped' });
  });

  it('may not have more memory than its limit', async () => {
    if (!isolation.limits)
      return process.stderr.write('prlimit is missing: the memory limit was not tested\n') as never;
    const hungry = `${stage} const all = []; for (let n = 0; n < 14; n++) all.push(Buffer.alloc(1e8, 1)); fs.writeFileSync(out + '/report.json', '{}');`;
    const end = await check(hungry, { memoryBytes: 1_000_000_000 });
    expect(end).toMatchObject({
      kind: 'broken',
      tryAgain: false,
      reason: expect.stringMatching(/needed more than the 954 MB/),
    });
  });

  it('reaches no network, and no file but its own', async () => {
    if (isolation.kind === 'none') return process.stderr.write('no bubblewrap: isolation was not tested\n') as never;
    const server = createServer((socket) => socket.end('hello')).listen(0, '127.0.0.1');
    await new Promise((resolve) => server.once('listening', resolve));
    const { port } = server.address() as { port: number };
    writeFileSync(join(folder, 'secret'), 'x');
    const end = await check(`
      const net = await import('node:net');
      const reached = await new Promise((resolve) => net.connect(${port}, '127.0.0.1').on('connect', () => resolve('reached')).on('error', (e) => resolve(e.code)));
      const attempt = (work) => { try { work(); return 'done'; } catch (error) { return error.code; } };
      const report = { reached, read: attempt(() => fs.readFileSync('${join(folder, 'secret')}')), passwd: attempt(() => fs.readFileSync('/etc/passwd')), write: attempt(() => fs.writeFileSync(art + '/x', '')) };
      fs.writeFileSync(out + '/report.json', JSON.stringify(report));`);
    server.close();
    const report = (end as unknown as { report: Record<string, string> }).report;
    expect(report.reached).not.toBe('reached');
    if (isolation.kind === 'sandbox')
      expect(report).toMatchObject({ read: 'ENOENT', passwd: 'ENOENT', write: 'EROFS' });
    else process.stderr.write('no bubblewrap: only the network was tested\n');
  });
});
