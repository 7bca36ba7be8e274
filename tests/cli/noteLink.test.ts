import { readdirSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { openLinkBy } from '../../src/jobs/customerToken.ts';
import { openJobStore } from '../../src/jobs/openJobStore.ts';
import { arrival, makeFolder, result } from '../support/jobStores.ts';
import { checkOf, findingOf, reportOf } from '../support/noteReports.ts';
import { runCli } from './runCli.ts';

const folder = makeFolder();
const store = join(folder, 'store');
const report = join(folder, 'report.json');
const shop = join(folder, 'shop.yaml');
afterAll(() => rmSync(folder, { recursive: true, force: true }));
beforeAll(async () => {
  const thin = checkOf('thin-line', 'fail', [findingOf('x', { code: 'breaks-up' })]);
  const text = JSON.stringify({ ...reportOf('fail', [thin]), schema: 'plateglass/report/1' });
  writeFileSync(report, text);
  const mail = { from: 'films@shop.example', host: 'mail.shop.example', testFolder: 'out' };
  const customerPage = { address: 'https://films.shop.example', validDays: 5 };
  writeFileSync(shop, JSON.stringify({ note: { shop: 'Werkstatt', mail }, customerPage }));
  const opened = await openJobStore({ location: store, owner: 'a test' });
  await opened.jobs.takeIn(arrival('Midsummer tee'));
  const { lease } = (await opened.jobs.claim({ workerId: 'hand', leaseMs: 60_000 }))!;
  const put = await opened.blobs.put(Buffer.from(text));
  await opened.jobs.finish(lease, result({ artifacts: [{ kind: 'reportJson', name: 'report.json', ...put }] }));
  await opened.close();
});
const note = (...more: string[]) => runCli(['note', report, '--shop', shop, '--store', store, ...more]);
const tokenIn = (text: string) => /https:\/\/films\.shop\.example\/c\/([0-9a-f]{40})/.exec(text)?.[1] ?? '';
const links = async () => {
  const opened = await openJobStore({ location: store, owner: 'a test' });
  const all = await opened.jobs.customerLinks(null);
  await opened.close();
  return all;
};

describe('plateglass note, where the shop has a page for customers', () => {
  it.each(['text', 'markdown', 'html'])('puts a link into the note: %s', async (format) => {
    const { stdout, exitCode, stderr } = note('--format', format, '--language', 'de');
    expect(exitCode, stderr).toBe(0);
    const token = tokenIn(stdout);
    const opened = await openJobStore({ location: store, owner: 'a test' });
    const link = (await openLinkBy(opened.jobs, token))!;
    expect(link).toMatchObject({ language: 'de', units: 'mm' });
    expect(link.expiresAt - link.madeAt).toBe(5 * 86_400_000);
    expect((await opened.jobs.job(link.jobId))!.jobName).toBe('Midsummer tee');
    await opened.close();
    expect(stdout).toContain('Hier sehen Sie das alles');
  });

  it('puts none in where none is wanted, or the store does not know the report', async () => {
    const before = (await links()).length;
    expect(tokenIn(note('--no-link').stdout)).toBe('');
    const other = join(folder, 'other.json');
    writeFileSync(other, `${readFileSync(report, 'utf8')} `);
    const unknown = runCli(['note', other, '--shop', shop, '--store', store]);
    expect([unknown.exitCode, tokenIn(unknown.stdout)]).toEqual([0, '']);
    expect(unknown.stderr).toMatch(/No link for the customer is put in: .*Name the job instead/);
    expect((await links()).length).toBe(before);
    const named = runCli(['note', 'Midsummer tee', '--shop', shop, '--store', store]);
    expect(tokenIn(named.stdout), named.stderr).not.toBe('');
  });

  it('sends the same note once, and leaves no token in the store', async () => {
    const send = () => note('--send', '--to', 'choir@village.example');
    expect(send().exitCode).toBe(0);
    const [mail] = readdirSync(join(folder, 'out'));
    const token = tokenIn(readFileSync(join(folder, 'out', mail), 'utf8').replace(/=\r\n/g, ''));
    expect(token).not.toBe('');
    expect(send().stderr).toMatch(/before, and does not go out a second time/);
    expect(readdirSync(join(folder, 'out'))).toHaveLength(1);
    const [second, first] = await links();
    expect([first.isOpen, second.isOpen]).toEqual([true, false]);
    const opened = await openJobStore({ location: store, owner: 'a test' });
    const records = join(folder, 'records.jsonl');
    await opened.jobs.exportRows(records);
    await opened.close();
    const kept = readFileSync(records, 'utf8');
    expect(kept).toContain('choir@village.example');
    expect(kept).not.toContain(token);
    const { row } = kept
      .split('\n')
      .map((line) => JSON.parse(line || '{}'))
      .find(({ table }) => table === 'effects');
    const copy = Buffer.from(JSON.parse(row.payload).mailBase64, 'base64').toString();
    expect(copy).toContain('choir@village.example');
    expect(copy.replace(/=\r\n/g, '')).not.toContain(token);
    expect(row.payload).not.toContain('copyBase64');
  });
});
