import { type ChildProcess, spawn, spawnSync } from 'node:child_process';
import { mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import type { AddressInfo } from 'node:net';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { SMTPServer, type SMTPServerOptions } from 'smtp-server';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { databaseFile } from '../../src/jobs/embeddedStore.ts';
import { openJobStore } from '../../src/jobs/openJobStore.ts';
import { SqliteDatabase } from '../../src/jobs/sql/sqliteDatabase.ts';
import { mailKey, queueMail } from '../../src/post/outbox.ts';
import { hasOracle } from '../support/oraclePrograms.ts';

const program = fileURLToPath(new URL('../../dist/cli/main.js', import.meta.url));
const hasOpenssl = hasOracle('openssl');

let folder: string;
beforeAll(() => {
  folder = mkdtempSync(join(tmpdir(), 'post-killed-'));
  if (!hasOpenssl) return;
  const words = ['req', '-x509', '-newkey', 'ec', '-pkeyopt', 'ec_paramgen_curve:prime256v1', '-nodes', '-days', '2'];
  const subject = ['-subj', '/CN=localhost', '-addext', 'subjectAltName=DNS:localhost'];
  spawnSync('openssl', [...words, ...subject, '-keyout', 'key.pem', '-out', 'cert.pem'], { cwd: folder });
});
afterAll(() => rmSync(folder, { recursive: true, force: true }));

/** A mail in a store of its own, and a shop's file that names the server. */
async function queued(name: string, port: number): Promise<{ store: string; shop: string }> {
  const store = join(folder, name);
  const opened = await openJobStore({ location: store, owner: 'a test' });
  const mail = Buffer.from('From: a@shop.example\r\nTo: b@village.example\r\nSubject: x\r\n\r\nx\r\n');
  const envelope = { from: 'a@shop.example', to: 'b@village.example' };
  await queueMail(opened.jobs, mailKey(envelope.to, 'x', name), { envelope, mail, messageId: '<x@y>', subject: 'x' });
  await opened.close();
  const shop = join(folder, `${name}.yaml`);
  const settings = { from: 'a@shop.example', host: 'localhost', port, security: 'starttls', caFile: 'cert.pem' };
  writeFileSync(shop, JSON.stringify({ note: { mail: settings } }));
  return { store, shop };
}

function post({ store, shop }: { store: string; shop: string }): ChildProcess {
  return spawn(process.execPath, [program, 'post', '--store', store, '--shop', shop], { stdio: 'ignore' });
}

const endOf = (child: ChildProcess) => new Promise<number | null>((resolve) => child.once('exit', resolve));

/** As if the time of the claim had run out. */
async function leaseRanOut({ store }: { store: string }): Promise<void> {
  const database = new SqliteDatabase(databaseFile(store));
  await database.write((transaction) => transaction.change('UPDATE effects SET claimable_from = 0, lease_until = 0'));
  await database.close();
}

describe.skipIf(!hasOpenssl)('plateglass post, killed', () => {
  it.each([
    // The server has seen the sender, but nothing of the mail: whoever comes next sends it.
    ['before the mail', 'onMailFrom', 1, 0],
    // All of it is there, and the answer is on its way: nobody sends it again.
    ['when the server has it', 'onData', 1, 1],
  ] as const)('%s: it arrives once', async (_when, at, expected, firstTaken) => {
    let child: ChildProcess | null = null;
    let taken = 0;
    let kills = 1;
    const isKilled = () => {
      if (kills-- <= 0) return false;
      child!.kill('SIGKILL');
      return true;
    };
    const options: SMTPServerOptions = {
      key: readFileSync(join(folder, 'key.pem')),
      cert: readFileSync(join(folder, 'cert.pem')),
      authOptional: true,
      onMailFrom: (_address, _session, done) => {
        if (at !== 'onMailFrom' || !isKilled()) done();
      },
      onData: (stream, _session, done) => {
        stream.resume();
        stream.on('end', () => {
          taken += 1;
          if (at !== 'onData' || !isKilled()) done();
        });
      },
    };
    const server = new SMTPServer(options);
    server.on('error', () => undefined);
    await new Promise<void>((resolve) => server.listen(0, '127.0.0.1', () => resolve()));
    const made = await queued(at, (server.server.address() as AddressInfo).port);
    child = post(made);
    await endOf(child);
    expect(child.signalCode).toBe('SIGKILL');
    expect(taken).toBe(firstTaken);
    // Nobody takes it over while the claim holds.
    expect(await endOf(post(made))).toBe(0);
    expect(taken).toBe(firstTaken);
    await leaseRanOut(made);
    await endOf(post(made));
    expect(taken).toBe(expected);
    await new Promise<void>((resolve) => server.close(() => resolve()));
  });
});
