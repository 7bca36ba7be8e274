import { readFileSync, statSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { passphrase, type TestReview, testReview } from './support/testReview.ts';

let review: TestReview;

beforeEach(async () => {
  review = await testReview({ Mila: 'administer', Jon: 'decide', Ada: 'look' });
});
afterEach(() => review.close());

/** An address of a route, with something in each of its places. */
const filled = (url: string) => url.replace(/:\w+/g, '1').replace('*', 'report.json');
const changes = (method: string) => method !== 'GET' && method !== 'HEAD';
type Method = 'GET';

function routesOfApi() {
  const routes = review.routes.filter(({ url }) => url.startsWith('/api/') && !url.startsWith('/api/session'));
  // Whoever finds fewer has not found them all.
  expect(routes.length).toBeGreaterThan(20);
  return routes;
}

describe('a server with accounts', () => {
  it('answers nobody who has not signed in, on any route', async () => {
    for (const { method, url } of routesOfApi()) {
      const { status } = await review.ask(method as Method, filled(url), changes(method) ? {} : undefined);
      expect([method, url, status]).toEqual([method, url, 401]);
    }
    expect((await review.ask('GET', '/api/there-is-no-such-thing')).status).toBe(401);
    expect((await review.ask('GET', '/api/session')).body).toMatchObject({ signedIn: false, asksForAccount: true });
  });

  it('lets one who may look look, and change nothing', async () => {
    const cookie = await review.signIn('Ada');
    expect((await review.ask('GET', '/api/jobs', undefined, { cookie })).status).toBe(200);
    for (const { method, url } of routesOfApi().filter((route) => changes(route.method))) {
      const { status } = await review.ask(method as Method, filled(url), {}, { cookie });
      expect([method, url, status]).toEqual([method, url, 403]);
    }
  });

  it('lets one who decides change no shop', async () => {
    const cookie = await review.signIn('Jon');
    const body = { values: {}, version: 'x' };
    expect((await review.ask('PUT', '/api/shop', body, { cookie })).status).toBe(403);
    expect((await review.ask('PUT', '/api/shop', body, { cookie: await review.signIn('Mila') })).status).toBe(409);
  });

  it('takes no key that it has not given, and gives a new one at each sign-in', async () => {
    const chosen = `__Host-plateglass=${'a'.repeat(43)}`;
    expect((await review.ask('GET', '/api/jobs', undefined, { cookie: chosen })).status).toBe(401);
    const signIn = await review.ask('POST', '/api/session', { name: 'Jon', passphrase }, { cookie: chosen });
    const first = String(signIn.headers['set-cookie']).split(';')[0];
    expect(first).not.toBe(chosen);
    expect((await review.ask('GET', '/api/jobs', undefined, { cookie: chosen })).status).toBe(401);
    const again = await review.ask('POST', '/api/session', { name: 'Mila', passphrase }, { cookie: first });
    const second = String(again.headers['set-cookie']).split(';')[0];
    expect(second).not.toBe(first);
    expect((await review.ask('GET', '/api/jobs', undefined, { cookie: first })).status).toBe(401);
    expect((await review.ask('GET', '/api/session', undefined, { cookie: second })).body.name).toBe('Mila');
  });

  it('keeps the key from scripts, other sites and plain http', async () => {
    const { headers } = await review.ask('POST', '/api/session', { name: 'Jon', passphrase });
    for (const word of ['__Host-', 'HttpOnly', 'Secure', 'SameSite=Strict', 'Path=/'])
      expect(headers['set-cookie']).toContain(word);
  });

  it('ends a session at sign-out, and when the account is taken away or has another passphrase', async () => {
    const [jon, ada, mila] = [await review.signIn('Jon'), await review.signIn('Ada'), await review.signIn('Mila')];
    await review.ask('DELETE', '/api/session', undefined, { cookie: jon });
    await review.accounts.remove('Ada');
    await review.accounts.set('Mila', 'administer', 'another twelve characters');
    for (const cookie of [jon, ada, mila])
      expect((await review.ask('GET', '/api/jobs', undefined, { cookie })).status).toBe(401);
  });

  it('knows those who signed in after it starts again, and no longer those who signed out', async () => {
    const [jon, ada] = [await review.signIn('Jon'), await review.signIn('Ada')];
    await review.ask('DELETE', '/api/session', undefined, { cookie: ada });
    const file = join(review.folder, 'sessions.json');
    const started = () => testReview(null, { access: { accounts: review.accounts, secure: true, sessionFile: file } });
    let again = await started();
    expect((await again.ask('GET', '/api/session', undefined, { cookie: jon })).body.name).toBe('Jon');
    expect((await again.ask('GET', '/api/jobs', undefined, { cookie: ada })).status).toBe(401);
    await again.close();
    // Neither a key nor what a passphrase could be tried against stands in the file.
    const text = readFileSync(file, 'utf8');
    const [account] = (await review.accounts.list()).filter(({ name }) => name === 'Jon');
    for (const secret of [jon.split('=')[1], account.hash, 'argon2']) expect(text).not.toContain(secret);
    expect(statSync(file).mode & 0o777).toBe(0o600);
    await review.accounts.set('Jon', 'decide', 'another twelve characters');
    again = await started();
    expect((await again.ask('GET', '/api/jobs', undefined, { cookie: jon })).status).toBe(401);
    await again.close();
    writeFileSync(file, '{"version":1,"sessions":[{"key":1}]}');
    again = await started();
    expect((await again.ask('GET', '/api/jobs', undefined, { cookie: jon })).status).toBe(401);
    await again.close();
  });

  it('lets nobody try many passphrases', async () => {
    const statuses: number[] = [];
    for (let n = 0; n < 12; n++)
      statuses.push((await review.ask('POST', '/api/session', { name: 'Jon', passphrase: `guess ${n}` })).status);
    expect(statuses.slice(0, 10)).toEqual(Array(10).fill(401));
    expect(statuses.slice(10)).toEqual([429, 429]);
    expect((await review.ask('POST', '/api/session', { name: 'Jon', passphrase })).status).toBe(429);
  });

  it('keeps passphrases as Argon2id hashes in a file for its owner alone', async () => {
    for (const { hash } of await review.accounts.list()) {
      expect(hash).toMatch(/^\$argon2id\$v=19\$m=65536,t=3,p=1\$/);
      expect(hash).not.toContain(passphrase);
    }
    expect(statSync(join(review.folder, 'accounts.json')).mode & 0o777).toBe(0o600);
    await expect(review.accounts.set('Short', 'look', 'eleven char')).rejects.toThrow('12 characters');
    await expect(review.accounts.set('<b>Bold</b>', 'look', passphrase)).rejects.toThrow('A name has');
  });

  it('puts the name of the account under a decision, whatever the page says', async () => {
    const { jobId } = await review.store.jobs.takeIn({
      jobName: 'lantern tee',
      customer: null,
      source: { kind: 'commandLine', detail: '' },
      files: [{ name: 'a.svg', sizeBytes: 1, sha256: 'a'.repeat(64), storedPath: '/a.svg' }],
      ...{ ticketFile: null, arrivedAt: 0, by: 'a test', placeAt: null },
    });
    const decision = { kind: 'hold', by: 'Mila', reason: 'waiting' };
    const cookie = await review.signIn('Jon');
    await review.ask('POST', `/api/jobs/${jobId}/1/decisions`, decision, { cookie });
    expect((await review.store.jobs.job(jobId))!.revisions[0].decisions[0].by).toBe('Jon');
  });
});
