import { createHash } from 'node:crypto';
import { mkdirSync, readdirSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { afterAll, describe, expect, it } from 'vitest';
import { refuseNetworkFolder } from '../../src/jobs/localFileSystem.ts';
import { openJobStore } from '../../src/jobs/openJobStore.ts';
import { migrations } from '../../src/jobs/sql/schema.ts';
import { OwnedElsewhereError, SqliteDatabase } from '../../src/jobs/sql/sqliteDatabase.ts';
import { arrival, makeFolder, result } from '../support/jobStores.ts';
import { jobsChild } from '../support/jobsChild.ts';

const folders: string[] = [];
const newFolder = () => {
  const folder = makeFolder();
  folders.push(folder);
  return folder;
};
afterAll(() => {
  for (const folder of folders) rmSync(folder, { recursive: true, force: true });
});
/** What is said of a store that is so many versions newer than this program. */
const newerBy = (more: number) =>
  `written by a newer Plateglass (version ${migrations.length + more}, this one knows ${migrations.length})`;
const upFrom = (version: number) => `before-version-${version + 1}-from-${version}`;
const open = (location: string, list = migrations) => openJobStore({ location, owner: 'a test' }, list);
const takeInOften = `
  for (let number = 0; ; number++) {
    const file = { name: 'a.tif', sizeBytes: 1, sha256: 'a'.repeat(64), storedPath: '/spool/a.tif' };
    await store.takeIn({ jobName: process.pid + ' ' + number, customer: null, source: { kind: 'folder', detail: '' },
      files: [file, { ...file, name: 'b.tif' }], ticketFile: null, arrivedAt: 0, by: 'test', placeAt: null });
    await say(process.pid + ' ' + number);
  }`;

describe('embedded store', () => {
  it('is fully synced, with one connection that keeps all others out', async () => {
    const file = join(newFolder(), 'store.sqlite');
    const database = new SqliteDatabase(file);
    await database.write((transaction) => transaction.change('CREATE TABLE first (id BIGINT)'));
    const value = async (sql: string) =>
      Object.values((await database.read((transaction) => transaction.all<object>(sql)))[0])[0];
    expect(await value('PRAGMA journal_mode')).toBe('wal');
    // 2 is FULL: every commit waits for the disk.
    expect(await value('PRAGMA synchronous')).toBe(2);
    expect(await value('PRAGMA locking_mode')).toBe('exclusive');
    expect(await value('PRAGMA foreign_keys')).toBe(1);
    // Up to 3.51.2 the log may be reset wrongly, with two connections; so there must never be two.
    expect(await value('SELECT sqlite_version()')).toMatch(/^3\.\d+\.\d+$/);
    expect(() => new SqliteDatabase(file)).toThrow(OwnedElsewhereError);
    await database.close();
    await new SqliteDatabase(file).close();
  });

  it('is used by later processes through the first, and taken over when that one closes', async () => {
    const folder = newFolder();
    const owner = await open(folder);
    const guest = await open(folder);
    const taken = await guest.jobs.takeIn(arrival('tee'));
    expect(await owner.jobs.takeIn(arrival('tee'))).toEqual({ ...taken, kind: 'alreadyKnown' });
    await expect(guest.jobs.takeIn(arrival('tee', { files: [] }))).rejects.toMatchObject({
      name: 'StoreRequestError',
      message: 'The job "tee" has no files.',
    });
    const many = await Promise.all([...'0123456789'].map((digit) => guest.jobs.takeIn(arrival(`job ${digit}`))));
    expect(new Set(many.map(({ jobId }) => jobId)).size).toBe(10);
    await owner.close();
    expect((await guest.jobs.counts()).jobs).toBe(11);
    const third = await open(folder);
    expect((await third.jobs.find({ name: 'tee' })).revisions).toMatchObject([{ jobName: 'tee' }]);
    await third.close();
    await guest.close();
    expect(readdirSync(folder)).toEqual(['store.sqlite']);
  });

  it('works in a folder whose path is too long for a socket', async () => {
    const folder = join(newFolder(), 'long '.repeat(30));
    const owner = await open(folder);
    const guest = await open(folder);
    await guest.jobs.takeIn(arrival('tee'));
    expect((await owner.jobs.counts()).jobs).toBe(1);
    await guest.close();
    await owner.close();
  });

  it('is taken over from an owner that was killed', async () => {
    const folder = newFolder();
    const child = jobsChild(folder, takeInOften);
    await child.until((lines) => lines.length > 5);
    const guest = await open(folder);
    expect((await guest.jobs.counts()).jobs).toBeGreaterThanOrEqual(5);
    await child.kill('SIGKILL');
    const counts = await guest.jobs.counts().catch(() => guest.jobs.counts());
    expect(counts.jobs).toBeGreaterThanOrEqual(child.lines.length - 1);
    await guest.close();
  });

  it('loses nothing that was acknowledged and keeps nothing half when it is killed at any moment', async () => {
    const folder = newFolder();
    const acknowledged: string[] = [];
    for (let round = 0; round < 6; round++) {
      const child = jobsChild(folder, takeInOften);
      await child.until((lines) => lines.length > 3 + round * 7);
      await child.kill('SIGKILL');
      acknowledged.push(...child.lines.slice(1));
    }
    const database = new SqliteDatabase(join(folder, 'store.sqlite'));
    const all = <Row extends object>(sql: string) => database.read((transaction) => transaction.all<Row>(sql));
    expect(await all('PRAGMA integrity_check')).toEqual([{ integrity_check: 'ok' }]);
    const jobs = new Set((await all<{ name: string }>('SELECT name FROM jobs')).map(({ name }) => name));
    expect(acknowledged.filter((name) => !jobs.has(name))).toEqual([]);
    expect(acknowledged.length).toBeGreaterThan(6 * 3);
    // At most the one that was being taken in when each was killed.
    expect(jobs.size - acknowledged.length).toBeLessThanOrEqual(6);
    const halves = await all(`SELECT name FROM jobs WHERE latest_revision <> 1
      OR (SELECT COUNT(*) FROM revisions JOIN files ON files.revision_id = revisions.id WHERE job_id = jobs.id) <> 2
      OR (SELECT COUNT(*) FROM history WHERE job_id = jobs.id) <> 1`);
    expect(halves).toEqual([]);
    await database.close();
  });

  it('refuses a store of a newer version and leaves it as it is', async () => {
    const folder = newFolder();
    const file = join(folder, 'store.sqlite');
    const newer = await open(folder, [...migrations, ['CREATE TABLE of_the_future (id BIGINT)']]);
    await newer.jobs.takeIn(arrival('tee'));
    await newer.close();
    const before = hashOf(file);
    await expect(open(folder)).rejects.toThrow(newerBy(1));
    expect(hashOf(file)).toBe(before);
  });

  it('copies a store of an older version before it brings it up to date', async () => {
    const folder = newFolder();
    const older = await open(folder);
    const { revisionId } = await older.jobs.takeIn(arrival('tee'));
    await older.close();
    const next = [...migrations, [`ALTER TABLE jobs ADD COLUMN shelf TEXT NOT NULL DEFAULT 'none'`]];
    const newer = await open(folder, next);
    expect(await newer.jobs.revision(revisionId)).toMatchObject({ jobName: 'tee', state: 'waiting' });
    await newer.close();
    const copies = readdirSync(folder).filter((name) => name.includes('before'));
    expect(copies).toEqual([`store.sqlite.${upFrom(migrations.length)}`]);
    // The copy is a whole store of the older version.
    const old = newFolder();
    writeFileSync(join(old, 'store.sqlite'), readFileSync(join(folder, copies[0])));
    const again = await open(old);
    expect((await again.jobs.counts()).jobs).toBe(1);
    await again.close();
  });

  it('brings the first version up to date, whose jobs can then be shown to customers', async () => {
    const folder = newFolder();
    const older = await open(folder, migrations.slice(0, 1));
    const { jobId } = await older.jobs.takeIn(arrival('tee'));
    await older.close();
    const now = await open(folder);
    expect((await now.jobs.job(jobId))!.revisions).toMatchObject([{ customerAnswer: null, answers: [] }]);
    const link = { jobId, tokenSha256: 'a'.repeat(64), by: 'Mila', validForMs: 1_000, language: null, units: null };
    expect(await now.jobs.makeCustomerLink(link)).toMatchObject({ jobId, isOpen: true });
    await now.close();
  });

  it('changes nothing when bringing it up to date fails halfway', async () => {
    const folder = newFolder();
    const older = await open(folder);
    await older.jobs.takeIn(arrival('tee'));
    await older.close();
    const faulty = [...migrations, ['CREATE TABLE shelves (id BIGINT)', 'ALTER TABLE no_such_table ADD COLUMN x TEXT']];
    await expect(open(folder, faulty)).rejects.toThrow('no_such_table');
    const again = await open(folder);
    expect((await again.jobs.counts()).jobs).toBe(1);
    await again.close();
  });

  it('says of a damaged or foreign file what to do, and leaves it as it is', async () => {
    const folder = newFolder();
    const file = join(folder, 'store.sqlite');
    const store = await open(folder);
    for (let index = 0; index < 200; index++) await store.jobs.takeIn(arrival(`job ${index}`));
    await store.close();
    const bytes = readFileSync(file);
    bytes.fill(0x5a, 8_192, 24_576);
    writeFileSync(file, bytes);
    await expect(open(folder)).rejects.toThrow(/is damaged .* plateglass jobs restore/);
    expect(readFileSync(file).equals(bytes)).toBe(true);

    writeFileSync(file, 'This is a letter to the band, and no database.'.repeat(100));
    await expect(open(folder)).rejects.toThrow(/is damaged/);

    const foreign = newFolder();
    const database = new SqliteDatabase(join(foreign, 'store.sqlite'));
    await database.write((transaction) => transaction.change('CREATE TABLE songs (title TEXT)'));
    await database.close();
    await expect(open(foreign)).rejects.toThrow('not a job store');
  });

  it('does not lie on a network', async () => {
    // Numbers from statfs(2): NFS, SMB2, CIFS; ext4 and tmpfs are local.
    for (const type of [0x6969, 0xfe534d42, 0xff534d42]) {
      await expect(refuseNetworkFolder('/somewhere', async () => type)).rejects.toThrow('network file system');
    }
    for (const type of [0xef53, 0x01021994]) await refuseNetworkFolder('/somewhere', async () => type);
    // Some systems give it as a signed number.
    await expect(refuseNetworkFolder('/somewhere', async () => 0xff534d42 | 0)).rejects.toThrow('CIFS');
  });

  it('says so when it cannot be written', async () => {
    const folder = newFolder();
    mkdirSync(join(folder, 'store.sqlite'));
    await expect(open(folder)).rejects.toMatchObject({ name: 'UnusableStoreError' });
  });

  it('refuses work after it was closed', async () => {
    const store = await open(newFolder());
    await store.close();
    await expect(store.jobs.counts()).rejects.toThrow('closed');
    await expect(store.jobs.finish({ revisionId: 1, attempt: 1, workerId: '' }, result())).rejects.toThrow('closed');
  });
});

function hashOf(file: string): string {
  return createHash('sha256').update(readFileSync(file)).digest('hex');
}
