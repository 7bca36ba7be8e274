import { readdirSync } from 'node:fs';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { customerCatalogues } from '../../web/server/customer/words/wordsIn.ts';
import { tagsOf, textOf } from '../support/htmlTags.ts';
import { hostileName } from '../support/inspectionFixture.ts';
import { filmsOf, type TestCustomers, testCustomers } from './support/testCustomers.ts';

let customers: TestCustomers;
beforeAll(async () => {
  customers = await testCustomers();
});
afterAll(() => customers.close());
const historyOf = async (jobId: number) =>
  (await customers.review.store.jobs.job(jobId))!.history.map(({ who, what }) => `${who}: ${what}`);
const latestOf = async (jobId: number) => (await customers.review.store.jobs.job(jobId))!.revisions.at(-1)!;

describe('the customer’s page', () => {
  it('shows the requests with pictures, the proof, and nothing else of the shop', async () => {
    const { store } = customers.review;
    await customers.checkedJob('secret rival order', { customer: 'Hillside choir' });
    const jobId = await customers.checkedJob('festival tee');
    const { revisionId } = await latestOf(jobId);
    await store.jobs.decide({ revisionId, kind: 'hold', by: 'Jonas of the press', reason: 'they never pay' });
    const { token } = await customers.newLink(jobId);
    const { status, text, headers } = await customers.get(`/c/${token}`);
    expect(status).toBe(200);
    expect(headers).toMatchObject({
      'cache-control': 'no-store',
      'referrer-policy': 'no-referrer',
      'x-content-type-options': 'nosniff',
    });
    expect(headers['x-robots-tag']).toContain('noindex');
    expect(headers['content-security-policy']).toMatch(/^default-src 'none'/);
    expect(headers['content-security-policy']).not.toContain('unsafe');
    expect(headers['set-cookie']).toBeUndefined();
    const said = textOf(text);
    for (const shown of ['festival tee', 'Our screen room', 'Changes we make are 15', 'I approve it as shown', 'a.svg'])
      expect(said).toContain(shown);
    for (const hidden of ['rival', 'Hillside', 'Jonas', 'they never pay', 'on hold', 'Mila', '/srv/', 'shop.yaml'])
      expect([hidden, text.includes(hidden)]).toEqual([hidden, false]);
    expect(text).not.toContain(customers.review.folder);
    const pdf = await customers.get(`/c/${token}/1/proof.pdf?language=de`);
    expect([pdf.status, pdf.headers['content-type'], pdf.text]).toEqual([
      200,
      'application/pdf',
      '%PDF-1.7 of a proof',
    ]);
    const pictures = tagsOf(text).filter(({ name }) => name === 'img');
    expect(pictures.length).toBeGreaterThan(1);
    for (const { attributes } of pictures) {
      expect(attributes.alt).not.toBe('');
      const picture = await customers.get(attributes.src.replaceAll('&amp;', '&'));
      expect([picture.status, picture.headers['content-type']]).toEqual([200, 'image/png']);
    }
  });

  it('speaks the language of the link, or of the reader, in mm or inches', async () => {
    const jobId = await customers.checkedJob('lantern');
    const spanish = (await customers.newLink(jobId, { language: 'es', units: 'inch' })).token;
    const page = textOf((await customers.get(`/c/${spanish}`)).text);
    expect(page).toContain(customerCatalogues.es.approve);
    expect(page).toMatch(/\d in\b|pulgadas/);
    const german = await customers.get(`/c/${spanish}?language=de&units=mm`);
    expect(german.text).toContain('<html lang="de">');
    expect(textOf(german.text)).toContain(customerCatalogues.de.approve);
    const open = (await customers.newLink(jobId, { language: null })).token;
    const asked = await customers.get(`/c/${open}`, { 'accept-language': 'fr-FR, es;q=0.8' });
    expect(asked.text).toContain('<html lang="es">');
    expect((await customers.get(`/c/${open}?language=%3Cb%3E`)).text).toContain('<html lang="en">');
  });

  it('lets no name, remark or address become markup or a header', async () => {
    const evil = `"><script>alert(1)</script><img src=x onerror=alert(2)>${hostileName}`;
    const jobId = await customers.checkedJob(`tee ${evil}`, { customer: evil }, { hostile: true });
    const { token } = await customers.newLink(jobId);
    await customers.answer(token, { kind: 'declined', name: `${evil}\r\nSet-Cookie: a=b`, remark: `${evil}\r\n<b>` });
    for (const path of [`/c/${token}`, `/c/${token}?language=%22%3E%3Cscript%3E`, `/c/${token}?units=%22%3E`]) {
      const { text, headers } = await customers.get(path);
      const tags = tagsOf(text.replaceAll('<svg', '<path').replaceAll('</svg>', '').replaceAll('<rect', '<path'));
      expect(tags.filter(({ name }) => name === 'script')).toEqual([
        { name: 'script', attributes: { type: 'module', src: '/assets/customer.js' } },
      ]);
      expect(tags.flatMap(({ attributes }) => Object.keys(attributes)).filter((name) => name.startsWith('on'))).toEqual(
        [],
      );
      expect(tags.filter(({ name }) => name === 'b' || name === 'i')).toEqual([]);
      expect(text.replaceAll('\n', '')).not.toMatch(/[\p{Cc}\u202e]/u);
      expect(headers['set-cookie']).toBeUndefined();
    }
    const [answer] = (await latestOf(jobId)).answers;
    expect(answer.name).not.toMatch(/[\r\n]/);
    expect(answer.remark.split('\n').length).toBe(2);
  });

  it('can be asked for while its file is being checked, or could not be', async () => {
    const { store } = customers.review;
    const jobId = await customers.checkedJob('lantern two');
    const { token } = await customers.newLink(jobId);
    const before = JSON.parse((await customers.get(`/c/${token}/state`)).text).mark;
    const id = await customers.upload(token, 'new.svg', '<svg/>');
    await customers.send('POST', `/c/${token}/files`, { uploads: [id], name: 'Ines' });
    const waiting = await customers.get(`/c/${token}`);
    expect(textOf(waiting.text)).toContain(customerCatalogues.en.checking);
    expect(filmsOf(waiting.text)).toBe('');
    expect(JSON.parse((await customers.get(`/c/${token}/state`)).text).mark).not.toBe(before);
    const { lease } = (await store.jobs.claim({ workerId: 'hand', leaseMs: 60_000 }))!;
    const result = { verdict: 'couldNotRun', reason: '/srv/films/new.svg is broken', artifacts: [] } as const;
    await store.jobs.finish(lease, { ...result, inkNames: [], timings: {} });
    const failed = textOf((await customers.get(`/c/${token}`)).text);
    expect(failed).toContain(customerCatalogues.en.notChecked);
    expect(failed).not.toContain('/srv/');
  });

  it('says nothing of its address when something goes wrong', async () => {
    const jobId = await customers.checkedJob('lost');
    const { token } = await customers.newLink(jobId);
    const { artifacts } = await latestOf(jobId);
    const { rmSync } = await import('node:fs');
    for (const { sha256, kind } of artifacts)
      if (kind === 'reportJson') rmSync(customers.review.store.blobs.pathOf(sha256));
    const broken = await customers.get(`/c/${token}?units=inch`);
    expect([broken.status, JSON.parse(broken.text)]).toEqual([500, { error: { code: 'fault' } }]);
    expect(customers.troubles.length).toBe(1);
    expect(customers.troubles.join()).not.toContain(token);
  });
});

describe('an answer', () => {
  it('goes into the history with its name, and a second one takes its place', async () => {
    const jobId = await customers.checkedJob('choir tee');
    const { token } = await customers.newLink(jobId);
    const approved = await customers.answer(token, { kind: 'approved', name: '  Ines ' });
    expect([approved.status, approved.headers.location]).toEqual([303, `/c/${token}?language=en&units=mm#answer`]);
    expect(customers.told.at(-1)).toBe(jobId);
    const page = textOf((await customers.get(`/c/${token}`)).text);
    expect(page).toMatch(/Approved by Ines, /);
    await customers.answer(token, { kind: 'approved', name: 'Ines' });
    await customers.answer(token, { kind: 'declined', name: 'Bruno', remark: 'the blue is too dark' });
    expect((await historyOf(jobId)).slice(-2)).toEqual([
      'Ines (customer): customerApproved',
      'Bruno (customer): customerDeclined',
    ]);
    const cookie = await customers.review.signIn('Mila');
    const { body } = await customers.review.ask('GET', `/api/jobs/${jobId}`, undefined, { cookie });
    expect(body.revisions[0]).toMatchObject({ customerAnswer: 'declined', standing: null });
    expect(body.revisions[0].answers).toMatchObject([
      { kind: 'approved', name: 'Ines' },
      { kind: 'declined', name: 'Bruno', remark: 'the blue is too dark' },
    ]);
    const archive = (await customers.review.ask('GET', `/api/jobs/${jobId}/export`, undefined, { cookie })).status;
    expect(archive).toBe(200);
  });

  it('is not taken without a name, nor no without a reason, and what was typed stays', async () => {
    const jobId = await customers.checkedJob('band tee');
    const { token } = await customers.newLink(jobId);
    const nameless = await customers.answer(token, { kind: 'approved', name: ' ', remark: 'fine <b>so</b>' });
    expect(nameless.status).toBe(422);
    expect(nameless.text).toContain('role="alert"');
    expect(textOf(nameless.text)).toContain('fine <b>so</b>');
    const bare = await customers.answer(token, { kind: 'declined', name: 'Ines' });
    expect([bare.status, bare.text.includes('value="Ines"')]).toEqual([422, true]);
    expect((await customers.answer(token, { kind: 'released', name: 'Ines' })).status).toBe(400);
    expect((await latestOf(jobId)).answers).toEqual([]);
  });

  it('holds for the films that were seen, and for no later ones', async () => {
    const jobId = await customers.checkedJob('poster');
    const { token } = await customers.newLink(jobId);
    const films = filmsOf((await customers.get(`/c/${token}`)).text);
    expect(films).toBe((await latestOf(jobId)).contentKey);
    expect((await customers.answer(token, { kind: 'approved', name: 'Ines' })).status).toBe(303);
    const id = await customers.upload(token, 'poster.svg', '<svg>2</svg>');
    await customers.send('POST', `/c/${token}/files`, { uploads: [id], name: 'Ines' });
    expect((await latestOf(jobId)).customerAnswer).toBeNull();
    expect((await customers.answer(token, { kind: 'approved', name: 'Ines', films })).status).toBe(409);
    await customers.check();
    const stale = await customers.answer(token, { kind: 'approved', name: 'Ines', films });
    expect([stale.status, textOf(stale.text).includes(customerCatalogues.en['wrong.newer'])]).toEqual([409, true]);
    expect((await latestOf(jobId)).customerAnswer).toBeNull();
    expect((await customers.answer(token, { kind: 'approved', name: 'Ines' })).status).toBe(303);
    const { revisions } = (await customers.review.store.jobs.job(jobId))!;
    expect(revisions.map(({ customerAnswer }) => customerAnswer)).toEqual(['approved', 'approved']);
  });

  it('is not given by another page, nor by looking', async () => {
    const jobId = await customers.checkedJob('hoodie');
    const { token } = await customers.newLink(jobId);
    const films = filmsOf((await customers.get(`/c/${token}`)).text);
    const others = [
      { 'sec-fetch-site': 'cross-site' },
      { origin: 'https://festival.example' },
      { 'sec-fetch-site': 'same-site', origin: 'null' },
    ];
    for (const headers of others)
      expect((await customers.answer(token, { kind: 'approved', name: 'Ines', films }, headers as never)).status).toBe(
        404,
      );
    expect((await customers.get(`/c/${token}/answer?kind=approved&name=Ines&films=${films}`)).status).toBe(404);
    expect(
      (await customers.send('POST', `/c/${token}/answer`, { kind: 'approved', name: 'Ines', films, remark: '' }))
        .status,
    ).toBe(415);
    expect((await latestOf(jobId)).answers).toEqual([]);
    const own = { origin: 'null', 'sec-fetch-site': 'same-origin' };
    expect((await customers.answer(token, { kind: 'approved', name: 'Ines', films }, own)).status).toBe(303);
  });

  it('by a name like that of a worker stays that of a customer', async () => {
    const jobId = await customers.checkedJob('cap');
    const { token } = await customers.newLink(jobId);
    await customers.answer(token, { kind: 'approved', name: 'host:1:x' });
    const cookie = await customers.review.signIn('Mila');
    const { body } = await customers.review.ask('GET', `/api/jobs/${jobId}/1/report.json`, undefined, { cookie });
    const whos = body.history.map(({ who }: { who: string }) => who);
    expect(whos).toContain('host:1:x (customer)');
    expect(whos).toContain('Plateglass');
  });
});

describe('a file from a customer', () => {
  it('is the next revision, by the ticket of the job, under a safe name, and is never handed out', async () => {
    const { store } = customers.review;
    const ticket = await store.blobs.put(Buffer.from('{"job":"scarf"}'));
    const ticketFile = { name: 'ticket.json', ...ticket, storedPath: store.blobs.pathOf(ticket.sha256) };
    const jobId = await customers.checkedJob('scarf', { ticketFile });
    const { token } = await customers.newLink(jobId);
    const content = 'what the customer sent';
    const id = await customers.upload(token, '../..\\C:\\Temp\\.<b>fest|ival</b>\u202e.PDF', content);
    const other = await customers.newLink(jobId);
    expect((await customers.get(`/c/${other.token}/uploads/${id}`)).status).toBe(404);
    expect((await customers.send('POST', `/c/${other.token}/files`, { uploads: [id], name: 'Ines' })).status).toBe(404);
    // Nor can people of the shop go on with it, or the customer with theirs.
    const cookie = await customers.review.signIn('Mila');
    expect((await customers.review.ask('GET', `/api/uploads/${id}`, undefined, { cookie })).status).toBe(404);
    const theirs = await customers.review.ask('POST', '/api/uploads', { name: 'b.svg', sizeBytes: 3 }, { cookie });
    expect((await customers.get(`/c/${token}/uploads/${theirs.body.id}`)).status).toBe(404);
    await customers.review.ask('DELETE', `/api/uploads/${theirs.body.id}`, undefined, { cookie });
    const taken = await customers.send('POST', `/c/${token}/files`, { uploads: [id], name: 'Ines' });
    expect([taken.status, JSON.parse(taken.text)]).toEqual([200, { kind: 'newRevision' }]);
    expect(customers.told.at(-1)).toBe(jobId);
    const revision = await latestOf(jobId);
    expect(revision).toMatchObject({ revision: 2, state: 'waiting', customer: 'Village band' });
    expect(revision.files.map(({ name }) => name)).toEqual(['b_.pdf']);
    expect(revision.ticketFile?.sha256).toBe(ticket.sha256);
    expect((await historyOf(jobId)).at(-1)).toBe('Ines (customer): arrived');
    await customers.check();
    for (const path of ['', `/uploads/${id}`, '/2/b_.pdf', '/2/proof.png', '/2/a.svg', '/1/a.svg', '/files'])
      expect((await customers.get(`/c/${token}${path}`)).text).not.toContain(content);
    const again = await customers.upload(token, 'b_.pdf', content);
    const same = await customers.send('POST', `/c/${token}/files`, { uploads: [again], name: 'Ines' });
    expect(JSON.parse(same.text)).toEqual({ kind: 'alreadyKnown' });
    expect(readdirSync(join(customers.review.folder, 'uploads'))).toEqual([]);
  });

  it('of several takes the place of the one of its name; under other names, of all', async () => {
    const { store } = customers.review;
    const film = async (name: string) => {
      const put = await store.blobs.put(Buffer.from(name));
      return { name, ...put, storedPath: store.blobs.pathOf(put.sha256) };
    };
    const jobId = await customers.checkedJob('set', {
      files: [await film('films/coral.tif'), await film('films/night.tif')],
    });
    const { token } = await customers.newLink(jobId);
    const sendAs = async (name: string) => {
      const uploads = [await customers.upload(token, name, `new ${name}`)];
      await customers.send('POST', `/c/${token}/files`, { uploads, name: 'Ines' });
      return (await latestOf(jobId)).files.map((file) => file.name);
    };
    const night = (await latestOf(jobId)).files[1].sha256;
    expect(await sendAs('Coral.tif')).toEqual(['films/coral.tif', 'films/night.tif']);
    expect((await latestOf(jobId)).files[1].sha256).toBe(night);
    expect(await sendAs('all.pdf')).toEqual(['all.pdf']);
  });

  it('is refused when it is no film, too large, or one of too many', async () => {
    const jobId = await customers.checkedJob('flag');
    const { token } = await customers.newLink(jobId);
    const begin = async (name: string, sizeBytes: number) => {
      const { status, text } = await customers.send('POST', `/c/${token}/uploads`, { name, sizeBytes });
      return [status, JSON.parse(text).error?.code ?? 'taken'];
    };
    for (const name of ['ticket.yaml', 'run.exe', 'page.html', 'art', '.pdf', 'a.svg.js'])
      expect([name, ...(await begin(name, 10))]).toEqual([name, 400, 'no-art']);
    expect(await begin('a.pdf', 1_000_000_001)).toEqual([413, 'too-large']);
    const statuses: number[] = [];
    for (let turn = 0; turn < 21; turn++) statuses.push((await begin(`${turn}.pdf`, 1))[0] as number);
    expect(statuses.slice(0, 20).every((status) => status === 201)).toBe(true);
    expect(statuses[20]).toBe(429);
    expect(
      (await customers.send('POST', `/c/${token}/files`, { uploads: ['0'.repeat(32)], name: 'Ines' })).status,
    ).toBe(404);
    expect((await historyOf(jobId)).filter((line) => line.endsWith('arrived')).length).toBe(1);
  });
});

describe('the words of the customer’s page', () => {
  it('take the same values in every language', () => {
    const valuesOf = (message: string) => [...message.matchAll(/\{(\w+)/g)].map(([, name]) => name).sort();
    for (const catalogue of Object.values(customerCatalogues))
      for (const [key, message] of Object.entries(catalogue))
        expect([key, valuesOf(message)]).toEqual([key, valuesOf(customerCatalogues.en[key as keyof typeof catalogue])]);
  });
});
