import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { type TestCustomers, testCustomers } from './support/testCustomers.ts';
import { host } from './support/testReview.ts';

let customers: TestCustomers;
let jobId = 0;
beforeAll(async () => {
  const much = 100_000;
  customers = await testCustomers({ rates: { ofAddress: much, ofLink: much, wrongTokens: much } });
  await customers.checkedJob('other band’s tee', { customer: 'Hillside choir' });
  jobId = await customers.checkedJob('festival tee');
});
afterAll(() => customers.close());

describe('a link', () => {
  it('is unlike every other, and only its hash is kept', async () => {
    const made = await Promise.all(Array.from({ length: 50 }, () => customers.newLink(jobId)));
    const tokens = made.map(({ token }) => token);
    expect(new Set(tokens).size).toBe(50);
    // 40 hexadecimal digits are 160 bits; over 50 of them every digit stands about as often.
    expect(tokens.every((token) => /^[0-9a-f]{40}$/.test(token))).toBe(true);
    const counts = [...'0123456789abcdef'].map((digit) => tokens.join('').split(digit).length - 1);
    expect(Math.min(...counts)).toBeGreaterThan(70);
    expect(Math.max(...counts)).toBeLessThan(190);
    const file = join(customers.review.folder, 'records.jsonl');
    await customers.review.store.jobs.exportRows(file);
    const records = readFileSync(file, 'utf8');
    expect(records).toContain('customer_links');
    expect(tokens.filter((token) => records.includes(token))).toEqual([]);
  });

  it('that is expired, revoked, made up or cut short is answered alike everywhere', async () => {
    const expired = await customers.newLink(jobId, { validForMs: 1 } as object);
    const revoked = await customers.newLink(jobId);
    expect((await customers.get(`/c/${revoked.token}`)).status).toBe(200);
    await customers.review.store.jobs.revokeCustomerLink(revoked.id, 'Mila');
    const bad = [expired.token, revoked.token, '0'.repeat(40), revoked.token.slice(1), 'x', '..%2f..%2fetc'];
    const nowhere = await customers.get('/nowhere');
    expect(nowhere.status).toBe(404);
    const { date: _date, ...headers } = nowhere.headers;
    for (const token of bad)
      for (const { method, url } of customers.routes.filter((one) => one.url.includes(':token'))) {
        const path = url.replace(':token', token).replace(/:\w+/g, '1');
        const got = method === 'GET' ? await customers.get(path) : await customers.send(method as 'POST', path, {});
        if (got.status === 429) throw new Error('The test asks too often.');
        const { date: _other, ...gotHeaders } = got.headers;
        if (method !== 'HEAD') expect([path, got.text]).toEqual([path, nowhere.text]);
        expect([path, got.status, gotHeaders['content-type']]).toEqual([path, 404, headers['content-type']]);
      }
  });

  it('opens nothing of the review, however its token is shown there', async () => {
    const { token } = await customers.newLink(jobId);
    const ways: Record<string, string>[] = [
      { cookie: `plateglass=${token}; __Host-plateglass=${token}` },
      { authorization: `Bearer ${token}`, cookie: `token=${token}` },
    ];
    const { routes, server } = customers.review;
    expect(routes.length).toBeGreaterThan(25);
    const open: string[] = [];
    for (const { method, url } of routes)
      for (const headers of ways)
        for (const filled of [url.replace(/:\w+/g, '1'), url.replace(/:\w+/g, token)]) {
          const own = { host, 'x-plateglass': '1', origin: `https://${host}` };
          const payload = method === 'GET' || method === 'HEAD' ? undefined : {};
          const path = `${filled.replace('*', 'report.json')}?token=${token}`;
          const got = await server.inject({
            method: method as 'GET',
            url: path,
            payload,
            headers: { ...own, ...headers },
          });
          const isPublic = url === '/api/session' || !url.startsWith('/api/');
          if (!isPublic && got.statusCode !== 401) open.push(`${method} ${path} ${got.statusCode}`);
          expect(got.body).not.toContain('festival tee');
        }
    expect(open).toEqual([]);
    const page = await server.inject({ method: 'GET', url: `/c/${token}`, headers: { host } });
    expect(page.body).not.toContain('festival');
  });

  it('opens on its own server no address of the review, and no other job', async () => {
    const { token } = await customers.newLink(jobId);
    const nowhere = await customers.get('/nowhere');
    const own = new Set(customers.routes.map(({ url }) => url));
    for (const { method, url } of customers.review.routes.filter((one) => one.url.startsWith('/api/'))) {
      expect(own.has(url)).toBe(false);
      for (const path of [url, `/c/${token}${url}`].map((one) =>
        one.replace(/:\w+/g, '1').replace('*', 'report.json'),
      )) {
        const got = method === 'GET' ? await customers.get(path) : await customers.send(method as 'POST', path, {});
        expect([method, path, got.status]).toEqual([method, path, 404]);
        if (method !== 'HEAD') expect(got.text).toBe(nowhere.text);
      }
    }
    expect([...own].filter((url) => !/^\/(c\/:token|assets\/)/.test(url))).toEqual([]);
    for (const file of ['report.json', 'measured.bin', 'a.svg', 'composite.png', '..%2f..%2fsecret.txt', 'report.pdf'])
      expect([file, (await customers.get(`/c/${token}/1/${file}`)).status]).toEqual([file, 404]);
    expect((await customers.get(`/c/${token}/2/proof.png`)).status).toBe(404);
    expect((await customers.get(`/c/${token}/1/proof.png`)).headers['content-type']).toBe('image/png');
  });

  it('is made, listed and closed by people of the shop alone', async () => {
    const { review } = customers;
    const path = `/api/jobs/${jobId}/links`;
    expect((await review.ask('POST', path, { days: 3 })).status).toBe(401);
    const cookie = await review.signIn('Mila');
    const made = await review.ask('POST', path, { days: 3, language: 'es', units: 'inch' }, { cookie });
    expect(made.status).toBe(201);
    expect(made.body.url).toMatch(/^https:\/\/films\.example\/c\/[0-9a-f]{40}$/);
    const [link] = made.body.links;
    expect(link).toMatchObject({ madeBy: 'Mila', isOpen: true, revoked: null });
    expect(link.expiresAt - link.madeAt).toBe(3 * 86_400_000);
    const listed = await review.ask('GET', path, undefined, { cookie });
    expect(listed.text).not.toContain(made.body.url.slice(-40));
    expect(listed.text).not.toMatch(/sha256|[0-9a-f]{64}/);
    const page = made.body.url.replace('https://films.example', '');
    expect((await customers.get(page)).text).toContain('<html lang="es">');
    expect((await review.ask('DELETE', `/api/jobs/1/links/${link.id}`, undefined, { cookie })).status).toBe(404);
    const closed = await review.ask('DELETE', `${path}/${link.id}`, undefined, { cookie });
    expect(closed.body.links[0]).toMatchObject({ isOpen: false, revoked: { by: 'Mila' } });
    expect((await customers.get(page)).status).toBe(404);
    expect((await review.ask('POST', path, { days: 366 }, { cookie })).status).toBe(400);
    expect((await review.ask('POST', '/api/jobs/99/links', {}, { cookie })).status).toBe(404);
  });
});

describe('too many requests', () => {
  it('are refused, of one address, of one link, and for pages that are not there', async () => {
    const busy = await testCustomers({ rates: { ofAddress: 12, ofLink: 4, wrongTokens: 3 } });
    const id = await busy.checkedJob('lantern');
    const [one, other] = [await busy.newLink(id), await busy.newLink(id)];
    const statuses = async (path: string, times: number) => {
      const got: number[] = [];
      for (let turn = 0; turn < times; turn++) got.push((await busy.get(path)).status);
      return got;
    };
    expect(await statuses(`/c/${one.token}/state`, 5)).toEqual([200, 200, 200, 200, 429]);
    expect(await statuses(`/c/${other.token}/state`, 1)).toEqual([200]);
    expect(await statuses(`/c/${'0'.repeat(40)}`, 4)).toEqual([404, 404, 404, 429]);
    // Whoever guesses is no longer told of a right guess either.
    expect(await statuses(`/c/${other.token}/state`, 1)).toEqual([429]);
    await busy.close();
  });

  it('counts a network of IPv6 as one sender', async () => {
    const { addressKey } = await import('../../web/server/customer/addressKey.ts');
    expect(addressKey('192.0.2.7')).toBe('192.0.2.7');
    expect(addressKey('::ffff:192.0.2.7')).toBe('192.0.2.7');
    expect(addressKey('2001:db8:1:2:aaaa::1')).toBe(addressKey('2001:0db8:1:2:bbbb:cccc:dddd:2'));
    expect(addressKey('2001:db8:1:3::1')).not.toBe(addressKey('2001:db8:1:2::1'));
    expect(addressKey('::1')).toBe('0:0:0:0');
    expect(addressKey('2001:db8::1')).toBe('2001:db8:0:0');
  });
});
