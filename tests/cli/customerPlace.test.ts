import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, describe, expect, it } from 'vitest';
import { customerPlace } from '../../cli/customerPlace.ts';

const folder = mkdtempSync(join(tmpdir(), 'place-'));
afterAll(() => rmSync(folder, { recursive: true, force: true }));
const [customerTlsCert, customerTlsKey] = ['films.pem', 'films.key'].map((name) => {
  writeFileSync(join(folder, name), name);
  return join(folder, name);
});

describe('where the page for customers is served', () => {
  it('is nowhere unless an address is given, and then that alone', async () => {
    expect(await customerPlace({}, 'https://films.shop.example')).toBeNull();
    const place = (await customerPlace({ customerAddress: '127.0.0.1:4181' }, null))!;
    expect(place).toMatchObject({ host: '127.0.0.1', port: 4181, url: 'http://127.0.0.1:4181', behindProxy: false });
    expect(place.hosts.has('127.0.0.1:4181')).toBe(true);
    expect(place.hosts.has('127.0.0.1:4180')).toBe(false);
  });

  it('has a proxy before it where it is reached by another address', async () => {
    const place = (await customerPlace({ customerAddress: '127.0.0.1:4181' }, 'https://films.shop.example'))!;
    expect(place).toMatchObject({ url: 'https://films.shop.example', behindProxy: true, tls: null });
    expect(place.hosts.has('films.shop.example')).toBe(true);
    const said = { customerAddress: '[::1]:4181', customerUrl: 'https://other.shop.example:8443' };
    expect(await customerPlace(said, 'https://films.shop.example')).toMatchObject({
      ...{ host: '::1', url: 'https://other.shop.example:8443', behindProxy: true },
    });
  });

  it('is reached by https alone beyond this machine', async () => {
    const beyond = { customerAddress: '192.0.2.10:8443' };
    await expect(customerPlace(beyond, 'https://films.shop.example')).rejects.toThrow('https only');
    await expect(customerPlace({ ...beyond, customerTlsCert }, null)).rejects.toThrow('both are needed');
    const own = (await customerPlace({ ...beyond, customerTlsCert, customerTlsKey }, null))!;
    expect(own).toMatchObject({ url: 'https://192.0.2.10:8443', behindProxy: false });
    expect(own.tls!.cert.toString()).toBe('films.pem');
    const ofReview = { ...beyond, tlsCert: customerTlsCert, tlsKey: customerTlsKey };
    expect((await customerPlace(ofReview, null))!.tls!.key.toString()).toBe('films.key');
  });

  it.each(['4181', 'films:', 'films:0', 'films:70000', 'https://films:4181', ':4181'])(
    '%s is no address of this machine',
    async (customerAddress) => {
      await expect(customerPlace({ customerAddress }, null)).rejects.toThrow('--customer-address');
    },
  );

  it('is not said by half', async () => {
    await expect(customerPlace({ customerUrl: 'https://films.shop.example' }, null)).rejects.toThrow(
      '--customer-address',
    );
    for (const customerUrl of ['films.shop.example', 'ftp://films.shop.example', 'https://films.shop.example/page'])
      await expect(customerPlace({ customerAddress: '127.0.0.1:4181', customerUrl }, null)).rejects.toThrow(
        customerUrl,
      );
  });
});
