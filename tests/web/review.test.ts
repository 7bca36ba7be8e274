import { readFileSync, writeFileSync } from 'node:fs';
import { get } from 'node:http';
import { join } from 'node:path';
import { strFromU8, unzipSync } from 'fflate';
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import type { JobFacts } from '../../web/shared/jobs.ts';
import { zipOf } from '../support/zip.ts';
import { host, type TestReview, testReview } from './support/testReview.ts';

let review: TestReview;

beforeEach(async () => {
  review = await testReview();
});
afterEach(() => review.close());

/** A job brought through the page. */
async function bring(jobId?: number, content = '<svg/>'): Promise<number> {
  const uploads = [await review.upload('lantern.svg', content)];
  const { body } = await review.ask('POST', '/api/jobs', {
    uploads,
    by: 'Mila',
    ...(jobId !== undefined && { jobId }),
  });
  return body.job.jobId;
}

/** As a worker does when there is a report. */
async function check(): Promise<void> {
  const { jobs, blobs } = review.store;
  const { lease } = (await jobs.claim({ workerId: 'hand', leaseMs: 60_000 }))!;
  const put = await blobs.put(Buffer.from('{"checks":[]}'));
  const artifacts = [{ ...put, name: 'report.json', kind: 'reportJson' as const }];
  await jobs.finish(lease, { verdict: 'needsReview', reason: null, artifacts, inkNames: ['Ember'], timings: {} });
}

const decide = (job: number, revision: number, decision: object) =>
  review.ask('POST', `/api/jobs/${job}/${revision}/decisions`, { by: 'Jon', reason: '', ...decision });
const factsOf = async (job: number): Promise<JobFacts> => (await review.ask('GET', `/api/jobs/${job}`)).body;

describe('decisions', () => {
  it('release what was checked, until its next revision comes', async () => {
    const job = await bring();
    expect((await decide(job, 1, { kind: 'release' })).status).toBe(409);
    await check();
    expect((await decide(job, 1, { kind: 'release', reason: 'fine' })).status).toBe(200);
    expect((await review.ask('GET', '/api/jobs?standing=released')).body.jobs).toHaveLength(1);
    await bring(job, '<svg width="2"/>');
    expect((await review.ask('GET', '/api/jobs?standing=released')).body.jobs).toEqual([]);
    expect((await review.ask('GET', '/api/jobs')).body.jobs).toMatchObject([{ revision: 2, standing: null }]);
    await check();
    expect((await decide(job, 1, { kind: 'release' })).status).toBe(409);
    expect((await factsOf(job)).revisions.map(({ standing }) => standing)).toEqual([null, 'released']);
  });

  it('are no longer in force with another ticket', async () => {
    const job = await bring();
    await check();
    await decide(job, 1, { kind: 'release' });
    const ticket = { limits: { minLineMm: 0.4 } };
    const answer = await review.ask('PUT', `/api/jobs/${job}/ticket`, { ticket, by: 'Jon' });
    expect(answer.body).toMatchObject({ kind: 'newRevision', job: { revision: 2, standing: null, state: 'waiting' } });
    const { files, ticketFile } = (await review.store.jobs.job(job))!.revisions[1];
    expect(files.map(({ name }) => name)).toEqual(['lantern.svg']);
    expect(JSON.parse(readFileSync(ticketFile!.storedPath, 'utf8'))).toEqual(ticket);
    expect((await review.ask('PUT', `/api/jobs/${job}/ticket`, { ticket, by: 'Jon' })).body.kind).toBe('alreadyKnown');
  });

  it('stand in the report, which says when they no longer hold', async () => {
    const job = await bring();
    await check();
    await decide(job, 1, { kind: 'askCustomer', reason: 'which blue' });
    expect((await factsOf(job)).revisions[0].standing).toBe('onHold');
    await decide(job, 1, { kind: 'release', reason: 'fine' });
    const told = async () => (await review.ask('GET', `/api/jobs/${job}/1/report.json`)).body;
    expect(await told()).toMatchObject({ standing: 'released', isSuperseded: false, made: [{}, { reason: 'fine' }] });
    await bring(job, '<svg width="2"/>');
    expect(await told()).toMatchObject({ standing: 'released', isSuperseded: true });
    expect((await review.ask('GET', `/api/jobs/${job}/2/report.pdf`)).status).toBe(404);
    expect((await review.ask('GET', `/api/jobs/${job}/1/report.exe`)).status).toBe(400);
  });

  it('are kept with who, why and when, can be undone once, and are exported', async () => {
    const job = await bring();
    await check();
    const finding = { checkId: 'thin-line', code: 'thinner-than-ticket', inkNames: ['Ember'] };
    expect((await decide(job, 1, { kind: 'acceptFinding', finding })).status).toBe(400);
    expect((await decide(job, 1, { kind: 'doOurselves', finding })).status).toBe(400);
    expect((await decide(job, 1, { kind: 'doOurselves', reason: 'spread by hand' })).status).toBe(400);
    await decide(job, 1, { kind: 'acceptFinding', finding, reason: 'held on the last run' });
    await decide(job, 1, { kind: 'hold', reason: 'band changes\nthe date' });
    const [, hold] = (await factsOf(job)).revisions[0].decisions;
    const other = await bring(undefined, '<svg height="3"/>').then(() => review.ask('GET', '/api/jobs'));
    expect(other.status).toBe(200);
    expect((await decide(job, 1, { kind: 'undo', decisionId: hold.id + 999 })).status).toBe(404);
    expect((await decide(job, 1, { kind: 'undo', decisionId: hold.id, reason: 'date stays' })).status).toBe(200);
    expect((await decide(job, 1, { kind: 'undo', decisionId: hold.id })).status).toBe(409);
    const archive = await review.server.inject({ url: `/api/jobs/${job}/export`, headers: { host } });
    const files = unzipSync(archive.rawPayload);
    expect(Object.keys(files)).toEqual(['job.json', 'decisions.txt', 'revision 1/report.json']);
    const words = strFromU8(files['decisions.txt']);
    expect(words).toContain('Jon; Accepted as it is: thin-line, Ember; held on the last run');
    expect(words).toMatch(/Jon; Put on hold; band changes the date; Undone by Jon, .*: date stays/);
    // The report in it says the same.
    const told = JSON.parse(strFromU8(files['revision 1/report.json']));
    expect(told).toMatchObject({ revision: 1, isSuperseded: true, standing: null });
    expect(told.made.map(({ kind, by, reason }: Record<string, string>) => [kind, by, reason])).toEqual([
      ['acceptFinding', 'Jon', 'held on the last run'],
      ['hold', 'Jon', 'band changes\nthe date'],
    ]);
    expect(told.history.map(({ who, what }: Record<string, string>) => [who, what])).toContainEqual([
      'Jon',
      'putOnHold',
    ]);
    const { history } = JSON.parse(strFromU8(files['job.json'])) as JobFacts;
    expect(history.map(({ what }) => what)).toContain('decisionUndone');
  });
});

describe('events', () => {
  it('tell of what this server, and what another process, changes', async () => {
    review.server.server.unref();
    await review.server.listen({ host: '127.0.0.1', port: 0 });
    const { port } = review.server.server.address() as { port: number };
    let said = '';
    const request = get({ port, path: '/api/events', headers: { host } }, (response) => {
      response.on('data', (data) => {
        said += data;
      });
      response.on('error', () => undefined);
    });
    const until = async (words: string, times: number) => {
      for (let waited = 0; said.split(words).length <= times; waited += 20) {
        if (waited > 10_000) throw new Error(`never ${times} times ${words}:\n${said}`);
        await new Promise((resolve) => setTimeout(resolve, 20));
      }
    };
    await until('retry', 1);
    const job = await bring();
    await until(`{"what":"job","jobId":${job}}`, 1);
    await new Promise((resolve) => setTimeout(resolve, 200));
    const before = said.split('"job"').length - 1;
    await check();
    await until(`{"what":"job","jobId":${job}}`, before + 1);
    review.progress({ what: 'progress', jobId: job, revision: 1, stage: 'measuring', done: 1, total: 4 });
    await until('"stage":"measuring"', 1);
    request.destroy();
  });
});

describe('the shop', () => {
  const save = (values: object, version: string) => review.ask('PUT', '/api/shop', { values, version, by: 'Mila' });
  const now = async () => (await review.ask('GET', '/api/shop')).body;

  it('is saved with who and when, and never over what one has not seen', async () => {
    const { version } = await now();
    const values = { limits: { minLineMm: 0.3 }, meshes: [{ name: 'fine', threadsPerCm: 90, threadUm: 40 }] };
    const saved = await save(values, version);
    expect(saved.body).toMatchObject({ values, problems: [], history: [{ by: 'Mila' }] });
    expect((await save({}, version)).status).toBe(409);
    expect((await now()).values).toEqual(values);
  });

  it('is refused with each mistake at its place', async () => {
    const { version } = await now();
    const { status, body } = await save({ limits: { minLineMm: -1 }, presses: [{ name: 'a', heads: 99 }] }, version);
    expect(status).toBe(422);
    expect(body.error.problems.map(({ path }: { path: string }) => path)).toEqual([
      'limits.minLineMm',
      'presses[0].heads',
    ]);
    expect((await now()).version).toBe(version);
  });

  it('keeps its commands to itself: they are neither shown nor set', async () => {
    const file = join(review.folder, 'shop.yaml');
    writeFileSync(
      file,
      'notify:\n  command: ring-the-bell\nnote:\n  mail: { host: mail.shop.example }\nlimits:\n  minLineMm: 0.3\n',
    );
    const { values, version } = await now();
    expect(values).toEqual({ limits: { minLineMm: 0.3 } });
    expect((await save({ notify: { command: 'touch /tmp/x' } }, version)).status).toBe(400);
    expect((await save({ note: { mail: { host: 'evil.example' } } }, version)).status).toBe(400);
    expect((await save({ limits: { minLineMm: 0.2 } }, version)).status).toBe(200);
    expect(readFileSync(file, 'utf8')).toContain('ring-the-bell');
    expect(readFileSync(file, 'utf8')).toContain('mail.shop.example');
  });

  it('tells what a ticket may say', async () => {
    const { ticket, shop } = (await review.ask('GET', '/api/ticket-schema')).body;
    expect(ticket.properties.limits.properties.minLineMm).toMatchObject({ minimum: 0, maximum: 20 });
    expect(Object.keys(shop.properties)).toContain('meshes');
    for (const key of ['notify', 'note']) expect(Object.keys(shop.properties)).not.toContain(key);
  });

  it('shows the ticket that is packed with the films, so that keeping another one loses nothing of it', async () => {
    const ticketText = 'customer: Village band\nlimits:\n  minLineMm: 0.4\n';
    const packed = zipOf([
      { name: '__MACOSX/ticket.yaml', bytes: Buffer.from('customer: nobody') },
      { name: 'banner/coral.svg', bytes: Buffer.from('<svg/>') },
      { name: 'banner/ticket.yaml', bytes: Buffer.from(ticketText) },
    ]);
    const uploads = [await review.upload('banner.zip', packed)];
    const { body } = await review.ask('POST', '/api/jobs', { uploads, by: 'Mila' });
    const written = await review.ask('GET', `/api/jobs/${body.job.jobId}/1/ticket`);
    expect(written.body).toEqual({
      fileName: 'ticket.yaml',
      values: { customer: 'Village band', limits: { minLineMm: 0.4 } },
    });
    const without = await review.upload('lantern.zip', zipOf([{ name: 'lantern.svg', bytes: Buffer.from('<svg/>') }]));
    const other = await review.ask('POST', '/api/jobs', { uploads: [without], by: 'Mila' });
    const none = await review.ask('GET', `/api/jobs/${other.body.job.jobId}/1/ticket`);
    expect(none.body).toEqual({ fileName: null, values: {} });
  });

  it('lends no ticket that cannot be used', async () => {
    const job = await bring();
    const { status, body } = await review.ask('PUT', `/api/jobs/${job}/ticket`, {
      ticket: { mesh: 'none' },
      by: 'Jon',
    });
    expect(status).toBe(422);
    expect(body.error.problems[0].path).toBe('mesh');
  });
});
