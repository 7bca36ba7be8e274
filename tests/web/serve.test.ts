import { spawn, spawnSync } from 'node:child_process';
import { existsSync, mkdirSync, mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { createServer } from 'node:net';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import type { JobFacts, JobLine } from '../../web/shared/jobs.ts';
import { root } from '../cli/runCli.ts';
import { filesBelow } from '../intake/support/testIntake.ts';
import { drawnFilm } from '../soak/writers.ts';

const main = join(root, 'dist/cli/main.js');
let folder: string;
let stop: (() => void)[];

beforeEach(() => {
  if (!existsSync(main)) throw new Error('dist/ is not built; run `npm run build`.');
  folder = mkdtempSync(join(tmpdir(), 'serve-'));
  stop = [];
});
afterEach(() => {
  for (const end of stop) end();
  rmSync(folder, { recursive: true, force: true });
});

/** One line of 1 mm. */
const line1mm = `<svg xmlns="http://www.w3.org/2000/svg" width="60mm" height="40mm" viewBox="0 0 60 40">
  <path d="M5 20H55" stroke="#000" stroke-width="1"/></svg>`;

function environment() {
  return { ...process.env, XDG_STATE_HOME: join(folder, 'state') };
}

async function freePort(): Promise<number> {
  const probe = createServer();
  await new Promise<void>((resolve) => probe.listen(0, '127.0.0.1', resolve));
  const { port } = probe.address() as { port: number };
  await new Promise((resolve) => probe.close(resolve));
  return port;
}

async function serve(parameters: readonly string[]) {
  const port = await freePort();
  const child = spawn(process.execPath, [main, 'serve', '--port', `${port}`, '--hands', '1', ...parameters], {
    ...{ cwd: folder, env: environment() },
  });
  stop.push(() => child.kill('SIGKILL'));
  let said = '';
  for (const stream of [child.stdout, child.stderr]) stream.on('data', (data) => (said += data));
  const at = `http://127.0.0.1:${port}`;
  const until = async <T>(what: string, look: () => Promise<T | null | undefined | false>): Promise<T> => {
    for (let waited = 0; waited < 90_000; waited += 100) {
      const found = await look().catch(() => null);
      if (found) return found;
      await new Promise((resolve) => setTimeout(resolve, 100));
    }
    throw new Error(`never ${what}:\n${said}`);
  };
  const ask = async (method: string, path: string, body?: object | string, headers: Record<string, string> = {}) => {
    const response = await fetch(at + path, {
      method,
      headers: { 'x-plateglass': '1', 'content-type': 'application/json', ...headers },
      body: typeof body === 'object' ? JSON.stringify(body) : body,
    });
    // biome-ignore lint/suspicious/noExplicitAny: answers are looked at by tests alone.
    return (await response.json()) as any;
  };
  await until('served', async () => said.includes('The review is at'));
  const ended = new Promise<number | null>((resolve) => child.once('close', resolve));
  return { child, ended, ask, until, said: () => said };
}

describe('plateglass serve', { timeout: 300_000 }, () => {
  it('checks what is brought through the page, keeps its plates, and judges it by another ticket', async () => {
    const { ask, until, child, ended } = await serve([]);
    const film = line1mm;
    const { id } = await ask('POST', '/api/uploads', { name: 'lantern.svg', sizeBytes: Buffer.byteLength(film) });
    await ask('PATCH', `/api/uploads/${id}`, film, {
      'content-type': 'application/octet-stream',
      'upload-offset': '0',
    });
    const { job } = await ask('POST', '/api/jobs', { uploads: [id], by: 'Mila', ticket: { limits: { minLineMm: 0 } } });
    const checked = (revision: number) =>
      until(`checked revision ${revision}`, async () => {
        const facts: JobFacts = await ask('GET', `/api/jobs/${job.jobId}`);
        return facts.revisions.find((one) => one.revision === revision && one.state === 'checked');
      });
    await checked(1);
    const { plates } = await ask('GET', `/api/jobs/${job.jobId}/1/plates`);
    expect(plates.length).toBeGreaterThan(0);
    expect(await ask('GET', `/api/jobs/${job.jobId}/1/ticket`)).toEqual({
      fileName: 'ticket.json',
      values: { limits: { minLineMm: 0 } },
    });
    const judge = (ticket: object) => ask('POST', `/api/jobs/${job.jobId}/1/judge`, { ticket });
    const finer = await judge({ limits: { minLineMm: 0.79 } });
    await ask('PUT', `/api/jobs/${job.jobId}/ticket`, { ticket: { limits: { minLineMm: 0.79 } }, by: 'Jon' });
    const kept = await checked(2);
    expect(finer.report.verdict).toBe(kept.verdict);
    const keptReport = await ask('GET', `/api/jobs/${job.jobId}/2/files/report.json`);
    expect(JSON.stringify(finer.report.checks)).toBe(JSON.stringify(keptReport.checks));
    // Nothing was read, drawn or measured for it.
    expect(Object.keys(keptReport.timings)).toEqual(['judgeMs', 'pictureMs']);
    expect(await judge({ limits: { minLineMm: 2 } })).toMatchObject({
      kind: 'notMeasured',
      reasons: [expect.stringContaining('4 mm')],
    });
    await ask('PUT', `/api/jobs/${job.jobId}/ticket`, { ticket: { limits: { minLineMm: 2 } }, by: 'Jon' });
    expect((await checked(3)).verdict).toBe('fail');
    const again = await ask('GET', `/api/jobs/${job.jobId}/3/files/report.json`);
    expect(Object.keys(again.timings)).toContain('measureMs');
    const outcomeOfLines = async (revision: number) => {
      const report = await ask('GET', `/api/jobs/${job.jobId}/${revision}/files/report.json`);
      return report.checks.find(({ id: checkId }: { id: string }) => checkId === 'thin-line').outcome;
    };
    expect(await outcomeOfLines(1)).not.toBe('fail');
    expect(await outcomeOfLines(3)).toBe('fail');
    const preview = await ask('POST', '/api/shop/preview', { values: { garment: { colour: '#102030' } } });
    expect(preview.jobs).toMatchObject([
      { jobName: 'lantern.svg', revision: 3, before: 'fail', after: 'fail', why: null, judgedAgain: true },
    ]);
    child.kill('SIGTERM');
    expect(await ended).toBe(0);
  });

  it('watches a folder too; reports beside the originals are without plates', async () => {
    const hot = join(folder, 'hot');
    mkdirSync(hot);
    const { ask, until } = await serve(['--watch', hot, '--settle', '0.6', '--sweep', '0.2']);
    writeFileSync(join(hot, 'brook.svg'), drawnFilm('brook'));
    const { jobId } = await until('checked', async () =>
      (await ask('GET', '/api/jobs')).jobs.find(({ state }: JobLine) => state === 'checked'),
    );
    expect((await ask('GET', `/api/jobs/${jobId}/1/plates`)).plates.length).toBeGreaterThan(0);
    const laid = await until('laid', async () => {
      const files = Object.keys(filesBelow(hot)).filter((path) => path.includes('Film report/'));
      return files.length > 0 && files;
    });
    expect(laid.some((path) => path.endsWith('report.html'))).toBe(true);
    expect(laid.filter((path) => path.includes('plates/'))).toEqual([]);
  });

  it('is reached from elsewhere with accounts and https only', () => {
    const run = (parameters: readonly string[], input = '') =>
      spawnSync(process.execPath, [main, ...parameters], { cwd: folder, env: environment(), input, encoding: 'utf8' });
    const open = run(['serve', '--host', '0.0.0.0']);
    expect([open.status, open.stderr]).toEqual([2, expect.stringContaining('by https only')]);
    const proxied = run(['serve', '--behind-proxy', 'films.example']);
    expect([proxied.status, proxied.stderr]).toEqual([2, expect.stringContaining('There is no account yet')]);
    expect(run(['accounts', 'add', 'Mila', '--role', 'administer'], 'too short\n').status).toBe(2);
    expect(run(['accounts', 'add', 'Mila', '--role', 'administer'], 'lanterns over the brook\n').status).toBe(0);
    expect(run(['accounts', 'list']).stdout).toBe('administer Mila\n');
  });
});
