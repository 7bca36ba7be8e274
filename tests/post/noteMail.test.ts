import { spawnSync } from 'node:child_process';
import PostalMime from 'postal-mime';
import sharp from 'sharp';
import { describe, expect, it } from 'vitest';
import { customerNote } from '../../src/fixNotes/customerNote.ts';
import { notePictures } from '../../src/fixNotes/notePicture.ts';
import { noteText } from '../../src/fixNotes/noteText.ts';
import { renderNotePdf } from '../../src/fixNotes/renderNotePdf.ts';
import { noteLanguages } from '../../src/fixNotes/words/wordsIn.ts';
import { composeMail } from '../../src/post/composeMail.ts';
import { MailRefused, mailAddress } from '../../src/post/mailAddress.ts';
import { noteMail } from '../../src/post/noteMail.ts';
import { checkOf, findingOf, reportOf } from '../support/noteReports.ts';
import { hasOracle } from '../support/oraclePrograms.ts';
import { readByPdfium } from '../support/readByPdfium.ts';

const thin = checkOf('thin-line', 'fail', [findingOf('x', { code: 'breaks-up', worse: 'less' })]);
const composite = await sharp({ create: { width: 600, height: 704, channels: 3, background: '#1b2a41' } })
  .png()
  .toBuffer();

async function made(language: (typeof noteLanguages)[number], jobName: string, customer = 'Müllerová & Søn') {
  const report = reportOf('fail', [thin], { job: { name: jobName, ticketFile: null } });
  const note = customerNote(report, {
    ...{ language, units: 'mm', customer, shop: 'Werkstatt', answerBy: null, phrases: {}, weFix: [] },
  });
  const pictures = await notePictures(report, note, composite);
  return { note, pictures, pdf: await renderNotePdf(report, note, pictures, composite) };
}

const addresses = {
  from: mailAddress('Die Wärkstatt <films@shop.example>', 'from'),
  replyTo: null,
  to: mailAddress('choir@village.example', 'to'),
  sent: 'draft',
} as const;

/** As Python's own parser reads it, which shares nothing with what wrote it. */
function readByPython(mail: Buffer) {
  const script = `
import sys, json, email, email.policy
m = email.message_from_bytes(sys.stdin.buffer.read(), policy=email.policy.default)
parts = [{'type': p.get_content_type(), 'id': p['Content-ID'], 'disposition': p.get_content_disposition(), 'name': p.get_filename(),
  'bytes': len(p.get_payload(decode=True)), 'text': p.get_content() if p.get_content_maintype() == 'text' else ''}
  for p in m.walk() if not p.is_multipart()]
print(json.dumps({'headers': [k.lower() for k in m.keys()], 'subject': m['Subject'], 'from': str(m['From']), 'to': [a.addr_spec for a in m['To'].addresses],
  'tree': [p.get_content_type() for p in m.walk()], 'parts': parts, 'defects': [str(d) for p in m.walk() for d in p.defects]}))`;
  const { stdout, stderr } = spawnSync('python3', ['-c', script], { input: mail, maxBuffer: 1 << 26 });
  if (stdout.length === 0) throw new Error(String(stderr));
  return JSON.parse(String(stdout)) as {
    headers: string[];
    subject: string;
    from: string;
    to: string[];
    tree: string[];
    defects: string[];
    parts: {
      type: string;
      id: string | null;
      disposition: string | null;
      name: string | null;
      bytes: number;
      text: string;
    }[];
  };
}

const hasPython = hasOracle('python3');

describe.skipIf(!hasPython).each(noteLanguages)('a note as a mail in %s', (language) => {
  it('is read back by two other parsers: both texts, pictures by their ids, and the PDF', async () => {
    const { note, pictures, pdf } = await made(language, 'Sommerfest “Grün” ñ');
    const mail = await noteMail({ note, pictures, pdf, ...addresses });
    expect(
      Math.max(
        ...mail
          .toString('latin1')
          .split('\r\n')
          .map((line) => line.length),
      ),
    ).toBeLessThanOrEqual(998);
    expect(/[\r\n]/.test(mail.toString('latin1').replace(/\r\n/g, ''))).toBe(false);
    const read = readByPython(mail);
    expect(read.defects).toEqual([]);
    expect(read.tree.slice(0, 5)).toEqual([
      'multipart/mixed',
      'multipart/alternative',
      'text/plain',
      'multipart/related',
      'text/html',
    ]);
    expect(read.subject).toBe(note.subject);
    expect(read.from).toBe('Die Wärkstatt <films@shop.example>');
    expect(read.to).toEqual(['choir@village.example']);
    expect(read.headers).toContain('x-unsent');
    expect(read.headers).not.toContain('date');
    expect(read.headers).not.toContain('message-id');
    const [plain, html, picture, attached] = read.parts;
    expect(plain.text.replace(/\r\n/g, '\n').trim()).toBe(noteText(note).trim());
    expect(html.text).toContain(`cid:${picture.id!.slice(1, -1)}`);
    expect([picture.type, picture.disposition]).toEqual(['image/png', 'inline']);
    expect([attached.type, attached.name, attached.disposition, attached.bytes]).toEqual([
      'application/pdf',
      'note.pdf',
      'attachment',
      pdf.length,
    ]);
    const again = await PostalMime.parse(mail);
    expect(again.text?.replace(/\r\n/g, '\n').trim()).toBe(noteText(note).trim());
    expect(again.attachments.map(({ mimeType }) => mimeType)).toEqual(['image/png', 'application/pdf']);
  });
});

describe.skipIf(!hasPython)('every variant of a mail', () => {
  const longName = `${'Dörflinger-Blaskapelle-'.repeat(12)}夏祭り🎉`;

  it('shows each of its pictures by its Content-ID, with names and subjects of any length and script', async () => {
    const { note, pictures, pdf } = await made('de', longName, longName);
    const to = mailAddress(`${'Bläserkreis '.repeat(15).trim()} <choir@village.example>`, 'to');
    const whole = await noteMail({ note, pictures, pdf, ...addresses, to });
    for (const most of [whole.length, whole.length - 1]) {
      const mail = await noteMail({ note, pictures, pdf, ...addresses, to }, most);
      const read = readByPython(mail);
      expect(read.defects).toEqual([]);
      expect(read.subject).toBe(note.subject);
      expect(read.to).toEqual(['choir@village.example']);
      const [head] = mail.toString('latin1').split('\r\n\r\n');
      for (const line of head.split('\r\n')) expect(line.length).toBeLessThanOrEqual(998);
      // RFC 2047, 2: an encoded word is no longer than 75 characters. RFC 5322, 2.2: a head is ASCII.
      for (const [word] of head.matchAll(/=\?[^?]+\?[BQ]\?[^?]*\?=/g)) expect(word.length).toBeLessThanOrEqual(75);
      expect(/^[\x20-\x7e\r\n\t]*$/.test(head)).toBe(true);
      const { attachments, html } = await PostalMime.parse(mail);
      const shown = [...html!.matchAll(/src="cid:([^"]+)"/g)].map(([, id]) => `<${id}>`);
      const images = attachments.filter(({ mimeType }) => mimeType === 'image/png');
      expect(shown).toEqual(images.map(({ contentId }) => contentId));
      expect(new Set(shown).size).toBe(pictures.size);
      for (const { content } of images)
        expect((await sharp(Buffer.from(content as ArrayBuffer)).metadata()).format).toBe('png');
    }
  });
});

describe('what comes from art and ticket', () => {
  const attack = 'Tee\r\nBcc: other@evil.example\r\n\r\n<script>x</script>\u2028X: y';

  it.skipIf(!hasPython)('adds no header, no recipient and no markup', async () => {
    const { note, pictures, pdf } = await made('en', attack, attack);
    const mail = await noteMail({ note, pictures, pdf, ...addresses });
    const read = readByPython(mail);
    expect(read.headers.sort()).toEqual(['content-type', 'from', 'mime-version', 'subject', 'to', 'x-unsent']);
    expect(read.to).toEqual(['choir@village.example']);
    expect(read.parts[1].text).not.toContain('<script>');
  });

  const given = {
    ...addresses,
    subject: 'x',
    text: 'x',
    html: 'x',
    pictures: [],
    attachment: null,
  };
  it.each([
    ['subject', { subject: attack }],
    ['subject', { subject: 'x'.repeat(2_000) }],
    ['message id', { sent: { date: new Date(0), messageId: '<a@b>\r\nX: y' } }],
    ['Content-ID', { pictures: [{ contentId: 'a@b>\r\nX: y', fileName: 'a.png', png: new Uint8Array(1) }] }],
    ['file name', { attachment: { fileName: 'a.pdf\r\nX: y', pdf: new Uint8Array(1) } }],
    ['file name', { pictures: [{ contentId: 'a@b', fileName: '../ä.png', png: new Uint8Array(1) }] }],
  ])('is refused, not mended, in %s', async (what, more) => {
    const refusal = await composeMail({ ...given, ...more }).catch((error: Error) => error);
    expect(refusal).toBeInstanceOf(MailRefused);
    expect((refusal as Error).message).toContain(what);
  });

  it.each([
    'a@x.example, evil@y.example',
    'a@x.example\r\nBcc: e@y',
    'a',
    'a@',
    '@b',
    '"a" b <c@d.example> e',
    'a b@c.example',
    '',
  ])('makes no address of %j', (text) => {
    expect(() => mailAddress(text, 'to')).toThrow(MailRefused);
  });
});

it.skipIf(!hasPython)(
  'leaves out the PDF, then the pictures, when the mail would be too large, and refuses what then is still too large',
  async () => {
    const { note, pictures, pdf } = await made('en', 'Tee');
    const whole = await noteMail({ note, pictures, pdf, ...addresses });
    const kinds = async (most: number) =>
      readByPython(await noteMail({ note, pictures, pdf, ...addresses }, most)).parts.map(({ type }) => type);
    expect(await kinds(whole.length - 1)).toEqual(['text/plain', 'text/html', 'image/png']);
    const [{ png }] = [...pictures.values()];
    expect(await kinds(whole.length - Math.ceil((pdf.length * 4) / 3) - png.length)).toEqual([
      'text/plain',
      'text/html',
    ]);
    await expect(noteMail({ note, pictures, pdf, ...addresses }, 500)).rejects.toThrow(/MB are allowed/);
  },
);

it.skipIf(!hasOracle('pdftotext'))(
  'the PDF says what the text says, by poppler and by PDFium, its type within',
  async () => {
    const { note, pdf } = await made('de', 'Sommerfest');
    const poppler = (program: string, ...options: string[]) =>
      spawnSync(program, [...options, '-'], { input: pdf, encoding: 'utf8' }).stdout;
    const byPoppler = spawnSync('pdftotext', ['-layout', '-', '-'], { input: pdf, encoding: 'utf8' }).stdout;
    const pages = await readByPdfium(pdf);
    const plain = (text: string) => text.replace(/\s+/g, ' ');
    for (const text of [byPoppler, pages.map((page) => page.text).join(' ')])
      for (const said of [note.subject, note.greeting, note.sections[0].items[0].defect, note.closing.at(-1)!])
        expect(plain(text)).toContain(plain(said));
    expect(pages).toHaveLength(Number(/Pages:\s+(\d+)/.exec(poppler('pdfinfo'))?.[1]));
    // Drawn: paper, type, and the dark picture.
    const { pixels } = pages[0];
    const dark = pixels.filter((value, at) => at % 4 === 1 && value < 128).length / (pixels.length / 4);
    expect(dark).toBeGreaterThan(0.01);
    expect(dark).toBeLessThan(0.9);
    const fonts = poppler('pdffonts').trim().split('\n').slice(2);
    expect(fonts.length).toBeGreaterThan(0);
    // Embedded, a subset, with a map to Unicode.
    for (const font of fonts) expect(font).toMatch(/ yes yes yes /);
  },
);
