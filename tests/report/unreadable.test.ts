import { execFileSync } from 'node:child_process';
import { describe, expect, it } from 'vitest';
import { UnreadableFilmError } from '../../src/artwork/unreadableFilmError.ts';
import { buildUnreadableReport } from '../../src/report/buildUnreadableReport.ts';
import { paintReport } from '../../src/report/paintedReport.ts';
import { renderHtml } from '../../src/report/renderHtml.ts';
import { renderPdf } from '../../src/report/renderPdf.ts';
import { resolveTicket } from '../../src/ticket/resolveTicket.ts';
import { tagsOf, textOf } from '../support/htmlTags.ts';
import { hasOracle } from '../support/oraclePrograms.ts';

const error = new UnreadableFilmError(
  'truncated-file',
  'horns <night>.tif',
  'The file ends in the middle.',
  'Send it again.',
);
const report = buildUnreadableReport({ version: '0.1.0', jobName: 'Brass band', ticket: resolveTicket({}), error });
const inspection = { report, pictures: { plates: new Map(), crops: [] } };
const wanted = [
  'Not checked',
  'Brass band',
  'What could not be opened',
  'horns <night>.tif',
  error.message,
  'Send it again.',
];
const unwanted = ['Measured and fine', 'For the press', '0 films', 'Everything this version knows'];

describe('the report of a job with a film that cannot be opened', () => {
  it('says so in the page, with what to do', async () => {
    const page = renderHtml(await paintReport(inspection));
    const text = textOf(page).replaceAll('\u00a0', ' ');
    for (const words of wanted) expect(text).toContain(words);
    for (const words of unwanted) expect(text).not.toContain(words);
    const tags = tagsOf(page);
    const ids = tags.map((tag) => tag.attributes.id);
    for (const { name, attributes } of tags) if (name === 'a') expect(ids).toContain(attributes.href.slice(1));
  });

  it('says so in the PDF, with what to do', async () => {
    const pdf = await renderPdf(await paintReport(inspection));
    if (!hasOracle('pdftotext')) return;
    const text = execFileSync('pdftotext', ['-layout', '-', '-'], { input: pdf, encoding: 'utf8' });
    for (const words of wanted) expect(text).toContain(words);
    for (const words of unwanted) expect(text).not.toContain(words);
  });
});
