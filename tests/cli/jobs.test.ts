import { spawn } from 'node:child_process';
import { existsSync, readFileSync, rmSync, utimesSync } from 'node:fs';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { csv } from '../../cli/jobs/csv.ts';
import { usualStoreLocation } from '../../cli/jobs/storeLocation.ts';
import { openJobStore } from '../../src/jobs/openJobStore.ts';
import { arrival, jobFile, makeFolder, result } from '../support/jobStores.ts';
import { hasOracle, runOracle } from '../support/oraclePrograms.ts';
import { startPostgres } from '../support/postgresCluster.ts';
import { root, runCli } from './runCli.ts';

const folder = makeFolder();
const store = join(folder, 'store');
const cluster = await startPostgres();
afterAll(() => {
  cluster?.remove();
  rmSync(folder, { recursive: true, force: true });
});

async function fill(location: string, blobFolder?: string) {
  const opened = await openJobStore({ location, blobFolder, owner: 'a test' });
  const hand = { workerId: 'hand', leaseMs: 60_000 };
  const finish = async (verdict: 'pass' | 'fail', inkNames: string[]) => {
    const report = await opened.blobs.put(new TextEncoder().encode(`{"verdict":"${verdict}"}`));
    const { lease } = (await opened.jobs.claim(hand))!;
    const artifacts = [{ kind: 'reportJson', name: 'report.json', ...report }] as const;
    await opened.jobs.finish(lease, result({ verdict, inkNames, artifacts }));
    return report.sha256;
  };
  await opened.jobs.takeIn(arrival('Midsummer tee', { customer: 'Höhenweg Choir', arrivedAt: at(24) }));
  const first = await finish('fail', ['Lagoon', '=1+2']);
  await opened.jobs.takeIn(arrival('Midsummer tee', { files: [jobFile('tee', 'b')], arrivedAt: at(25) }));
  await finish('pass', ['Lagoon']);
  await opened.jobs.takeIn(arrival('=HYPERLINK("http://x","tee")\u001b[31m, "red"', { arrivedAt: at(26) }));
  const { revisionId } = (await opened.jobs.job('Midsummer tee'))!.revisions[1];
  await opened.jobs.decide({ revisionId, kind: 'release', by: 'Mila', reason: 'proof agreed' });
  return { opened, first };
}
/** Noon of a day in June. */
const at = (date: number) => new Date(2026, 5, date, 12).getTime();
const jobs = (...parameters: string[]) => runCli(['jobs', ...parameters, '--store', store]);

describe('plateglass jobs', () => {
  let firstReport = '';
  beforeAll(async () => {
    const { opened, first } = await fill(store);
    firstReport = first;
    await opened.close();
  });

  it('lists, the latest first, and finds', () => {
    const lines = jobs('list').stdout.trim().split('\n');
    expect(lines.length).toBe(3);
    expect(lines[1]).toMatch(/^2026-06-26 12:00 {2}=HYPERLINK.* 1 .*waiting$/);
    expect(lines[2]).toMatch(/^2026-06-25 12:00 {2}Midsummer tee +2 +Höhenweg Choir +Ready to film, released +Lagoon$/);
    const names = (...parameters: string[]) =>
      JSON.parse(jobs('list', '--format', 'json', ...parameters).stdout).map(
        (row: { jobName: string; revision: number }) => `${row.jobName} ${row.revision}`,
      );
    expect(names('--customer', 'hohenweg', '--all-revisions')).toEqual(['Midsummer tee 2', 'Midsummer tee 1']);
    expect(names('--from', '2026-06-25', '--until', '2026-06-25')).toEqual(['Midsummer tee 2']);
    expect(names('--until', '2026-06-24', '--all-revisions')).toEqual(['Midsummer tee 1']);
    expect(names('--verdict', 'fail,needsReview', '--all-revisions')).toEqual(['Midsummer tee 1']);
    expect(names('--standing', 'released', '--ink', 'lagoon')).toEqual(['Midsummer tee 2']);
    expect(jobs('list', '--name', 'nothing like it').stdout).toBe('No job fits.\n');
  });

  it('lets no name do anything to the terminal', () => {
    const escapeCode = '\u001b';
    expect(jobs('list').stdout).not.toContain(escapeCode);
    expect(jobs('show', `=HYPERLINK("http://x","tee")${escapeCode}[31m, "red"`).stdout).not.toContain(escapeCode);
  });

  it('shows a job with revisions, decisions and history', () => {
    const { stdout, exitCode } = jobs('show', 'Midsummer tee');
    expect(exitCode).toBe(0);
    expect(stdout).toContain('Midsummer tee for Höhenweg Choir\n');
    expect(stdout).toContain('Revision 2, arrived 2026-06-25 12:00: Ready to film, released\n');
    expect(stdout).toContain('  inks    Lagoon, =1+2\n');
    expect(stdout).toMatch(/ {2}Mila released, [\d: -]+: proof agreed\n/);
    expect(stdout).toContain(`report.json: ${join(store, 'blobs', firstReport.slice(0, 2), firstReport)}`);
    expect(stdout).toMatch(/rev\. 1 {2}hot folder brought it\n/);
    const missing = jobs('show', 'Midwinter tee');
    expect(missing.exitCode).toBe(2);
    expect(missing.stderr).toContain('There is no job "Midwinter tee"');
  });

  it('exports what another program reads the same, with nothing it takes for a formula', () => {
    const file = join(folder, 'jobs.csv');
    expect(jobs('export', '--all-revisions', '--out', file).exitCode).toBe(0);
    expect(jobs('export', '--out', file)).toMatchObject({ exitCode: 2 });
    expect(readFileSync(file, 'utf8').slice(1)).toBe(jobs('export', '--all-revisions').stdout.replace(/^\ufeff/, ''));
    const asJson = JSON.parse(jobs('export', '--all-revisions', '--format', 'json').stdout);
    expect(asJson.length).toBe(3);
    if (!hasOracle('python3')) return;
    const script = `import csv,json,sys; print(json.dumps(list(csv.DictReader(open(sys.argv[1],encoding='utf-8-sig',newline='')))))`;
    const rows = JSON.parse(runOracle('python3', ['-c', script, file]));
    expect(rows.map((row: Record<string, string>) => [row.job, row.revision, row.verdict, row.inks])).toEqual([
      [`'=HYPERLINK("http://x","tee")\u001b[31m, "red"`, '1', '', ''],
      ['Midsummer tee', '2', 'pass', 'Lagoon'],
      ['Midsummer tee', '1', 'fail', 'Lagoon; =1+2'],
    ]);
    expect(rows[1].arrived).toBe(new Date(at(25)).toISOString());
  });

  it('puts an apostrophe before whatever begins like a formula', () => {
    const harmless = ['tee', '100% cotton', 'a=b', '', 'Zürich'];
    const risky = ['=1', '+1', '-1', '@SUM(A1)', '\t=1', ' =1', '\r=1', '\n=1', '＝1', '\u200b=1', '|calc', '%0A=1'];
    expect(csv([harmless])).toBe(`\ufeff${harmless.map((text) => `"${text}"`).join(',')}\r\n`);
    expect(csv([risky])).toBe(`\ufeff${risky.map((text) => `"'${text}"`).join(',')}\r\n`);
    expect(csv([['say "hi"', 12, null]])).toBe('\ufeff"say ""hi""",12,""\r\n');
  });

  it('backs up, restores, and refuses to overwrite', async () => {
    const target = join(folder, 'backup');
    expect(jobs('backup', target)).toMatchObject({ exitCode: 0, stdout: expect.stringContaining('2 reports') });
    expect(jobs('backup', target)).toMatchObject({ exitCode: 2 });
    const other = join(folder, 'other store');
    expect(runCli(['jobs', 'restore', target, '--store', other])).toMatchObject({ exitCode: 0 });
    expect(runCli(['jobs', 'list', '--store', other]).stdout).toBe(jobs('list').stdout);
    const again = runCli(['jobs', 'restore', target, '--store', other]);
    expect(again.exitCode).toBe(2);
    expect(again.stderr).toContain('2 jobs already');
    expect(again.stderr).not.toContain('fault of the program');
  });

  it('prunes by the rule, only after saying what would go when asked', async () => {
    const place = join(folder, 'to prune');
    const { opened, first } = await fill(place);
    const { revisionId } = (await opened.jobs.job('Midsummer tee'))!.revisions[0];
    await opened.close();
    const prune = (...more: string[]) => runCli(['jobs', 'prune', '--older-than', '0', ...more, '--store', place]);
    const blob = join(place, 'blobs', first.slice(0, 2), first);
    utimesSync(blob, new Date(2020, 1, 1), new Date(2020, 1, 1));
    expect(prune('--try-out').stdout).toBe('Midsummer tee, revision 1\nWould remove 1 revisions, 0 whole jobs.\n');
    expect(existsSync(blob)).toBe(true);
    expect(prune('--by', 'Mila').stdout).toMatch(/Removed 1 revisions, 0 whole jobs; 1 reports and pictures, 0\.0 MB/);
    expect(existsSync(blob)).toBe(false);
    const after = await openJobStore({ location: place, owner: 'a test' });
    expect(await after.jobs.revision(revisionId)).toBeNull();
    expect((await after.jobs.counts()).revisions).toMatchObject({ waiting: 1, checked: 1 });
    await after.close();
    expect(runCli(['jobs', 'prune', '--store', place]).exitCode).toBe(2);
  });

  it('puts a job back into the queue', async () => {
    const place = join(folder, 'again');
    const { opened } = await fill(place);
    await opened.close();
    const again = () => runCli(['jobs', 'again', 'Midsummer tee', '--by', 'Mila', '--store', place]);
    expect(again()).toMatchObject({ exitCode: 0 });
    expect(again().stderr).toContain('waits or is being checked already');
    expect(runCli(['jobs', 'list', '--state', 'waiting', '--store', place]).stdout).toContain('Midsummer tee');
  });

  it('finds the store of a folder that is watched', async () => {
    const watched = join(folder, 'drop');
    const { opened } = await fill(join(watched, '.plateglass', 'store'));
    await opened.close();
    expect(runCli(['jobs', 'list', '--store', watched]).stdout).toBe(jobs('list').stdout);
  });

  it('works while another process has the store', async () => {
    const opened = await openJobStore({ location: store, owner: 'a test' });
    // Not runCli: it would stop this process, which owns the store, from answering.
    const child = spawn(process.execPath, [join(root, 'dist/cli/main.js'), 'jobs', 'list', '--store', store]);
    let output = '';
    child.stdout.on('data', (data) => {
      output += data;
    });
    expect(await new Promise((resolve) => child.once('close', resolve))).toBe(0);
    expect(output).toContain('Midsummer tee');
    await opened.close();
  });

  it.skipIf(cluster === null)('works on PostgreSQL', async () => {
    const location = await cluster!.makeDatabase();
    const blobs = join(folder, 'shared blobs');
    const { opened, first } = await fill(location, blobs);
    await opened.close();
    const onPostgres = (...parameters: string[]) => runCli(['jobs', ...parameters, '--store', location]);
    expect(onPostgres('list').stdout).toBe(jobs('list').stdout);
    expect(onPostgres('show', 'Midsummer tee').stdout).toContain(`report.json: ${first}`);
    expect(onPostgres('show', 'Midsummer tee', '--blobs', blobs).stdout).toContain(`report.json: ${blobs}`);
    expect(onPostgres('backup', join(folder, 'from postgres')).stderr).toContain('--blobs');
    expect(onPostgres('backup', join(folder, 'from postgres'), '--blobs', blobs)).toMatchObject({ exitCode: 0 });
  });

  it('makes no store by looking for one, and says what is wrong with arguments', () => {
    const nowhere = join(folder, 'nowhere');
    const run = runCli(['jobs', 'list', '--store', nowhere]);
    expect(run.exitCode).toBe(2);
    expect(run.stderr).toContain(`There is no job store in ${nowhere}`);
    expect(existsSync(nowhere)).toBe(false);
    for (const parameters of [
      ['--from', '2026-02-30'],
      ['--verdict', 'fine'],
      ['--limit', 'many'],
    ]) {
      expect(jobs('list', ...parameters).exitCode).toBe(2);
    }
  });

  it('lies in the state folder of the user unless told', () => {
    expect(usualStoreLocation({ XDG_STATE_HOME: '/var/state' })).toBe('/var/state/plateglass');
    // Paths there must be absolute, else they are to be ignored (XDG Base Directory Specification).
    expect(usualStoreLocation({ XDG_STATE_HOME: 'state' })).toMatch(/\/\.local\/state\/plateglass$/);
    expect(usualStoreLocation({})).toMatch(/^\/.*\/\.local\/state\/plateglass$/);
  });
});
