import { execFileSync, spawnSync } from 'node:child_process';
import { mkdirSync, rmSync } from 'node:fs';
import { userInfo } from 'node:os';
import { join } from 'node:path';
import { afterAll, describe, expect, it } from 'vitest';
import { SqliteDatabase } from '../../src/jobs/sql/sqliteDatabase.ts';
import { makeFolder } from '../support/jobStores.ts';
import { jobsChild } from '../support/jobsChild.ts';
import { hasOracle, sayMissing } from '../support/oraclePrograms.ts';

const folder = makeFolder();
afterAll(() => rmSync(folder, { recursive: true, force: true }));

/** Takes in `count` jobs one after the other, each again when it was refused, and says what became of each call. */
const takeIn = (count: number) => `
  for (let number = 0; number < ${count}; number++) {
    const file = { name: 'a.tif', sizeBytes: 1, sha256: 'a'.repeat(64), storedPath: '/spool/a.tif' };
    const arrival = { jobName: 'job ' + number, customer: null, source: { kind: 'folder', detail: '' },
      files: [file, { ...file, name: 'b.tif' }], ticketFile: null, arrivedAt: 0, by: 'test', placeAt: null };
    for (let turn = 0; turn < 3; turn++) {
      try { await store.takeIn(arrival); await say('ok job ' + number); break; }
      catch (error) { await say(error.name + ': ' + error.message); }
    }
  }`;

async function verify(file: string, acknowledged: readonly string[]) {
  const database = new SqliteDatabase(file);
  const all = <Row extends object>(sql: string) => database.read((transaction) => transaction.all<Row>(sql));
  expect(await all('PRAGMA integrity_check')).toEqual([{ integrity_check: 'ok' }]);
  const names = new Set((await all<{ name: string }>('SELECT name FROM jobs')).map(({ name }) => name));
  expect(acknowledged.filter((name) => !names.has(name))).toEqual([]);
  const halves = await all(`SELECT name FROM jobs WHERE latest_revision <> 1
    OR (SELECT COUNT(*) FROM revisions JOIN files ON files.revision_id = revisions.id WHERE job_id = jobs.id) <> 2`);
  expect(halves).toEqual([]);
  await database.close();
}
const acknowledgedIn = (lines: readonly string[]) =>
  lines.filter((line) => line.startsWith('ok ')).map((line) => line.slice(3));

describe('embedded store on a disk that fails', () => {
  it('loses nothing acknowledged when the disk reports an error at a sync or a write, and works again', async () => {
    if (!hasOracle('strace')) return;
    let fired = 0;
    let number = 0;
    for (const [call, when] of [
      ['fsync', 9],
      ['fsync', 14],
      ['fsync', 20],
      ['pwrite64', 120],
      ['pwrite64', 171],
    ] as const) {
      const store = join(folder, `store ${++number}`);
      mkdirSync(store);
      const inject = `inject=${call}:error=EIO:when=${when}`;
      const through = [
        'strace',
        '-f',
        '-qq',
        '-o',
        '/dev/null',
        '-P',
        join(store, 'store.sqlite'),
        '-P',
        join(store, 'store.sqlite-wal'),
        '-e',
        inject,
      ];
      const child = jobsChild(store, takeIn(20), through);
      await child.ended();
      const troubles = child.lines.filter((line) => line.includes('Error: '));
      fired += troubles.length;
      for (const trouble of troubles) expect(trouble).toMatch(/^StoreUnreachableError: The disk .* reported an error/);
      expect(acknowledgedIn(child.lines).length, `${call} ${when}: ${child.lines.join(' | ')}`).toBe(20);
      await verify(join(store, 'store.sqlite'), acknowledgedIn(child.lines));
    }
    // The faults must have happened.
    expect(fired).toBeGreaterThanOrEqual(5);
  });

  it('says that the disk is full, keeps what was acknowledged, and goes on when there is room', async () => {
    if (userInfo().uid !== 0 || spawnSync('unshare', ['-m', 'true']).status !== 0) {
      sayMissing('the right to mount a small disk');
      return;
    }
    const small = join(folder, 'small disk');
    mkdirSync(small);
    execFileSync('mount', ['-t', 'tmpfs', '-o', 'size=900k', 'tmpfs', small]);
    try {
      execFileSync('dd', ['if=/dev/zero', `of=${join(small, 'ballast')}`, 'bs=1k', 'count=300'], { stdio: 'ignore' });
      const store = join(small, 'store');
      const child = jobsChild(store, `${takeIn(400)}`);
      await child.until((lines) => lines.some((line) => line.startsWith('Unusable')));
      rmSync(join(small, 'ballast'));
      await child.ended();
      const first = child.lines.findIndex((line) => line.startsWith('Unusable'));
      expect(child.lines[first]).toMatch(/The disk .* is full. Nothing was recorded; make room\./);
      expect(acknowledgedIn(child.lines.slice(first)).length).toBeGreaterThan(0);
      await verify(join(store, 'store.sqlite'), acknowledgedIn(child.lines));
    } finally {
      execFileSync('umount', ['-l', small]);
    }
  });
});
