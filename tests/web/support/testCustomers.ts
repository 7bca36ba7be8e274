import { mkdirSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import type { InjectOptions } from 'fastify';
import { newCustomerLink } from '../../../src/jobs/customerToken.ts';
import type { CustomerLink } from '../../../src/jobs/customerTypes.ts';
import type { Arrival } from '../../../src/jobs/jobTypes.ts';
import { compositePng } from '../../../src/report/composite.ts';
import type { CustomerServerOptions } from '../../../web/server/customer/createCustomerServer.ts';
import { type CustomerServer, createCustomerServer } from '../../../web/server/customer/createCustomerServer.ts';
import { type FixtureOptions, inspectionFixture } from '../../support/inspectionFixture.ts';
import { type TestReview, testReview } from './testReview.ts';

export const customerHost = 'films.example';
const dayMs = 86_400_000;

export interface TestCustomers extends CustomerServer {
  readonly review: TestReview;
  /** Jobs that open pages of the review were told of, and what went wrong. */
  readonly told: number[];
  readonly troubles: string[];
  /** A job that has been checked, with a report of many findings; its id. */
  checkedJob(name: string, more?: Partial<Arrival>, report?: FixtureOptions): Promise<number>;
  /** Lets a hand finish the job that waits. */
  check(report?: FixtureOptions): Promise<void>;
  newLink(jobId: number, more?: Partial<CustomerLink>): Promise<{ token: string; id: number }>;
  get(path: string, headers?: Record<string, string>): Promise<Answered>;
  send(
    method: InjectOptions['method'],
    path: string,
    body: object,
    headers?: Record<string, string>,
  ): Promise<Answered>;
  /** The form of the page; without `films` those that are shown. */
  answer(token: string, fields: Record<string, string>, headers?: Record<string, string>): Promise<Answered>;
  /** The id of an upload that is all there. */
  upload(token: string, name: string, content: string): Promise<string>;
  close(): Promise<void>;
}

export interface Answered {
  readonly status: number;
  readonly text: string;
  readonly headers: Record<string, string | string[] | number | undefined>;
}

/** The customers' server beside a review that asks for accounts, on one store. */
export async function testCustomers(more: Partial<CustomerServerOptions> = {}): Promise<TestCustomers> {
  const review = await testReview({ Mila: 'administer' });
  const { store, folder } = review;
  const pageFolder = join(folder, 'customer');
  mkdirSync(pageFolder);
  writeFileSync(join(pageFolder, 'customer.css'), '');
  const told: number[] = [];
  const troubles: string[] = [];
  const customers = await createCustomerServer({
    ...{ store, pageFolder, hosts: new Set([customerHost]), tls: null, behindProxy: false },
    uploadFolder: join(folder, 'uploads'),
    voice: async () => ({ shop: 'Our screen room', price: 'Changes we make are 15 a question.' }),
    proofPdf: async () => Buffer.from('%PDF-1.7 of a proof'),
    changed: (jobId) => told.push(jobId),
    brought: (jobId) => told.push(jobId),
    trouble: (error) => troubles.push(`${error.message} ${error.stack}`),
    ...more,
  });
  const inject = async (options: InjectOptions): Promise<Answered> => {
    const { statusCode, body, headers } = await customers.server.inject({
      ...options,
      headers: { host: customerHost, ...options.headers },
    });
    return { status: statusCode, text: body, headers };
  };
  const check = async (report: FixtureOptions = {}) => {
    const { lease } = (await store.jobs.claim({ workerId: 'machine of Mila:4711:0', leaseMs: 60_000 }))!;
    const inspection = inspectionFixture(report);
    const put = async (kind: 'reportJson' | 'picture' | 'other', name: string, bytes: Uint8Array) => ({
      ...{ kind, name },
      ...(await store.blobs.put(bytes)),
    });
    const artifacts = [
      await put('reportJson', 'report.json', Buffer.from(JSON.stringify(inspection.report))),
      await put('picture', 'composite.png', await compositePng(inspection)),
      await put('other', 'measured.bin', Buffer.from('for nobody outside')),
    ];
    const { verdict } = inspection.report;
    const reason = 'remark of the check, with /srv/films in it';
    await store.jobs.finish(lease, { verdict, reason, artifacts, inkNames: ['Coral'], timings: {} });
  };
  const made: TestCustomers = {
    ...{ ...customers, review, told, troubles, check },
    checkedJob: async (name, arrival = {}, report = {}) => {
      const film = await store.blobs.put(Buffer.from(`film of ${name}`));
      const { jobId } = await store.jobs.takeIn({
        ...{ jobName: name, customer: 'Village band', source: { kind: 'page', detail: 'a.svg' }, placeAt: null },
        files: [{ name: 'a.svg', ...film, storedPath: store.blobs.pathOf(film.sha256) }],
        ...{ ticketFile: null, arrivedAt: Date.now(), by: 'Mila', ...arrival },
      });
      await check(report);
      return jobId;
    },
    newLink: async (jobId, wish = {}) => {
      const usual = { jobId, by: 'Mila', validForMs: 14 * dayMs, language: 'en', units: null };
      const { link, token } = await newCustomerLink(store.jobs, { ...usual, ...wish });
      return { token, id: link.id };
    },
    get: (url, headers) => inject({ method: 'GET', url, headers }),
    send: (method, url, payload, headers) => inject({ method, url, payload, headers }),
    answer: async (token, fields, headers) => {
      const shown = fields.films ?? filmsOf((await made.get(`/c/${token}`)).text);
      return inject({
        ...{ method: 'POST', url: `/c/${token}/answer` },
        payload: new URLSearchParams({ name: '', remark: '', films: shown, ...fields }).toString(),
        headers: { 'content-type': 'application/x-www-form-urlencoded', ...headers },
      });
    },
    upload: async (token, name, content) => {
      const bytes = Buffer.from(content);
      const begun = await made.send('POST', `/c/${token}/uploads`, { name, sizeBytes: bytes.length });
      const { id } = JSON.parse(begun.text);
      await made.send('PATCH', `/c/${token}/uploads/${id}`, bytes, {
        ...{ 'content-type': 'application/octet-stream', 'upload-offset': '0' },
      });
      return id;
    },
    close: async () => {
      await customers.server.close();
      await review.close();
    },
  };
  return made;
}

/** The hash that the form of a page holds. */
export function filmsOf(html: string): string {
  return /name="films" value="([0-9a-f]{64})"/.exec(html)?.[1] ?? '';
}
