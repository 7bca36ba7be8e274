import { appendFileSync, existsSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { afterAll, describe, expect, it } from 'vitest';
import { backup } from '../../src/jobs/backup.ts';
import type { OpenedStore } from '../../src/jobs/jobStore.ts';
import { openJobStore } from '../../src/jobs/openJobStore.ts';
import { restore } from '../../src/jobs/restore.ts';
import { migrations } from '../../src/jobs/sql/schema.ts';
import { arrival, jobFile, makeFolder, result } from '../support/jobStores.ts';
import { startPostgres } from '../support/postgresCluster.ts';

const folder = makeFolder();
const cluster = await startPostgres();
afterAll(() => {
  cluster?.remove();
  rmSync(folder, { recursive: true, force: true });
});
let places = 0;
const newPlace = () => join(folder, `place ${++places}`);
const placeAt = (location: string) => ({ location, blobFolder: newPlace(), owner: 'a test' });
const embedded = async () => placeAt(newPlace());
const postgres = async () => placeAt(await cluster!.makeDatabase());

/** Two jobs with three revisions, a report, a decision, a pending move and effects in several states. */
async function fill({ jobs, blobs }: OpenedStore) {
  const hand = { workerId: 'hand', leaseMs: 60_000 };
  const { revisionId } = await jobs.takeIn(arrival('Midsummer tee “π”', { customer: 'Village band' }));
  const report = await blobs.put(new TextEncoder().encode('{"verdict":"fail"}'));
  const picture = await blobs.put(new Uint8Array([1, 2, 3]));
  const { lease } = (await jobs.claim(hand))!;
  await jobs.finish(
    lease,
    result({
      verdict: 'fail',
      inkNames: ['Lagoon'],
      artifacts: [
        { kind: 'reportJson', name: 'report.json', ...report },
        { kind: 'picture', name: 'pictures/1.png', ...picture },
      ],
      moveTo: { folder: '/failed', leaseMs: 60_000 },
      effects: [{ key: 'mail', kind: 'mail', payload: { to: 'the band', lines: ['one', 'two'] } }],
    }),
  );
  await jobs.decide({ revisionId, kind: 'hold', by: 'Mila', reason: 'waiting' });
  const { jobId, contentKey } = (await jobs.revision(revisionId))!;
  const { id: linkId } = await jobs.makeCustomerLink({
    ...{ jobId, tokenSha256: 'd'.repeat(64), by: 'Mila', validForMs: 86_400_000, language: 'de', units: 'mm' },
  });
  await jobs.answerAsCustomer({ linkId, revisionId, contentKey, kind: 'declined', name: 'Ines', remark: 'too blue' });
  await jobs.takeIn(arrival('Midsummer tee “π”', { files: [jobFile('tee', 'b')] }));
  await jobs.takeIn(arrival('poster', { ticketFile: jobFile('ticket.yaml', 'c') }));
  await jobs.fail((await jobs.claim(hand))!.lease, 'crashed');
  return { revisionId, report, picture };
}

async function filledBackup(place: Awaited<ReturnType<typeof embedded>>) {
  const store = await openJobStore(place);
  const filled = await fill(store);
  const target = newPlace();
  const summary = await backup(store, target);
  return { store, target, summary, ...filled };
}

describe('backup and restore', () => {
  const ways: [string, () => ReturnType<typeof embedded>, () => ReturnType<typeof embedded>][] = [
    ['embedded to embedded', embedded, embedded],
    ['embedded to PostgreSQL', embedded, postgres],
    ['PostgreSQL to PostgreSQL', postgres, postgres],
    ['PostgreSQL to embedded', postgres, embedded],
  ];
  for (const [name, from, to] of ways) {
    it.skipIf(cluster === null && name.includes('PostgreSQL'))(`gives everything back: ${name}`, async () => {
      const { store, target, summary, report, revisionId } = await filledBackup(await from());
      expect(summary).toMatchObject({ blobs: 2, blobBytes: report.sizeBytes + 3, missing: [] });
      const place = await to();
      await restore(target, place);
      const restored = await openJobStore(place);
      for (const jobName of ['Midsummer tee “π”', 'poster']) {
        expect(await restored.jobs.job(jobName)).toEqual(await store.jobs.job(jobName));
      }
      expect(await restored.jobs.customerLinks(null)).toEqual(await store.jobs.customerLinks(null));
      const { now: _now, oldestWaitingMs: _oldest, ...counts } = await store.jobs.counts();
      expect(await restored.jobs.counts()).toMatchObject(counts);
      expect(await restored.blobs.read(report.sha256)).toEqual(await store.blobs.read(report.sha256));
      const again = newPlace();
      expect((await backup(restored, again)).recordsSha256).toBe(summary.recordsSha256);
      // It goes on behind what was restored.
      expect(await restored.jobs.takeIn(arrival('hoodie'))).toMatchObject({ kind: 'newJob' });
      const decision = { revisionId, kind: 'release', by: 'Jon', reason: '' } as const;
      expect(await restored.jobs.decide(decision)).toMatchObject(decision);
      await restored.close();
      await store.close();
    });
  }

  it('is as of one instant while the store goes on', async () => {
    const store = await openJobStore(await embedded());
    for (let index = 0; index < 300; index++) await store.jobs.takeIn(arrival(`job ${index}`));
    const target = newPlace();
    const writing = backup(store, target);
    for (let index = 300; index < 400; index++) await store.jobs.takeIn(arrival(`job ${index}`));
    await writing;
    const lines = readFileSync(join(target, 'records.jsonl'), 'utf8')
      .trim()
      .split('\n')
      .map((line) => JSON.parse(line));
    const rows = (table: string) => lines.filter((line) => line.table === table).length;
    expect(rows('jobs')).toBeGreaterThanOrEqual(300);
    expect([rows('revisions'), rows('files'), rows('history')]).toEqual([rows('jobs'), rows('jobs'), rows('jobs')]);
    await store.close();
  });

  it('refuses to overwrite: a backup, or a store that holds jobs', async () => {
    const { store, target } = await filledBackup(await embedded());
    await expect(backup(store, target)).rejects.toThrow('not empty');
    await store.close();
    const place = await embedded();
    const other = await openJobStore(place);
    await expect(restore(target, place)).rejects.toThrow('in use by a test');
    await other.jobs.takeIn(arrival('somebody’s'));
    await other.close();
    await expect(restore(target, place)).rejects.toThrow('1 jobs already');
    expect(existsSync(place.blobFolder)).toBe(false);
    const after = await openJobStore(place);
    expect((await after.jobs.find({})).revisions.map(({ jobName }) => jobName)).toEqual(['somebody’s']);
    await after.close();
  });

  it.skipIf(cluster === null)('refuses to overwrite a PostgreSQL store that holds jobs', async () => {
    const { store, target } = await filledBackup(await embedded());
    await store.close();
    const place = await postgres();
    const other = await openJobStore(place);
    await other.jobs.takeIn(arrival('somebody’s'));
    await expect(restore(target, place)).rejects.toThrow('1 jobs already');
    expect((await other.jobs.counts()).jobs).toBe(1);
    await other.close();
  });

  it('restores nothing from a backup that is damaged or was not finished', async () => {
    const { store, target, picture } = await filledBackup(await embedded());
    await store.close();
    const place = await embedded();
    const blob = join(target, 'blobs', picture.sha256.slice(0, 2), picture.sha256);
    const good = readFileSync(blob);
    writeFileSync(blob, new Uint8Array([1, 2, 4]));
    await expect(restore(target, place)).rejects.toThrow('Nothing was restored');
    rmSync(blob);
    await expect(restore(target, place)).rejects.toThrow('lacks the blob');
    writeFileSync(blob, good);
    const records = readFileSync(join(target, 'records.jsonl'));
    appendFileSync(join(target, 'records.jsonl'), '{}\n');
    await expect(restore(target, place)).rejects.toThrow('is damaged');
    writeFileSync(join(target, 'records.jsonl'), records);
    const summary = readFileSync(join(target, 'backup.json'));
    rmSync(join(target, 'backup.json'));
    await expect(restore(target, place)).rejects.toThrow('not a complete backup');
    expect(existsSync(place.location)).toBe(false);
    writeFileSync(join(target, 'backup.json'), summary);
    await restore(target, place);
    const restored = await openJobStore(place);
    expect((await restored.jobs.counts()).jobs).toBe(2);
    await restored.close();
  });

  it('says which reports were missing when it was made', async () => {
    const store = await openJobStore(await embedded());
    const { report } = await fill(store);
    rmSync(store.blobs.pathOf(report.sha256));
    const target = newPlace();
    expect(await backup(store, target)).toMatchObject({ blobs: 1, missing: [report.sha256] });
    await store.close();
    const place = await embedded();
    expect(await restore(target, place)).toMatchObject({ blobs: 1 });
  });

  it('brings a backup of an older version up to date, and refuses one of a newer', async () => {
    const { store, target } = await filledBackup(await embedded());
    await store.close();
    const next = [...migrations, [`ALTER TABLE jobs ADD COLUMN shelf TEXT NOT NULL DEFAULT 'none'`]];
    const place = await embedded();
    await restore(target, place, next);
    const newer = await openJobStore(place, next);
    expect((await newer.jobs.counts()).jobs).toBe(2);
    const newerBackup = newPlace();
    await backup(newer, newerBackup);
    await newer.close();
    await expect(restore(newerBackup, await embedded())).rejects.toThrow('written by a newer Plateglass');
  });

  it('is written through the owner when another process has the store', async () => {
    const place = await embedded();
    const owner = await openJobStore(place);
    await fill(owner);
    const guest = await openJobStore(place);
    const target = newPlace();
    expect(await backup(guest, target)).toMatchObject({ blobs: 2 });
    await guest.close();
    await owner.close();
  });
});
