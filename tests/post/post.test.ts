import { spawnSync } from 'node:child_process';
import { mkdtempSync, readFileSync, rmSync } from 'node:fs';
import type { AddressInfo, Socket } from 'node:net';
import { createServer } from 'node:net';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { SMTPServer, type SMTPServerOptions } from 'smtp-server';
import { afterAll, afterEach, beforeAll, beforeEach, describe, expect, it } from 'vitest';
import type { JobStore } from '../../src/jobs/jobStore.ts';
import { mailKey, queueMail } from '../../src/post/outbox.ts';
import { type PostTools, postNext } from '../../src/post/postman.ts';
import { type SmtpServer, sendBySmtp } from '../../src/post/smtp.ts';
import { type StoreUnderTest, storeKinds } from '../support/jobStores.ts';
import { hasOracle } from '../support/oraclePrograms.ts';

const [embedded] = storeKinds;
const hasOpenssl = hasOracle('openssl');

let folder: string;
let pem: { key: string; cert: string };
let made: StoreUnderTest;
let store: JobStore;
let server: SMTPServer | null;
let received: string[];
let said: string[];

beforeAll(() => {
  folder = mkdtempSync(join(tmpdir(), 'post-'));
  if (!hasOpenssl) return;
  const [key, cert] = [join(folder, 'key.pem'), join(folder, 'cert.pem')];
  const words = ['req', '-x509', '-newkey', 'ec', '-pkeyopt', 'ec_paramgen_curve:prime256v1', '-nodes', '-days', '2'];
  spawnSync('openssl', [
    ...words,
    '-subj',
    '/CN=localhost',
    '-addext',
    'subjectAltName=DNS:localhost',
    '-keyout',
    key,
    '-out',
    cert,
  ]);
  pem = { key: readFileSync(key, 'utf8'), cert: readFileSync(cert, 'utf8') };
});
afterAll(async () => {
  await embedded.end();
  rmSync(folder, { recursive: true, force: true });
});
beforeEach(async () => {
  made = await embedded.make();
  ({ store } = made);
  received = [];
  said = [];
  server = null;
});
afterEach(() => new Promise<void>((resolve) => (server === null ? resolve() : server.close(() => resolve()))));

/** A server on this machine that keeps what it is given. */
async function listen(more: SMTPServerOptions = {}): Promise<SmtpServer> {
  server = new SMTPServer({
    ...pem,
    authMethods: ['PLAIN', 'LOGIN'],
    onAuth: ({ username, password }, _session, done) =>
      username === 'shop' && password === 'pass ü' ? done(null, { user: 'shop' }) : done(new Error('wrong')),
    onData: (stream, _session, done) => {
      const parts: Buffer[] = [];
      stream.on('data', (part: Buffer) => parts.push(part));
      stream.on('end', () => {
        received.push(Buffer.concat(parts).toString('latin1'));
        done();
      });
    },
    ...more,
  });
  server.on('error', () => undefined);
  await new Promise<void>((resolve) => server!.listen(0, '127.0.0.1', () => resolve()));
  const { port } = server.server.address() as AddressInfo;
  return {
    host: 'localhost',
    port,
    security: more.secure ? 'tls' : 'starttls',
    user: 'shop',
    password: 'pass ü',
    ca: pem.cert,
  };
}

const mail = `From: a@shop.example\r\nTo: b@village.example\r\nSubject: x\r\n\r\n.dots\r\n..\r\n${'long '.repeat(150)}\r\n`;
const envelope = { from: 'a@shop.example', to: 'b@village.example' };
const queue = (subject = 'x', again?: string, bytes = Buffer.from(mail)) =>
  queueMail(store, mailKey(envelope.to, subject, 'text', again), {
    ...{ envelope, subject, mail: bytes, messageId: '<x@shop.example>' },
  });
const post = (target: SmtpServer, more: Partial<PostTools> = {}) =>
  postNext({
    store,
    workerId: 'post',
    send: (_key, to, bytes, onBegin) => sendBySmtp(target, to, bytes, onBegin),
    say: (line) => said.push(line),
    ...more,
  });
const due = () =>
  made.database.write((transaction) => transaction.change('UPDATE effects SET claimable_from = 0, lease_until = 0'));

describe.skipIf(!hasOpenssl)('a mail in the outbox', () => {
  it.each([false, true])(
    'goes out once, as it is, signed in and enciphered (TLS from the first byte: %s)',
    async (secure) => {
      let enciphered = false;
      const target = await listen({
        secure,
        onMailFrom: (_address, session, done) => {
          enciphered = session.secure;
          done();
        },
      });
      expect(await queue()).toBe(true);
      expect(await queue()).toBe(false);
      expect(await post(target)).toBe('sent');
      expect(await post(target)).toBe('nothing');
      expect(await queue()).toBe(false);
      expect(await post(target)).toBe('nothing');
      expect(received).toEqual([mail]);
      expect(enciphered).toBe(true);
      expect(await queue('x', 'again')).toBe(true);
      expect(await post(target)).toBe('sent');
      expect(received).toHaveLength(2);
    },
  );

  it('is kept and tried again when the server is away, or will not now, or the password is wrong', async () => {
    let busy = true;
    const target = await listen({
      onRcptTo: (_address, _session, done) =>
        busy ? done(Object.assign(new Error('later please'), { responseCode: 451 })) : done(),
    });
    await queue();
    expect(await post({ ...target, port: 1 })).toBe('later');
    expect(await post(target)).toBe('nothing');
    await due();
    expect(await post({ ...target, password: 'other' })).toBe('later');
    await due();
    expect(await post(target)).toBe('later');
    expect(received).toEqual([]);
    busy = false;
    await due();
    expect(await post(target)).toBe('sent');
    expect(received).toEqual([mail]);
    expect(said).toEqual([
      expect.stringMatching(/could not be sent yet .* kept and tried again/),
      expect.stringMatching(/was sent/),
    ]);
    expect(said.join()).not.toContain('pass ü');
  });

  it('is given up, with what the server said, when it is refused for good', async () => {
    const target = await listen({
      onRcptTo: (_address, _session, done) => done(Object.assign(new Error('no such person'), { responseCode: 550 })),
    });
    await queue();
    expect(await post(target)).toBe('givenUp');
    expect(said).toEqual([expect.stringMatching(/refused for good \(550 no such person/)]);
    await due();
    expect(await post(target)).toBe('nothing');
  });

  it('never goes out in clear, and not to whom no certificate vouches for', async () => {
    const clear = await listen({ hideSTARTTLS: true, disabledCommands: ['STARTTLS'] });
    await queue();
    expect(await post(clear)).toBe('later');
    await due();
    await new Promise<void>((resolve) => server!.close(() => resolve()));
    const target = await listen();
    expect(await post({ ...target, ca: undefined })).toBe('later');
    expect(received).toEqual([]);
  });

  it('is not sent a second time when the server broke off before it answered, or the program ended', async () => {
    const target = await listen({
      onData: (stream, session, done) => {
        stream.resume();
        stream.on('end', () => {
          received.push('taken');
          for (const socket of sockets) socket.destroy();
          void session;
          void done;
        });
      },
    });
    const sockets = new Set<Socket>();
    server!.server.on('connection', (socket: Socket) => sockets.add(socket));
    await queue();
    expect(await post(target)).toBe('givenUp');
    expect(said).toEqual([expect.stringMatching(/may or may not have been sent .*--again/)]);
    await due();
    expect(await post(target)).toBe('nothing');
    expect(received).toEqual(['taken']);
    // Ended after it had begun: whoever comes next does not send it.
    await queue('y');
    const claim = (await store.claimEffect({ workerId: 'killed', leaseMs: 1, kinds: ['mail'] }))!;
    await store.effectBegun(claim);
    await due();
    expect(await post(target)).toBe('givenUp');
    expect(received).toEqual(['taken']);
  });

  it('is sent again when the connection broke off in the middle of it, as no server takes half a mail', async () => {
    let breaks = 1;
    const target = await listen({
      onData: (stream, _session, done) => {
        const parts: Buffer[] = [];
        stream.on('data', (part: Buffer) => {
          parts.push(part);
          if (breaks-- > 0) {
            stream.pause();
            for (const socket of sockets) socket.destroy();
          }
        });
        stream.on('end', () => {
          received.push(Buffer.concat(parts).toString('latin1'));
          done();
        });
      },
    });
    const sockets = new Set<Socket>();
    server!.server.on('connection', (socket: Socket) => sockets.add(socket));
    // More than the buffers on the way hold when nobody reads, so that its end cannot be out.
    const large = Buffer.from(`${mail}${`${'x'.repeat(70)}\r\n`.repeat(30_000)}`);
    await queue('large', undefined, large);
    expect(await post(target)).toBe('later');
    expect(received).toEqual([]);
    await due();
    expect(await post(target)).toBe('sent');
    expect(received.map(({ length }) => length)).toEqual([large.length]);
  });

  it('is sent once by a server that is slow', async () => {
    const slowly = (done: () => void) => setTimeout(done, 300);
    const target = await listen({
      onConnect: (_session, done) => slowly(() => done()),
      onMailFrom: (_address, _session, done) => slowly(() => done()),
      onRcptTo: (_address, _session, done) => slowly(() => done()),
      onData: (stream, _session, done) => {
        stream.resume();
        stream.on('end', () => {
          received.push('taken');
          slowly(() => done());
        });
      },
    });
    await queue();
    expect(await post({ ...target, silenceMs: 5_000 })).toBe('sent');
    expect(received).toEqual(['taken']);
  });

  it('is kept where a server falls silent before it has all of it, and given up where it does afterwards', async () => {
    const target = await listen({ onMailFrom: () => undefined });
    await queue();
    expect(await post({ ...target, silenceMs: 500 })).toBe('later');
    await new Promise<void>((resolve) => server!.close(() => resolve()));
    const silent = await listen({ onData: (stream) => stream.resume() });
    await due();
    expect(await post({ ...silent, silenceMs: 500 })).toBe('givenUp');
    expect(said.at(-1)).toMatch(/may or may not have been sent/);
    await due();
    expect(await post(silent)).toBe('nothing');
  });

  it('is sent by one of many that look for it at the same moment', async () => {
    const target = await listen();
    await queue();
    const ends = await Promise.all(['a', 'b', 'c', 'd'].map((workerId) => post(target, { workerId })));
    expect(ends.sort()).toEqual(['nothing', 'nothing', 'nothing', 'sent']);
    expect(received).toEqual([mail]);
  });

  it('is sent by whoever comes next when the program ended before it began', async () => {
    const target = await listen();
    await queue();
    await store.claimEffect({ workerId: 'killed', leaseMs: 1, kinds: ['mail'] });
    await due();
    expect(await post(target)).toBe('sent');
    expect(received).toEqual([mail]);
  });
});

it('a server that never greets is left for later', { timeout: 40_000 }, async () => {
  const silent = createServer((socket) => setTimeout(() => socket.destroy(), 300)).listen(0, '127.0.0.1');
  await new Promise((resolve) => silent.once('listening', resolve));
  const { port } = silent.address() as AddressInfo;
  await queue();
  expect(await post({ host: 'localhost', port, security: 'starttls', user: null, password: null })).toBe('later');
  silent.close();
});
