import { digestOf, type Group } from './digest.ts';
import type { Entry } from './entry.ts';
import { decisionsSection } from './html/decisions.ts';
import { frontOf } from './html/front.ts';
import { halftonesSection } from './html/halftones.ts';
import { html, type Markup, raw } from './html/markup.ts';
import { meetingsSection } from './html/meetings.ts';
import { findingArticle } from './html/parts.ts';
import { registerSection } from './html/register.ts';
import { reportStyle } from './html/style.ts';
import { errorSection, fineSection, notCheckedSection, pressSection, provenanceSection } from './html/tables.ts';
import type { PaintedReport } from './paintedReport.ts';
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
export function renderHtml(painted: PaintedReport, options: PaperOptions = {}): string {
  const { report } = painted;
  const digest = digestOf(report);
  const front = frontOf(painted, digest, options.date ?? null);
  const stops = groupsOf(painted, digest.stops);
  const lookFirst = groupsOf(painted, digest.lookFirst);
  const openJoins = digest.openJoins.map((note) => html`<article class="finding"><h3>${note.message}</h3></article>`);
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
${decisionsSection(report)}
${stops.length > 0 ? html`<section aria-labelledby="stops"><h2 id="stops">What stops filming</h2>${stops}</section>` : null}
${
  digest.lookFirstTotal > 0
    ? html`<section aria-labelledby="look-first"><h2 id="look-first">Look first</h2>${openJoins}${lookFirst}</section>`
    : null
}
${report.error ? errorSection(report.error) : fineSection(report, digest)}
${halftonesSection(painted)}
${registerSection(painted)}
${meetingsSection(report, digest)}
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

function groupsOf(painted: PaintedReport, groups: readonly Group[]): Markup[] {
  return groups.map(
    (group) => html`<h3>${group.heading}</h3>${group.entries.map((entry) => articleOf(painted, entry))}`,
  );
}

function articleOf({ report, figures }: PaintedReport, entry: Entry): Markup {
  const { crops, map } = figures.get(entry.anchor)!;
  return findingArticle(report, entry, crops, map);
}
