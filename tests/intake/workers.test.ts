import { spawn } from 'node:child_process';
import { existsSync, mkdirSync, mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { setTimeout as pause } from 'node:timers/promises';
import { afterAll, describe, expect, it } from 'vitest';
import { openJobStore } from '../../src/jobs/openJobStore.ts';
import { root } from '../cli/runCli.ts';
import { drawnFilm } from '../soak/writers.ts';
import { startPostgres } from '../support/postgresCluster.ts';
import { filesBelow, sha256 } from './support/testIntake.ts';

const main = join(root, 'dist/cli/main.js');
const cluster = await startPostgres();
const folder = mkdtempSync(join(tmpdir(), 'workers-'));
const running: (() => void)[] = [];

afterAll(() => {
  for (const end of running) end();
  cluster?.remove();
  rmSync(folder, { recursive: true, force: true });
});

function run(parameters: readonly string[]) {
  const child = spawn(process.execPath, [main, ...parameters], { cwd: folder });
  let said = '';
  for (const stream of [child.stdout, child.stderr]) stream.on('data', (data) => (said += data));
  running.push(() => child.kill('SIGKILL'));
  const ended = new Promise<number | null>((resolve) => child.once('close', resolve));
  return { child, ended, said: () => said };
}

describe.skipIf(cluster === null)('several machines', () => {
  it('lose and double nothing when one is killed mid-job and the connections are cut', {
    timeout: 300_000,
  }, async () => {
    if (!existsSync(main)) throw new Error('dist/ is not built; run `npm run build`.');
    const location = await cluster!.makeDatabase();
    const hot = join(folder, 'hot');
    mkdirSync(hot);
    const blobs = join(folder, 'blobs');
    const told = join(folder, 'told');
    const shared = [hot, '--store', location, '--blobs', blobs, '--lease', '4', '--hands', '1'];
    const films = Array.from({ length: 8 }, (_, n) => [`band ${n}.svg`, drawnFilm(`band ${n}`)] as const);
    for (const [name, content] of films) writeFileSync(join(hot, name), content);
    const watch = run([
      'watch',
      ...shared,
      '--settle',
      '0.5',
      '--sweep',
      '0.2',
      '--notify-command',
      `cat >> '${told}'`,
    ]);
    const store = await openJobStore({ location, blobFolder: blobs, owner: 'a test' });
    const until = async (holds: () => Promise<boolean>) => {
      for (let waited = 0; !(await holds().catch(() => false)); waited += 100) {
        if (waited > 200_000) throw new Error(`it never came to that:\n${watch.said()}`);
        await pause(100);
      }
    };
    await until(async () => (await store.jobs.counts()).jobs === films.length);
    const doomed = run(['worker', ...shared]);
    const holdsJob = async () => {
      const { revisions } = await store.jobs.find({ states: ['working'], allRevisions: true });
      const histories = await Promise.all(revisions.map(({ jobId }) => store.jobs.job(jobId)));
      return histories.some((job) => job?.history.at(-1)?.who.includes(`:${doomed.child.pid}:`));
    };
    await until(holdsJob);
    doomed.child.kill('SIGKILL');
    await doomed.ended;
    const other = run(['worker', ...shared]);
    await pause(1_500);
    expect(await cluster!.cutConnections()).toBeGreaterThan(0);
    await until(async () => {
      const { revisions, pendingMoves } = await store.jobs.counts();
      return revisions.checked === films.length && pendingMoves === 0;
    });
    for (const { child, ended } of [watch, other]) {
      child.kill('SIGTERM');
      expect(await ended).toBe(0);
    }
    await store.close();
    const files = filesBelow(hot);
    for (const [name, content] of films) {
      const places = Object.keys(files).filter((path) => path.endsWith(`/${name}`));
      expect(places).toEqual([`Look first/${name}, revision 1/${name}`]);
      expect(files[places[0]]).toBe(sha256(content));
      expect(files).toHaveProperty([`Look first/${name}, revision 1/Film report/report.pdf`]);
    }
  });
});
