import { execFileSync } from 'node:child_process';
import { mkdtempSync, readdirSync, readFileSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join, relative } from 'node:path';
import { fileURLToPath } from 'node:url';
import type { JobStore, OpenedStore } from '../../src/jobs/jobStore.ts';
import type { Artifact, ArtifactKind } from '../../src/jobs/jobTypes.ts';
import { openJobStore } from '../../src/jobs/openJobStore.ts';
import type { ReportJson } from '../../src/report/reportJson.ts';
import { createServer } from '../../web/server/createServer.ts';

const built = fileURLToPath(new URL('../../dist', import.meta.url));
const kinds: Readonly<Record<string, ArtifactKind>> = {
  json: 'reportJson',
  html: 'reportHtml',
  pdf: 'reportPdf',
  png: 'picture',
};

export interface ReviewUnderTest {
  readonly url: string;
  readonly store: OpenedStore;
  /** A folder for films and reports, gone at the end. */
  readonly folder: string;
  /** What the server itself got wrong. */
  readonly troubles: readonly Error[];
  /** Checks films by the built program and puts the result into the store as a revision of the job; its job's id. */
  bring(jobName: string, films: readonly string[], ticket?: string): Promise<number>;
  close(): Promise<void>;
}

/** The review's server with an empty store, serving the built page. */
export async function startReview(): Promise<ReviewUnderTest> {
  const folder = mkdtempSync(join(tmpdir(), 'plateglass-review-'));
  const store = await openJobStore({ location: join(folder, 'store'), owner: 'test' });
  const troubles: Error[] = [];
  const hosts = new Set<string>();
  const server = await createServer({
    store,
    pageFolder: join(built, 'web/page'),
    hosts,
    trouble: (error) => troubles.push(error),
  });
  const url = await server.listen({ host: '127.0.0.1', port: 0 });
  hosts.add(new URL(url).host);
  let checks = 0;
  return {
    url,
    store,
    folder,
    troubles,
    bring: async (jobName, films, ticket) => {
      const out = join(folder, `check-${++checks}`);
      const args = ['check', ...films, '--out', out, '--keep-plates', ...(ticket ? ['--ticket', ticket] : [])];
      // Exit code 1: not ready, which is an answer.
      try {
        execFileSync(process.execPath, [join(built, 'cli/main.js'), ...args], { stdio: 'pipe' });
      } catch (error) {
        if ((error as { status?: number }).status === undefined) throw error;
      }
      return putChecked(store, jobName, films, out);
    },
    close: async () => {
      await server.close();
      await store.close();
      rmSync(folder, { recursive: true, force: true });
    },
  };
}

async function putChecked(
  { jobs, blobs }: OpenedStore,
  jobName: string,
  films: readonly string[],
  out: string,
): Promise<number> {
  const artifacts: Artifact[] = [];
  for (const entry of readdirSync(out, { recursive: true, withFileTypes: true })) {
    if (!entry.isFile()) continue;
    const path = join(entry.parentPath, entry.name);
    const name = relative(out, path);
    const kind = name.startsWith('plates/') ? 'other' : (kinds[name.split('.').at(-1)!] ?? 'other');
    artifacts.push({ kind, name, ...(await blobs.putFile(path)) });
  }
  const report = JSON.parse(readFileSync(join(out, 'report.json'), 'utf8')) as ReportJson;
  await takeIn(jobs, jobName, films, report);
  const claim = (await jobs.claim({ workerId: 'test', leaseMs: 60_000 }))!;
  await jobs.finish(claim.lease, {
    verdict: report.verdict,
    reason: null,
    artifacts,
    inkNames: report.inks.map(({ name }) => name),
    timings: {},
  });
  return claim.jobId;
}

async function takeIn(jobs: JobStore, jobName: string, films: readonly string[], report: ReportJson): Promise<void> {
  await jobs.takeIn({
    jobName,
    customer: null,
    source: { kind: 'commandLine', detail: 'test' },
    files: films.map((path, index) => ({
      name: path.split('/').at(-1)!,
      sizeBytes: report.films[index]?.sizeBytes ?? 1,
      sha256: report.films[index]?.sha256 ?? '0'.repeat(64),
      storedPath: path,
    })),
    ticketFile: null,
    arrivedAt: Date.now(),
    by: 'test',
    placeAt: null,
  });
}
