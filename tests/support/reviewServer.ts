import { type ChildProcess, execFileSync, spawn } from 'node:child_process';
import { mkdtempSync, readFileSync, rmSync } from 'node:fs';
import { createServer } from 'node:net';
import { tmpdir } from 'node:os';
import { basename, join } from 'node:path';
import { fileURLToPath } from 'node:url';
import type { JobFacts } from '../../web/shared/jobs.ts';
import type { NewJobFacts, UploadFacts } from '../../web/shared/uploads.ts';

/** Two folders up lies the project, or, for what was compiled, the folder it was compiled to. */
const above = fileURLToPath(new URL('../..', import.meta.url));
const program = join(basename(above) === 'dist' ? above : join(above, 'dist'), 'cli/main.js');
const ownPage = { 'x-plateglass': '1' };

export interface ReviewUnderTest {
  readonly url: string;
  readonly pid: number;
  /** A folder for films, gone at the end. */
  readonly folder: string;
  /** Uploads files as a job and waits until it is checked; its id. */
  bring(jobName: string, files: readonly string[]): Promise<number>;
  job(jobId: number): Promise<JobFacts>;
  /** Ends it as a power cut would. */
  kill(): Promise<void>;
  /** With the same store, at the same address. */
  startAgain(): Promise<void>;
  close(): Promise<void>;
}

/** `plateglass serve` as it was built, with an empty store; `options` go to the command. */
export async function startReview(
  options: readonly string[] = [],
  accounts: Readonly<Record<string, string>> = {},
): Promise<ReviewUnderTest> {
  const folder = mkdtempSync(join(tmpdir(), 'plateglass-review-'));
  const port = await freePort();
  for (const [name, passphrase] of Object.entries(accounts)) {
    const add = [program, 'accounts', 'add', name, '--role', 'administer', '--store', join(folder, 'store')];
    execFileSync(process.execPath, add, { input: `${passphrase}\n` });
  }
  const start = async () => {
    const parameters = [program, 'serve', '--store', join(folder, 'store'), '--port', String(port), ...options];
    const started = spawn(process.execPath, parameters, { cwd: folder, stdio: ['ignore', 'pipe', 'inherit'] });
    await saidItsAddress(started);
    return started;
  };
  let child = await start();
  const url = `http://127.0.0.1:${port}`;
  const job = (jobId: number) => answer<JobFacts>(`${url}/api/jobs/${jobId}`, {});
  return {
    url,
    get pid() {
      return child.pid!;
    },
    folder,
    job,
    bring: async (jobName, files) => {
      const uploads: string[] = [];
      for (const file of files) uploads.push(await upload(url, file));
      const made = await send<NewJobFacts>(`${url}/api/jobs`, { uploads, jobName, by: 'Ines' });
      for (;;) {
        const [latest] = (await job(made.job.jobId)).revisions;
        if (latest.state === 'checked') return made.job.jobId;
        if (latest.state !== 'waiting' && latest.state !== 'working') throw new Error(latest.reason ?? latest.state);
        await new Promise((resolve) => setTimeout(resolve, 250));
      }
    },
    kill: async () => {
      const ended = new Promise((resolve) => child.once('exit', resolve));
      child.kill('SIGKILL');
      await ended;
    },
    startAgain: async () => {
      child = await start();
    },
    close: async () => {
      const ended = new Promise((resolve) => child.once('exit', resolve));
      child.kill('SIGTERM');
      await ended;
      rmSync(folder, { recursive: true, force: true });
    },
  };
}

async function upload(url: string, file: string): Promise<string> {
  const bytes = readFileSync(file);
  const { id } = await send<UploadFacts>(`${url}/api/uploads`, { name: basename(file), sizeBytes: bytes.length });
  await answer(`${url}/api/uploads/${id}`, {
    method: 'PATCH',
    headers: { ...ownPage, 'upload-offset': '0', 'content-type': 'application/octet-stream' },
    body: bytes,
  });
  return id;
}

function send<Answer>(url: string, body: unknown): Promise<Answer> {
  return answer(url, {
    method: 'POST',
    headers: { ...ownPage, 'content-type': 'application/json' },
    body: JSON.stringify(body),
  });
}

async function answer<Answer>(url: string, request: RequestInit): Promise<Answer> {
  const response = await fetch(url, request);
  if (!response.ok) throw new Error(`${url}: ${response.status} ${await response.text()}`);
  return (await response.json()) as Answer;
}

function saidItsAddress(child: ChildProcess): Promise<void> {
  return new Promise((resolve, reject) => {
    child.stdout!.on('data', (text: Buffer) => {
      if (text.toString().includes('http://')) resolve();
    });
    child.once('exit', (code) => reject(new Error(`plateglass serve ended with ${code}.`)));
  });
}

export function freePort(): Promise<number> {
  return new Promise((resolve) => {
    const server = createServer();
    server.listen(0, '127.0.0.1', () => {
      const { port } = server.address() as { port: number };
      server.close(() => resolve(port));
    });
  });
}
