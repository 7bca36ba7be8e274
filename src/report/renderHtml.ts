import { digestOf, type Group } from './digest.ts';
import type { Entry } from './entry.ts';
import { figuresOf } from './figures.ts';
import { frontOf } from './html/front.ts';
import { html, type Markup, raw } from './html/markup.ts';
import { findingArticle } from './html/parts.ts';
import { reportStyle } from './html/style.ts';
import { errorSection, fineSection, notCheckedSection, pressSection, provenanceSection } from './html/tables.ts';
import type { Inspection } from './inspection.ts';
import { timingWords } from './provenance.ts';
import { verdictWords } from './words.ts';

export interface PaperOptions {
  /** The day of the check as people write it; left out when not given, so that the same report gives the same bytes. */
  readonly date?: string;
}

/**
 * The report as one HTML file: pictures, type and style within, no script, no address outside. Text that came from
 * files is only ever text.
 */
export async function renderHtml(inspection: Inspection, options: PaperOptions = {}): Promise<string> {
  const { report } = inspection;
  const digest = digestOf(report);
  const [front, stops, lookFirst] = await Promise.all([
    frontOf(inspection, digest, options.date ?? null),
    groupsOf(inspection, digest.stops),
    groupsOf(inspection, digest.lookFirst),
  ]);
  const openJoins = digest.openJoins.map((note) => html`<article class="finding"><h4>${note.message}</h4></article>`);
  const title = `${verdictWords[report.verdict]}: ${report.job.name}`;
  const timings = timingWords(report);
  const page = html`<!doctype html>
<html lang="en">
<head>
<meta charset="utf-8">
<meta http-equiv="Content-Security-Policy" content="default-src 'none'; img-src data:; font-src data:; style-src 'unsafe-inline'">
<meta name="viewport" content="width=device-width, initial-scale=1">
<title>${title}</title>
<style>${raw(reportStyle())}</style>
</head>
<body>
${front}
<main>
${stops.length > 0 ? html`<section aria-labelledby="stops"><h2 id="stops">What stops filming</h2>${stops}</section>` : null}
${
  digest.lookFirstTotal > 0
    ? html`<section aria-labelledby="look-first"><h2 id="look-first">Look first</h2>${openJoins}${lookFirst}</section>`
    : null
}
${report.error ? errorSection(report.error) : fineSection(report, digest)}
${notCheckedSection(report, digest)}
${report.error ? null : pressSection(report)}
${provenanceSection(report)}
</main>
<footer>Plateglass ${report.version}${timings === '' ? null : `. Time: ${timings}.`}</footer>
</body>
</html>
`;
  return page.text;
}

async function groupsOf(inspection: Inspection, groups: readonly Group[]): Promise<Markup[]> {
  return Promise.all(
    groups.map(async (group) => {
      const articles = await Promise.all(group.entries.map((entry) => articleOf(inspection, entry)));
      return html`<h3>${group.heading}</h3>${articles}`;
    }),
  );
}

async function articleOf(inspection: Inspection, entry: Entry): Promise<Markup> {
  const [crops, map] = await figuresOf(inspection, entry);
  return findingArticle(inspection.report, entry, crops, map);
}
