import { readdirSync, readFileSync, rmSync } from 'node:fs';
import { join } from 'node:path';
import { setTimeout as pause } from 'node:timers/promises';
import { afterAll, describe, expect, it } from 'vitest';
import { openJobStore } from '../../src/jobs/openJobStore.ts';
import { migrations } from '../../src/jobs/sql/schema.ts';
import { StoreUnreachableError } from '../../src/jobs/storeErrors.ts';
import { arrival, makeFolder, result } from '../support/jobStores.ts';
import { jobsChild } from '../support/jobsChild.ts';
import { startPostgres } from '../support/postgresCluster.ts';

const cluster = await startPostgres();
const folder = makeFolder();
afterAll(() => {
  cluster?.remove();
  rmSync(folder, { recursive: true, force: true });
});
/** What is said of a store that is so many versions newer than this program. */
const newerBy = (more: number) =>
  `written by a newer Plateglass (version ${migrations.length + more}, this one knows ${migrations.length})`;
const upFrom = (version: number) => `before-version-${version + 1}-from-${version}`;
const open = (location: string, list = migrations) =>
  openJobStore({ location, blobFolder: join(folder, 'blobs'), owner: 'a test' }, list);
const claims = (leaseMs: number) => `
  const claim = await store.claim({ workerId: 'worker ' + process.pid, leaseMs: ${leaseMs} });
  await say('claimed ' + claim.jobName + ' ' + claim.lease.attempt);`;
const finishes = `
  const done = await store.finish(claim.lease, { verdict: 'fail', reason: null, artifacts: [], inkNames: [], timings: {} });
  await say('accepted ' + done.accepted);`;

describe.skipIf(cluster === null)('PostgreSQL store', () => {
  it('is made once when several machines begin at the same moment', async () => {
    const location = await cluster!.makeDatabase();
    const stores = await Promise.all([1, 2, 3, 4].map(() => open(location)));
    await Promise.all(stores.map(({ jobs }, index) => jobs.takeIn(arrival(`job ${index}`))));
    expect((await stores[0].jobs.counts()).jobs).toBe(4);
    for (const store of stores) await store.close();
  });

  it('has another worker finish what one was killed over, once', async () => {
    const location = await cluster!.makeDatabase();
    const store = await open(location);
    const { revisionId } = await store.jobs.takeIn(arrival('tee'));
    const killed = jobsChild(location, `${claims(1_000)} await pause(60_000);`);
    await killed.until((lines) => lines.includes('claimed tee 1'));
    await killed.kill('SIGKILL');
    expect((await store.jobs.counts()).revisions.working).toBe(1);
    await pause(1_100);
    const claim = (await store.jobs.claim({ workerId: 'other', leaseMs: 60_000 }))!;
    expect(claim.lease.attempt).toBe(2);
    expect(await store.jobs.finish(claim.lease, result({ verdict: 'pass' }))).toMatchObject({ accepted: true });
    expect(await store.jobs.claim({ workerId: 'other', leaseMs: 60_000 })).toBeNull();
    expect(await store.jobs.revision(revisionId)).toMatchObject({ state: 'checked', verdict: 'pass' });
    await store.close();
  });

  it('takes no result from a worker that was stopped past its lease and woke again', async () => {
    const location = await cluster!.makeDatabase();
    const store = await open(location);
    const { revisionId } = await store.jobs.takeIn(arrival('tee'));
    const stalled = jobsChild(location, `${claims(1_000)} await pause(2_500); ${finishes}`);
    await stalled.until((lines) => lines.includes('claimed tee 1'));
    stalled.signal('SIGSTOP');
    await pause(1_200);
    const claim = (await store.jobs.claim({ workerId: 'other', leaseMs: 60_000 }))!;
    stalled.signal('SIGCONT');
    await stalled.until((lines) => lines.some((line) => line.startsWith('accepted')));
    expect(stalled.lines.at(-1)).toBe('accepted false');
    expect(await store.jobs.revision(revisionId)).toMatchObject({ state: 'working', verdict: null });
    await store.jobs.finish(claim.lease, result({ verdict: 'pass' }));
    expect(await store.jobs.revision(revisionId)).toMatchObject({ state: 'checked', verdict: 'pass' });
    await stalled.ended();
    await store.close();
  });

  it('undoes what a worker was in the middle of writing when it was killed', async () => {
    const location = await cluster!.makeDatabase();
    const store = await open(location);
    const writer = jobsChild(
      location,
      `for (let number = 0; ; number++) {
        const file = { name: 'a.tif', sizeBytes: 1, sha256: 'a'.repeat(64), storedPath: '/spool/a.tif' };
        await store.takeIn({ jobName: 'job ' + number, customer: null, source: { kind: 'folder', detail: '' },
          files: [file, { ...file, name: 'b.tif' }], ticketFile: null, arrivedAt: 0, by: 'test', placeAt: null });
        await say('job ' + number);
      }`,
    );
    await writer.until((lines) => lines.length > 25);
    await writer.kill('SIGKILL');
    await pause(200);
    const found = (await store.jobs.find({ limit: 1_000 })).revisions;
    const acknowledged = writer.lines.slice(1);
    const names = new Set(found.map(({ jobName }) => jobName));
    expect(acknowledged.filter((name) => !names.has(name))).toEqual([]);
    expect(found.length - acknowledged.length).toBeLessThanOrEqual(1);
    for (const { revisionId } of found) {
      expect((await store.jobs.revision(revisionId))!.files.length).toBe(2);
    }
    await store.close();
  });

  it('goes on after its connections were cut, with nothing lost or twice', async () => {
    const location = await cluster!.makeDatabase();
    const store = await open(location);
    let cuts = 0;
    let unreachable = 0;
    let working = true;
    const cutting = (async () => {
      while (working) {
        await pause(60);
        cuts += await cluster!.cutConnections();
      }
    })();
    const names = Array.from({ length: 40 }, (_, index) => `job ${index}`);
    await Promise.all(
      names.map(async (name) => {
        for (;;) {
          try {
            return await store.jobs.takeIn(arrival(name));
          } catch (error) {
            expect(error).toBeInstanceOf(StoreUnreachableError);
            unreachable++;
            await pause(20);
          }
        }
      }),
    );
    working = false;
    await cutting;
    process.stdout.write(`cut ${cuts} connections; ${unreachable} calls had to be made again\n`);
    expect(cuts).toBeGreaterThan(0);
    const page = await store.jobs.find({ allRevisions: true, limit: 1_000 });
    expect(page.revisions.map(({ jobName }) => jobName).sort()).toEqual([...names].sort());
    expect(page.revisions.every(({ revision }) => revision === 1)).toBe(true);
    await store.close();
  });

  it('says that it does not answer while PostgreSQL is down, and works again when it is back', async () => {
    const location = await cluster!.makeDatabase();
    const store = await open(location);
    await store.jobs.takeIn(arrival('tee'));
    const { lease } = (await store.jobs.claim({ workerId: 'hand', leaseMs: 60_000 }))!;
    cluster!.stop('immediate');
    await expect(store.jobs.finish(lease, result())).rejects.toThrow('PostgreSQL does not answer');
    await expect(store.jobs.counts()).rejects.toBeInstanceOf(StoreUnreachableError);
    cluster!.start();
    expect(await store.jobs.finish(lease, result())).toMatchObject({ accepted: true });
    expect((await store.jobs.counts()).revisions.checked).toBe(1);
    await store.close();
  });

  it('refuses a store of a newer version, and brings an older one up to date after writing it out', async () => {
    const location = await cluster!.makeDatabase();
    const older = await open(location);
    await older.jobs.takeIn(arrival('tee'));
    const next = [...migrations, [`ALTER TABLE jobs ADD COLUMN shelf TEXT NOT NULL DEFAULT 'none'`]];
    const newer = await open(location, next);
    expect((await newer.jobs.counts()).jobs).toBe(1);
    const copy = readdirSync(join(folder, 'blobs')).find((name) => name.startsWith(upFrom(migrations.length)))!;
    expect(readFileSync(join(folder, 'blobs', copy), 'utf8')).toContain('"name":"tee"');
    await expect(open(location)).rejects.toThrow(newerBy(1));
    expect((await newer.jobs.counts()).jobs).toBe(1);
    await newer.close();
    await older.close();
  });

  it('says what is wrong with the address, and asks for a place for reports', async () => {
    await expect(open('postgres://postgres@127.0.0.1:9/shop')).rejects.toThrow('PostgreSQL does not answer');
    const location = await cluster!.makeDatabase();
    await expect(open(location.replace(/shop\d+$/, 'nowhere'))).rejects.toThrow('PostgreSQL refuses the job store');
    await expect(openJobStore({ location, owner: 'a test' })).rejects.toThrow('--blobs');
  });

  it('shares a row of jobs among workers: each is done once, also while some are killed', async () => {
    const location = await cluster!.makeDatabase();
    const store = await open(location);
    const total = 45;
    for (let index = 0; index < total; index++) await store.jobs.takeIn(arrival(`job ${index}`));
    const work = `
      const workerId = 'worker ' + process.pid;
      for (;;) {
        const claim = await store.claim({ workerId, leaseMs: 2_000 });
        if (claim === null) { await pause(50); continue; }
        await pause(15);
        const done = await store.finish(claim.lease, { verdict: 'pass', reason: null, artifacts: [], inkNames: [], timings: {},
          effects: [{ key: 'told ' + claim.jobName + ' ' + claim.lease.attempt, kind: 'webhook', payload: null }] });
        await say((done.accepted ? 'did ' : 'lost ') + claim.jobName);
      }`;
    const workers = [jobsChild(location, work), jobsChild(location, work), jobsChild(location, work)];
    const did = () => workers.flatMap(({ lines }) => lines.filter((line) => line.startsWith('did ')));
    const deadline = Date.now() + 60_000;
    let killed = 0;
    for (;;) {
      await pause(50);
      const { revisions } = await store.jobs.counts();
      if (revisions.checked === total || Date.now() > deadline) break;
      if (did().length > 10 * (killed + 1) && killed < 3) {
        await workers[killed++].kill('SIGKILL');
        workers.push(jobsChild(location, work));
      }
    }
    for (const worker of workers.slice(killed)) await worker.kill('SIGKILL');
    expect(killed).toBe(3);
    const counts = await store.jobs.counts();
    expect(counts.revisions).toEqual({ waiting: 0, working: 0, checked: total, couldNotRun: 0, setAside: 0 });
    expect(new Set(did()).size).toBe(did().length);
    // One effect a result, each result once.
    expect(counts.effects.waiting).toBe(total);
    await store.close();
  });
});
