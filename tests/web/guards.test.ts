import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { host, type TestReview, testReview } from './support/testReview.ts';

const markup = '<img src=x onerror=alert(1)>.svg';
let review: TestReview;

beforeAll(async () => {
  review = await testReview();
});
afterAll(() => review.close());

describe('requests from elsewhere', () => {
  const begin = (headers: Record<string, string>) =>
    review.server.inject({
      ...{ method: 'POST', url: '/api/uploads', payload: { name: 'a.svg', sizeBytes: 1 } },
      headers: { host, ...headers },
    });

  it.each([
    ['without the header of the page', { origin: `http://${host}` }],
    ['of a page on another site', { 'x-plateglass': '1', origin: 'http://festival.example' }],
    ['of a page that hides where it is', { 'x-plateglass': '1', origin: 'null' }],
    ['that the browser calls cross-site', { 'x-plateglass': '1', 'sec-fetch-site': 'cross-site' }],
    ['of another port', { 'x-plateglass': '1', origin: 'http://127.0.0.1:8080' }],
  ])('%s change nothing', async (_words, headers) => {
    expect((await begin(headers)).statusCode).toBe(403);
  });

  it('of the page itself are heard', async () => {
    expect((await begin({ 'x-plateglass': '1', origin: `http://${host}` })).statusCode).toBe(201);
  });

  it('change nothing on any route', async () => {
    const routes = review.routes.filter(({ method }) => method !== 'GET' && method !== 'HEAD');
    expect(routes.length).toBeGreaterThan(8);
    for (const { method, url } of routes) {
      const { statusCode } = await review.server.inject({
        ...{ method: method as 'POST', url: url.replace(/:\w+/g, '1'), payload: {} },
        headers: { host, origin: 'http://festival.example', 'x-plateglass': '1' },
      });
      expect([method, url, statusCode]).toEqual([method, url, 403]);
    }
  });

  it('for another name of this machine are refused', async () => {
    expect((await review.ask('GET', '/api/jobs', undefined, { host: 'rebound.example:4180' })).status).toBe(421);
    expect((await review.ask('GET', '/', undefined, { host: 'rebound.example' })).status).toBe(421);
  });
});

describe('too many requests', () => {
  it('of one address are refused for a while, those that change something sooner', async () => {
    const busy = await testReview(null, { rates: { looks: 5, changes: 2, withinMs: 300 } });
    const look = async () => (await busy.ask('GET', '/api/jobs')).status;
    const begin = () => busy.ask('POST', '/api/uploads', { name: 'a.svg', sizeBytes: 1 });
    expect([(await begin()).status, (await begin()).status]).toEqual([201, 201]);
    const refused = await begin();
    expect([refused.status, refused.headers['retry-after']]).toEqual([429, '1']);
    const looks: number[] = [];
    for (let n = 0; n < 6; n++) looks.push(await look());
    expect(looks).toEqual([200, 200, 200, 200, 200, 429]);
    await new Promise((resolve) => setTimeout(resolve, 350));
    expect([await look(), (await begin()).status]).toEqual([200, 201]);
    await busy.close();
  });
});

describe('addresses', () => {
  it.each([
    ['/', 200],
    ['/jobs/3', 200],
    ['/jobs/3/compare/1/2', 200],
    ['/no/such/view', 200],
    ['/assets/none.js', 404],
    ['/assets/', 404],
    ['/assets', 404],
    ['/favicon.ico', 404],
    ['/index.php', 404],
    ['/api/none', 404],
  ])('%s is answered with %i', async (path, wanted) => {
    const { status, headers } = await review.ask('GET', path);
    expect(status).toBe(wanted);
    expect(String(headers['content-type'])).toMatch(wanted === 200 ? /^text\/html/ : /^application\/json/);
  });
});

describe('names and paths', () => {
  it('reach no file but those of the page and of the store', async () => {
    const id = await review.upload('a.svg', '<svg/>');
    const { job } = (await review.ask('POST', '/api/jobs', { uploads: [id], by: 'Mila' })).body;
    const api = `/api/jobs/${job.jobId}/1/files/`;
    for (const path of [
      '/../secret.txt',
      '/..%2fsecret.txt',
      '/%2e%2e/secret.txt',
      `${api}../../../../../secret.txt`,
      `${api}..%2f..%2fsecret.txt`,
      `${api}%2fetc%2fpasswd.json`,
      '/api/uploads/..%2f..%2fsecret',
    ]) {
      const { text } = await review.ask('GET', path);
      expect([path, text.includes('not for anybody')]).toEqual([path, false]);
    }
    expect((await review.ask('GET', `${api}..%2fsecret.json`)).status).toBe(404);
  });

  it.each(['../a.svg', '/a.svg', 'a/../b.svg', 'a//b.svg', 'a\\b.svg', 'a\u0000.svg', '.hidden.svg', 'note.txt', '..'])(
    '%j is no name of a file',
    async (name) => {
      expect((await review.ask('POST', '/api/uploads', { name, sizeBytes: 1 })).status).toBe(400);
    },
  );

  it('with markup stay text', async () => {
    const uploads = [await review.upload(markup, '<svg/>')];
    const words = { jobName: '<script>alert(2)</script>', customer: '"><svg onload=alert(3)>' };
    const { job } = (await review.ask('POST', '/api/jobs', { uploads, ...words, by: '<b>Mila</b>' })).body;
    const { status, headers, body } = await review.ask('GET', `/api/jobs/${job.jobId}`);
    expect(status).toBe(200);
    expect(headers['content-type']).toMatch(/^application\/json/);
    expect(headers['x-content-type-options']).toBe('nosniff');
    expect(headers['content-security-policy']).toContain("script-src 'self'");
    expect(headers['content-security-policy']).not.toContain('unsafe');
    expect(body).toMatchObject(words);
    expect(body.revisions[0].files[0].name).toBe(markup);
  });

  it('of a report let no script run', async () => {
    const { jobs, blobs } = review.store;
    const claim = (await jobs.claim({ workerId: 'hand', leaseMs: 60_000 }))!;
    const put = async (name: string, text: string) => ({
      ...(await blobs.put(Buffer.from(text))),
      ...{ name, kind: 'other' as const },
    });
    const artifacts = [await put('report.html', '<script>1</script>'), await put('art.svg', '<svg onload="1"/>')];
    const result = { verdict: 'fail' as const, reason: null, artifacts, inkNames: [markup], timings: {} };
    await jobs.finish(claim.lease, result);
    const at = `/api/jobs/${claim.jobId}/${claim.revision}/files/`;
    const html = await review.ask('GET', `${at}report.html`);
    expect(html.headers['content-security-policy']).toMatch(/^default-src 'none'/);
    expect(html.headers['content-security-policy']).not.toContain('script-src');
    expect((await review.ask('GET', `${at}art.svg`)).status).toBe(404);
  });
});

describe('the page of a job', () => {
  it('begins with its picture where there is one, and for those who may look', async () => {
    const people = await testReview({ Mila: 'look' });
    const { jobs, blobs } = people.store;
    await jobs.takeIn({
      ...{ jobName: 'lantern', customer: null, source: { kind: 'commandLine', detail: '' }, placeAt: null },
      files: [{ name: 'a.svg', sizeBytes: 1, sha256: 'a'.repeat(64), storedPath: '/a.svg' }],
      ...{ ticketFile: null, arrivedAt: 0, by: 'a test' },
    });
    const cookie = await people.signIn('Mila');
    const pageOf = async (path: string, headers = {}) => (await people.ask('GET', path, undefined, headers)).text;
    expect(await pageOf('/jobs/1', { cookie })).not.toContain('<img');
    const { lease } = (await jobs.claim({ workerId: 'hand', leaseMs: 60_000 }))!;
    const picture = { kind: 'picture' as const, name: 'composite.png', ...(await blobs.put(Buffer.from('a picture'))) };
    await jobs.finish(lease, { verdict: 'pass', reason: null, artifacts: [picture], inkNames: [], timings: {} });
    expect(await pageOf('/jobs/1', { cookie })).toContain('src="/api/jobs/1/picture"');
    expect(await pageOf('/jobs/1/1', { cookie })).toContain('src="/api/jobs/1/picture?revision=1"');
    expect(await pageOf('/jobs/1/2', { cookie })).not.toContain('<img');
    expect(await pageOf('/jobs/1/ticket', { cookie })).not.toContain('<img');
    expect(await pageOf('/jobs/1')).not.toContain('<img');
    const seen = await people.ask('GET', '/api/jobs/1/picture', undefined, { cookie });
    expect([seen.status, seen.headers['content-type'], seen.text]).toEqual([200, 'image/png', 'a picture']);
    expect((await people.ask('GET', '/api/jobs/1/picture?revision=2', undefined, { cookie })).status).toBe(404);
    await people.close();
  });
});
