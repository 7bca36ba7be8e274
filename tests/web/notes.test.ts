import { mkdirSync, readdirSync, readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import PostalMime from 'postal-mime';
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { noteDesk } from '../../cli/noteDesk.ts';
import { makePaper } from '../../cli/paperTask.ts';
import { startPosting } from '../../cli/postLoop.ts';
import { openLinkBy } from '../../src/jobs/customerToken.ts';
import type { MailFacts, NoteFacts } from '../../web/shared/notes.ts';
import { approvableReport, checkOf, findingOf } from '../support/noteReports.ts';
import { bringChecked } from './support/checkedPlates.ts';
import { type TestReview, testReview } from './support/testReview.ts';

const thin = checkOf('thin-line', 'fail', [findingOf('x', { code: 'breaks-up' })]);
const gap = checkOf('thin-gap', 'fail', [findingOf('x', { code: 'fills-in', inkNames: ['Night'] })]);
const report = approvableReport([thin, gap]);

let review: TestReview;
let shopFile: string;
let nudges: number;
let customerPage: string | null;
beforeEach(async () => {
  nudges = 0;
  customerPage = null;
  review = await testReview(null, {
    notes: noteDesk(() => shopFile, makePaper),
    customerPage: async () => ({ address: customerPage, validDays: 3 }),
    nudgePost: () => {
      nudges += 1;
    },
  });
  shopFile = join(review.folder, 'note-shop.yaml');
  shop({ answerDays: 3, mail: { from: 'films@shop.example', testFolder: 'mails' } });
  await bringChecked(review, { inks: [], sidePx: 8, pitchMm: 1, report });
});
afterEach(() => review.close());

function shop(note: object): void {
  mkdirSync(review.folder, { recursive: true });
  writeFileSync(shopFile, JSON.stringify({ note: { shop: 'Our screen room', ...note } }));
}
const at = '/api/jobs/1/1';
const noteOf = async (query = ''): Promise<NoteFacts> => (await review.ask('GET', `${at}/note?${query}`)).body;
const decide = (kind: string, checkId: string, code: string, ink: string) =>
  review.ask('POST', `${at}/decisions`, {
    ...{ kind, by: 'Mila', reason: 'held on the last run' },
    finding: { checkId, code, inkNames: [ink] },
  });
const send = (more: object = {}) =>
  review.ask('POST', `${at}/note`, { to: 'band@village.example', by: 'Mila', ...more });

describe('the note in the page', () => {
  it('is the real note, in the language and units asked for, with words of one’s own as they are typed', async () => {
    const own = new URLSearchParams({
      ...{ language: 'de', units: 'inch', customer: 'Musikkapelle', answerBy: '2031-05-01' },
      ...{ greeting: 'Liebe {count} Leute,', extra: 'Der Probelauf ist am {Montag}.' },
    });
    const { note, text, usual } = await noteOf(`${own}`);
    expect(note.subject).toBe('Ihre Vorlage Midsummer tee: 2 Fragen');
    expect(note.greeting).toBe('Liebe {count} Leute,');
    expect(text).toContain('Der Probelauf ist am {Montag}.');
    expect(text).toContain('1. Mai 2031');
    expect(text).toMatch(/0,9\s+pt/);
    expect(usual).toMatchObject({ language: 'en', units: 'mm', customer: '' });
    expect(usual.answerBy).toMatch(/^\d{4}-\d\d-\d\d$/);
  });

  it('asks no more for what was accepted or taken on, and says who settles what', async () => {
    await decide('acceptFinding', 'thin-line', 'breaks-up', 'Coral');
    await decide('doOurselves', 'thin-gap', 'fills-in', 'Night');
    const { note, choices } = await noteOf();
    expect(note.sections).toEqual([]);
    expect(choices.map(({ by, findings }) => [by, findings[0].checkId])).toEqual([
      ['accepted', 'thin-line'],
      ['ourselves', 'thin-gap'],
    ]);
    const list = (await review.ask('GET', `${at}/worklist.txt?language=de`)).text;
    expect(list).toMatch(/^Machen wir selbst\n\n1\. thin-gap, Night/m);
    const marked = (await review.ask('GET', `${at}/worklist.md?language=de`)).text;
    expect(marked).toMatch(/^## Machen wir selbst\n\n1\. thin-gap, Night/m);
    expect(list).not.toContain('thin-line');
  });

  it.each([
    ['txt', 'text/plain'],
    ['md', 'text/markdown'],
    ['html', 'text/html'],
    ['pdf', 'application/pdf'],
    ['eml', 'message/rfc822'],
  ])('is handed out as %s', async (format, type) => {
    const { status, headers, text } = await review.ask(
      'GET',
      `${at}/note.${format}?language=es&to=band@village.example`,
    );
    expect(status).toBe(200);
    expect(headers['content-type']).toContain(type);
    expect(headers['content-disposition']).toBe(`attachment; filename="note.${format}"`);
    expect(text).toMatch(format === 'pdf' ? /^%PDF-/ : format === 'eml' ? /^X-Unsent: 1\r$/m : /su diseño/i);
    if (format === 'html') expect(headers['content-security-policy']).toMatch(/^default-src 'none'/);
  });

  it('is a draft without addresses where none is known', async () => {
    shop({});
    const { text } = await review.ask('GET', `${at}/note.eml`);
    expect(text).not.toMatch(/^(From|To):/m);
    expect((await PostalMime.parse(text)).subject).toBe('Your artwork Midsummer tee: 2 questions');
  });

  it('tells what became of the revision before, unless it is not to', async () => {
    await bringChecked(review, {
      inks: [],
      sidePx: 8,
      pitchMm: 1,
      report: approvableReport([thin, checkOf('thin-gap', 'pass', [])]),
    });
    const facts: NoteFacts = (await review.ask('GET', '/api/jobs/1/2/note')).body;
    expect(facts.hasBefore).toBe(true);
    expect(facts.note.settled!.lines).toEqual([expect.stringMatching(/Night/)]);
    expect(facts.note.sections[0].items).toMatchObject([{ number: 1, since: expect.stringMatching(/.{5}/) }]);
    const first: NoteFacts = (await review.ask('GET', '/api/jobs/1/2/note?since=none')).body;
    expect(first.note.settled).toBeNull();
    expect(first.note.sections[0].items).toMatchObject([{ since: '' }]);
    expect((await noteOf()).hasBefore).toBe(false);
    expect((await review.ask('GET', '/api/jobs/1/2/note.txt')).text).toContain(
      facts.note.settled!.lines[0].slice(0, 20),
    );
  });

  it('refuses what it cannot use, in words', async () => {
    expect((await review.ask('GET', `${at}/note?language=xx`)).status).toBe(422);
    expect((await review.ask('GET', `${at}/note?answerBy=soon`)).status).toBe(400);
    expect((await review.ask('GET', `${at}/note?extra=${'x'.repeat(700)}`)).status).toBe(400);
    for (const to of ['a@x.example, b@y.example', 'a@x.example\r\nBcc: b@y.example', 'nobody']) {
      const { status, body } = await send({ to });
      expect([status, body.error.code]).toEqual([422, 'wrong-note']);
    }
    shop({});
    expect((await noteOf()).mail.state).toBe('notSet');
    expect((await send()).status).toBe(422);
    expect(await review.store.jobs.effectsOf(1, 'mail')).toEqual([]);
  });
});

describe('a note that is sent from the page', () => {
  const said: string[] = [];
  const say = { job: (line: string) => said.push(line), trouble: (line: string) => said.push(line) };

  it('waits in the store once, is sent once, and stands in the history with its id and a copy', async () => {
    const answers = await Promise.all([send(), send(), send()]);
    expect(answers.map(({ status }) => status).sort()).toEqual([200, 409, 409]);
    expect(nudges).toBe(1);
    const posting = startPosting(review.store.jobs, () => shopFile, say);
    const mails = async () => (await noteOf()).mails;
    await expect.poll(mails).toMatchObject([{ state: 'sent', to: 'band@village.example' }]);
    await posting.stop();
    const [{ mailId, messageId }] = await mails();
    const { history } = (await review.ask('GET', '/api/jobs/1')).body;
    const told = history.filter(({ what }: { what: string }) => what.startsWith('mail'));
    expect(told).toMatchObject([
      { what: 'mailSent', mail: { to: 'band@village.example', messageId } },
      { what: 'mailQueued', who: 'Mila', mail: { to: 'band@village.example', messageId } },
    ]);
    const [file] = readdirSync(join(review.folder, 'mails'));
    const sent = readFileSync(join(review.folder, 'mails', file), 'latin1');
    const copy = await review.ask('GET', `${at}/mails/${mailId}`);
    expect(copy.headers['content-type']).toBe('message/rfc822');
    expect(copy.text).toBe(sent);
    expect(sent).toContain(`Message-ID: ${messageId}`);
  });

  it('holds a link where customers have a page, which the copy that is kept does not', async () => {
    customerPage = 'https://films.example';
    const [queued] = (await send({ language: 'de' })).body as MailFacts[];
    const { effectId, payload } = (await review.store.jobs.effectsOf(1, 'mail'))[0];
    expect(effectId).toBe(queued.mailId);
    const { mailBase64, copyBase64 } = payload as { mailBase64: string; copyBase64: string };
    const [mail, copy] = await Promise.all(
      [mailBase64, copyBase64].map((one) => PostalMime.parse(Buffer.from(one, 'base64'))),
    );
    const [, token] = /https:\/\/films\.example\/c\/([0-9a-f]{40})/.exec(mail.text!)!;
    expect(mail.html).toContain(token);
    expect(`${copy.text}${copy.html}`).not.toContain('films.example');
    expect((await openLinkBy(review.store.jobs, token))!).toMatchObject({ jobId: 1, madeBy: 'Mila', language: 'de' });
    // The same note with another link is the same note: the link that nobody gets is closed.
    expect((await send({ language: 'de' })).status).toBe(409);
    expect((await review.store.jobs.customerLinks(1)).map(({ isOpen }) => isOpen)).toEqual([false, true]);
  });

  it('goes out once more only when that is asked for, and that too only once', async () => {
    await send();
    expect((await send()).body.error.code).toBe('sent-before');
    const again = await Promise.all([send({ again: 1 }), send({ again: 1 })]);
    expect(again.map(({ status }) => status).sort()).toEqual([200, 409]);
    const { mails } = await noteOf();
    expect(new Set(mails.map(({ messageId }: MailFacts) => messageId)).size).toBe(2);
  });

  it('is sent by no one where the shop has no server, and is kept', async () => {
    await send();
    shop({});
    const posting = startPosting(review.store.jobs, () => shopFile, say);
    await new Promise((resolve) => setTimeout(resolve, 300));
    await posting.stop();
    expect((await noteOf()).mails).toMatchObject([{ state: 'waiting', reason: null }]);
  });
});
