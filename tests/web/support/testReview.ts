import { mkdirSync, mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import type { InjectOptions } from 'fastify';
import type { OpenedStore } from '../../../src/jobs/jobStore.ts';
import { openJobStore } from '../../../src/jobs/openJobStore.ts';
import { Accounts } from '../../../web/server/accounts.ts';
import { createServer, type ReviewServer, type ServerOptions } from '../../../web/server/createServer.ts';
import { ShopFile } from '../../../web/server/shopFile.ts';
import { Uploads } from '../../../web/server/uploads.ts';
import { noPapers } from './noPapers.ts';

export const host = '127.0.0.1:4180';
export const passphrase = 'lanterns over the brook';

export interface TestReview extends ReviewServer {
  readonly folder: string;
  readonly store: OpenedStore;
  readonly accounts: Accounts;
  /** A request of the page itself. */
  ask(method: InjectOptions['method'], url: string, body?: object, headers?: Record<string, string>): Promise<Answer>;
  /** The cookie of a new session. */
  signIn(name: string): Promise<string>;
  /** The id of an upload that is all there. */
  upload(name: string, content: string | Uint8Array): Promise<string>;
  close(): Promise<void>;
}

export interface Answer {
  readonly status: number;
  readonly headers: Record<string, string | string[] | undefined>;
  readonly text: string;
  // biome-ignore lint/suspicious/noExplicitAny: answers are looked at by tests alone.
  readonly body: any;
}

/** A review server on a store of its own. With `people`, it asks for accounts; nothing is checked. */
export async function testReview(
  people: Readonly<Record<string, 'look' | 'decide' | 'administer'>> | null = null,
  more: Partial<ServerOptions> = {},
): Promise<TestReview> {
  const folder = mkdtempSync(join(tmpdir(), 'review-'));
  const pageFolder = join(folder, 'page');
  mkdirSync(pageFolder);
  writeFileSync(join(pageFolder, 'index.html'), '<!doctype html><title>page</title><div id="page"></div>');
  writeFileSync(join(folder, 'secret.txt'), 'not for anybody');
  const store = await openJobStore({ location: join(folder, 'store'), owner: 'a test' });
  const accounts = new Accounts(join(folder, 'accounts.json'));
  for (const [name, role] of Object.entries(people ?? {})) await accounts.set(name, role, passphrase);
  const review = await createServer({
    ...{ store, pageFolder, hosts: new Set([host]), tls: null, behindProxy: false },
    access: people === null ? null : { accounts, secure: true, sessionFile: join(folder, 'sessions.json') },
    uploads: new Uploads(join(folder, 'uploads')),
    shop: new ShopFile(join(folder, 'shop.yaml'), join(folder, 'shop-history')),
    preview: async () => ({ jobs: [] }),
    judge: async () => ({ kind: 'notMeasured', reasons: ['Nothing was measured.'] }),
    renderReport: async ({ decisions }) => {
      const bytes = Buffer.from(JSON.stringify(decisions));
      return { json: bytes, html: bytes, pdf: bytes };
    },
    notes: noPapers,
    nudgePost: () => undefined,
    comparePlates: async () => {
      throw new Error('Nothing is compared.');
    },
    customerPage: async () => ({ address: 'https://films.example', validDays: 14 }),
    nudge: () => undefined,
    trouble: (error) => {
      throw error;
    },
    lookEveryMs: 20,
    ...more,
  });
  const ask: TestReview['ask'] = async (method, url, body, headers) => {
    const answer = await review.server.inject({
      ...{ method, url },
      headers: { host, ...(method === 'GET' ? {} : { 'x-plateglass': '1', origin: `https://${host}` }), ...headers },
      ...(body === undefined ? {} : { payload: body }),
    });
    const isJson = answer.body !== '' && String(answer.headers['content-type']).startsWith('application/json');
    return {
      status: answer.statusCode,
      headers: answer.headers as Answer['headers'],
      text: answer.body,
      body: isJson ? answer.json() : null,
    };
  };
  return {
    ...review,
    ...{ folder, store, accounts, ask },
    signIn: async (name) => {
      const { status, headers } = await ask('POST', '/api/session', { name, passphrase });
      if (status !== 200) throw new Error(`${name} could not sign in: ${status}`);
      return String(headers['set-cookie']).split(';')[0];
    },
    upload: async (name, content) => {
      const bytes = Buffer.from(content as string);
      const { id } = (await ask('POST', '/api/uploads', { name, sizeBytes: bytes.length })).body;
      await ask('PATCH', `/api/uploads/${id}`, bytes, {
        'content-type': 'application/octet-stream',
        'upload-offset': '0',
      });
      return id;
    },
    close: async () => {
      await review.server.close();
      await store.close();
      rmSync(folder, { recursive: true, force: true });
    },
  };
}
