import { chmodSync, mkdtempSync, readdirSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { checkOf, findingOf, reportOf } from '../support/noteReports.ts';
import { runCli } from './runCli.ts';

let folder: string;
let report: string;
beforeEach(() => {
  folder = mkdtempSync(join(tmpdir(), 'send-'));
  report = join(folder, 'report.json');
  const thin = checkOf('thin-line', 'fail', [findingOf('x', { code: 'breaks-up' })]);
  writeFileSync(report, JSON.stringify({ ...reportOf('fail', [thin]), schema: 'plateglass/report/1' }));
});
afterEach(() => rmSync(folder, { recursive: true, force: true }));

const shop = (mail: Record<string, unknown>) => {
  const file = join(folder, 'shop.yaml');
  writeFileSync(file, JSON.stringify({ note: { shop: 'Werkstatt', mail: { from: 'films@shop.example', ...mail } } }));
  return file;
};
const send = (file: string, ...more: string[]) =>
  runCli([
    'note',
    report,
    '--send',
    '--to',
    'choir@village.example',
    '--shop',
    file,
    '--store',
    join(folder, 'store'),
    ...more,
  ]);

describe('plateglass note --send', () => {
  it('lays mails into a folder in test mode, and the same note once', () => {
    const file = shop({ testFolder: 'out', host: 'mail.shop.example' });
    const first = send(file);
    expect(first.exitCode, first.stderr).toBe(0);
    expect(send(file).stderr).toMatch(/before, and does not go out a second time/);
    expect(readdirSync(join(folder, 'out'))).toHaveLength(1);
    expect(send(file, '--again').exitCode).toBe(0);
    const mails = readdirSync(join(folder, 'out'));
    expect(mails).toHaveLength(2);
    const mail = readFileSync(join(folder, 'out', mails[0]), 'utf8');
    expect(mail).toMatch(/^To: choir@village\.example\r$/m);
    expect(mail).toMatch(/^Message-ID: <[\w.]+@shop\.example>\r$/m);
    expect(mail).not.toContain('X-Unsent');
  });

  it('wants its password from a file that only its owner may read', () => {
    const secret = join(folder, 'secret');
    writeFileSync(secret, 'pass\n');
    chmodSync(secret, 0o644);
    const file = shop({ host: '127.0.0.1', port: 9, user: 'shop', passwordFile: 'secret' });
    const refused = send(file);
    expect(refused.exitCode).toBe(2);
    expect(refused.stderr).toMatch(/Others may read .*secret.*chmod 600/);
    chmodSync(secret, 0o600);
    const kept = send(file);
    expect(kept.exitCode).toBe(1);
    expect(kept.stderr).toMatch(/could not be sent yet .*kept and tried again/);
    expect(kept.stderr).not.toContain('pass');
  });

  it('names what is wrong in the shop’s words', () => {
    const file = join(folder, 'shop.yaml');
    writeFileSync(file, JSON.stringify({ note: { weFix: ['thin-lines'], price: 'from {price}' } }));
    const { exitCode, stderr } = runCli(['note', report, '--shop', file]);
    expect(exitCode).toBe(2);
    expect(stderr).toMatch(/note\.weFix: thin-lines is not the id of a check/);
    expect(stderr).toMatch(/note\.price: .*price/);
  });

  it('makes no mail without a sender, a server, or one address', () => {
    expect(send(shop({ from: undefined, testFolder: 'out' })).stderr).toMatch(/note\.mail\.from/);
    expect(send(shop({})).stderr).toMatch(/note\.mail\.host/);
    const two = runCli(['note', report, '--format', 'eml', '--to', 'a@x.example,b@y.example', '--shop', shop({})]);
    expect(two.exitCode).toBe(2);
    expect(two.stderr).toMatch(/--to takes one mail address/);
  });
});
