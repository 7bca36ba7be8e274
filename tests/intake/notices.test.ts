import { spawn } from 'node:child_process';
import { createHmac } from 'node:crypto';
import { existsSync, mkdtempSync, readdirSync, readFileSync, rmSync } from 'node:fs';
import type { IncomingHttpHeaders } from 'node:http';
import { createServer } from 'node:http';
import type { AddressInfo } from 'node:net';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { systemClock } from '../../src/intake/clock.ts';
import type { EndedJob } from '../../src/intake/jobWorker.ts';
import { forgetNoticeCommand, runNoticeCommand } from '../../src/intake/noticeCommand.ts';
import type { NoticeTargets } from '../../src/intake/notices.ts';
import { noticesOf } from '../../src/intake/notices.ts';
import { Notifier } from '../../src/intake/notifier.ts';
import type { OpenedStore } from '../../src/jobs/jobStore.ts';
import { openJobStore } from '../../src/jobs/openJobStore.ts';
import { root as projectRoot } from '../cli/runCli.ts';

const program = join(projectRoot, 'dist/tests/intake/support/killedNotice.js');

interface Got {
  readonly headers: IncomingHttpHeaders;
  readonly body: string;
}

let folder: string;
let opened: OpenedStore;

beforeEach(async () => {
  folder = mkdtempSync(join(tmpdir(), 'notices-'));
  opened = await openJobStore({ location: join(folder, 'store'), owner: 'a test' });
});

afterEach(async () => {
  await opened.close();
  rmSync(folder, { recursive: true, force: true });
});

async function revisionId(): Promise<number> {
  const file = { name: 'a.svg', sizeBytes: 1, sha256: 'a'.repeat(64), storedPath: '/a.svg' };
  const source = { kind: 'folder', detail: 'a.svg' } as const;
  const arrival = {
    jobName: 'a.svg',
    customer: null,
    source,
    files: [file],
    ticketFile: null,
    arrivedAt: 0,
    by: 'test',
    placeAt: null,
  };
  return (await opened.jobs.takeIn(arrival)).revisionId;
}

async function tell(
  targets: NoticeTargets,
  mostTries = 6,
): Promise<{ lines: string[]; counts: Record<string, number> }> {
  const lines: string[] = [];
  const say = { job: (line: string) => lines.push(line), trouble: (line: string) => lines.push(line) };
  const ended: EndedJob = {
    ...{ jobName: 'a.svg', revision: 1, revisionId: await revisionId(), folder: '/hot/Not ready/a.svg, revision 1' },
    verdict: 'fail',
    ...{ reason: 'thin-line', at: 1_000 },
  };
  // Added twice, as after a crash: the store keeps one.
  for (let n = 0; n < 2; n++) await opened.jobs.addEffects(noticesOf(targets, ended));
  const options = {
    targets,
    workerId: 'test',
    toldFolder: join(folder, 'told-by'),
    pollMs: 20,
    firstPauseMs: 20,
    mostTries,
  };
  const notifier = new Notifier(opened.jobs, systemClock, say, options);
  notifier.start();
  let counts = (await opened.jobs.counts()).effects;
  for (const untilMs = Date.now() + 20_000; counts.waiting + counts.working > 0 && Date.now() < untilMs; ) {
    await new Promise((resolve) => setTimeout(resolve, 30));
    counts = (await opened.jobs.counts()).effects;
  }
  await notifier.stop();
  return { lines, counts };
}

/** A far side that gives these answers, the last one for ever. */
async function farSide(answers: readonly number[]): Promise<{ url: string; got: Got[]; close(): void }> {
  const got: Got[] = [];
  const server = createServer((request, response) => {
    let body = '';
    request.on('data', (piece) => {
      body += piece;
    });
    request.on('end', () => {
      const status = answers[Math.min(got.length, answers.length - 1)];
      got.push({ headers: request.headers, body });
      if (status === 0) request.socket.destroy();
      else response.writeHead(status, status === 302 ? { location: 'http://127.0.0.1:1/' } : {}).end();
    });
  });
  await new Promise<void>((resolve) => server.listen(0, '127.0.0.1', resolve));
  const { port } = server.address() as AddressInfo;
  return { url: `http://127.0.0.1:${port}/job`, got, close: () => server.close() };
}

describe('notices', () => {
  it('post a signed body once', async () => {
    const far = await farSide([204]);
    const { counts } = await tell({ command: null, webhook: { url: far.url, secret: 'of the shop' } });
    far.close();
    expect(counts).toMatchObject({ done: 1, waiting: 0, setAside: 0 });
    expect(far.got).toHaveLength(1);
    const [{ headers, body }] = far.got;
    expect(JSON.parse(body)).toMatchObject({ event: 'checked', job: 'a.svg', verdict: 'fail', words: 'Not ready' });
    const wanted = createHmac('sha256', 'of the shop')
      .update(`${headers['plateglass-timestamp']}.${body}`)
      .digest('hex');
    expect(headers['plateglass-signature']).toBe(`sha256=${wanted}`);
    expect(headers['idempotency-key']).toMatch(/^notice\.webhook:/);
  });

  it('are tried again with the same body and key until they get through', async () => {
    const far = await farSide([500, 0, 302, 200]);
    const { lines, counts } = await tell({ command: null, webhook: { url: far.url, secret: null } });
    far.close();
    expect(counts).toMatchObject({ done: 1 });
    expect(far.got).toHaveLength(4);
    expect(new Set(far.got.map(({ body, headers }) => body + headers['idempotency-key'])).size).toBe(1);
    expect(lines).toHaveLength(1);
  });

  it('are given up after so many tries, and that is said', async () => {
    const far = await farSide([500]);
    const { lines, counts } = await tell({ command: null, webhook: { url: far.url, secret: null } }, 3);
    far.close();
    expect(far.got).toHaveLength(3);
    expect(counts).toMatchObject({ setAside: 1 });
    expect(lines.at(-1)).toMatch(/given up/);
  });

  it('run the command with the result on its standard input', async () => {
    const file = join(folder, 'told');
    const { counts } = await tell({
      command: `cat > '${file}'; echo "$PLATEGLASS_NOTICE" >> '${file}'`,
      webhook: null,
    });
    expect(counts).toMatchObject({ done: 1 });
    const [json, key] = readFileSync(file, 'utf8').trim().split('\n');
    expect(JSON.parse(json)).toMatchObject({ job: 'a.svg', folder: '/hot/Not ready/a.svg, revision 1' });
    expect(key).toMatch(/^notice\.command:/);
  });

  it('a command that fails is run again', async () => {
    const file = join(folder, 'tries');
    const { counts, lines } = await tell({
      command: `echo x >> '${file}'; [ $(wc -l < '${file}') -ge 3 ]`,
      webhook: null,
    });
    expect(counts).toMatchObject({ done: 1 });
    expect(readFileSync(file, 'utf8')).toBe('x\nx\nx\n');
    expect(lines).toHaveLength(1);
  });

  it('a command that is given up leaves nothing behind', async () => {
    const { counts } = await tell({ command: 'echo no >&2; false', webhook: null }, 2);
    expect(counts).toMatchObject({ setAside: 1 });
    expect(readdirSync(join(folder, 'told-by'))).toEqual([]);
  });

  it('a command that ended while its watch was killed is not run again', async () => {
    const at = (name: string) => join(folder, name);
    const command = `touch '${at('began')}'; sleep 0.3; cat >> '${at('told')}'; touch '${at('ended')}'`;
    const child = spawn(process.execPath, [program, at('told-by'), command]);
    const gone = new Promise((resolve) => child.once('close', resolve));
    await expect.poll(() => existsSync(at('began')), { timeout: 20_000 }).toBe(true);
    child.kill('SIGKILL');
    await gone;
    await expect.poll(() => existsSync(at('ended')), { timeout: 20_000 }).toBe(true);
    await new Promise((resolve) => setTimeout(resolve, 300));
    await runNoticeCommand(at('told-by'), command, 'notice.command:1:1000', '{"job":"a.svg"}', 20_000);
    expect(readFileSync(at('told'), 'utf8')).toBe('{"job":"a.svg"}\n');
    await forgetNoticeCommand(at('told-by'), 'notice.command:1:1000');
    expect(readdirSync(at('told-by'))).toEqual([]);
  });

  it('a command that takes too long is ended with all it started, and its last words are told', async () => {
    const command = 'echo waiting for the printer >&2; sleep 30; true';
    const told = runNoticeCommand(join(folder, 'told-by'), command, 'slow', '{}', 300);
    await expect(told).rejects.toThrow('the command ended with SIGKILL: waiting for the printer');
  });
});
