import { inkHex, platesInPrintOrder, safeHex } from '../composite.ts';
import { dataUri } from '../dataUri.ts';
import { type Digest, jobSizeMm, meshOf } from '../digest.ts';
import { fixed, meshWords, sizeWords, thinSpace } from '../format.ts';
import { factsOf, summaryOf } from '../frontFacts.ts';
import { hasMeetings } from '../meetings.ts';
import type { PaintedReport } from '../paintedReport.ts';
import { hasRegister } from '../registerFacts.ts';
import type { ReportJson } from '../reportJson.ts';
import { verdictSignSvg } from '../verdictSign.ts';
import { verdictWords } from '../words.ts';
import { html, type Markup, named, raw } from './markup.ts';
import { swatch, unbroken } from './parts.ts';

/** The head of the report: verdict, sums, the composite on the shirt, job facts, the films as slips. */
export function frontOf(painted: PaintedReport, digest: Digest, date: string | null): Markup {
  const { report, composite } = painted;
  const size = jobSizeMm(report);
  const shirt = composite
    ? html`<figure><div class="shirt" style="${`background:${safeHex(report.ticket.garmentHex)}`}"><img src="${dataUri(composite)}"
width="${composite.pixels.widthPx}" height="${composite.pixels.heightPx}" alt="All inks on the shirt colour, in the order of the plan"></div>
<figcaption>On the shirt${size ? html`, ${unbroken(sizeWords(size.widthMm, size.heightMm))}` : null}</figcaption></figure>`
    : html`<p class="quiet">There is nothing to show: no film was drawn.</p>`;
  return html`<header>
<div class="verdict">${raw(verdictSignSvg(report.verdict))}<h1>${verdictWords[report.verdict]}</h1></div>
<p class="job">${named(report.job.name)}</p>
<nav class="sums" aria-label="Parts of this report">${partLinks(report, digest)}</nav>
</header>
<div class="front">${shirt}<div>${factList(report, date)}${summaryList(report, digest)}</div></div>
${slipsOf(painted)}`;
}

const parts = [
  ['fine', 'measured and fine'],
  ['register', 'register'],
  ['meetings', 'where inks meet'],
  ['not-checked', 'not checked'],
  ['press', 'for the press'],
  ['provenance', 'provenance'],
] as const;
const needsFilms: ReadonlySet<string> = new Set(['fine', 'press']);

function partLinks(report: ReportJson, digest: Digest): Markup {
  const found = [
    ...(report.error ? [['error', 'what could not be opened'] as const] : []),
    ...(digest.stopsTotal > 0 ? [['stops', 'what stops filming'] as const] : []),
    ...(digest.lookFirstTotal > 0 ? [['look-first', 'look first'] as const] : []),
    ...parts.filter(([id]) => isThere(report, id)),
  ];
  return html`${found.map(([id, words], index) => html`${index === 0 ? '' : ' · '}<a href="#${id}">${words}</a>`)}`;
}

function isThere(report: ReportJson, part: string): boolean {
  if (part === 'register') return hasRegister(report);
  if (part === 'meetings') return hasMeetings(report);
  return !report.error || !needsFilms.has(part);
}

function factList(report: ReportJson, date: string | null): Markup {
  const facts = factsOf(report, date).map(
    ({ term, value, swatchHex }) =>
      html`<dt>${term}</dt><dd>${swatchHex ? html`${swatch(swatchHex)} ` : null}${named(value)}</dd>`,
  );
  return html`<dl class="facts">${facts}</dl>`;
}

function summaryList(report: ReportJson, digest: Digest): Markup {
  return html`<div class="summary">${summaryOf(report, digest).map(
    ({ heading, goTo, lines, more }) => html`<p><a href="#${goTo}">${heading}</a></p>
${
  lines.length === 0
    ? null
    : html`<ul>${lines.map((item) => html`<li><a href="#${item.goTo ?? goTo}">${item.title}</a> <span class="quiet">${named(item.inks)}${item.inks !== '' && item.reading !== '' ? ', ' : ''}${unbroken(item.reading)}</span></li>`)}${
        more === '' ? null : html`<li class="quiet">${more}</li>`
      }</ul>`
}`,
  )}</div>`;
}

function slipsOf({ report, slips }: PaintedReport): Markup {
  const plates = platesInPrintOrder(report);
  const films = plates.map((plate) => {
    const ink = report.inks.find((candidate) => candidate.id === plate.inkId);
    const name = ink?.name ?? plate.id;
    const slip = slips.get(plate.id);
    const mesh = meshOf(report, name);
    return html`<li class="slip"><div class="film">${
      slip
        ? html`<img src="${dataUri(slip)}" width="${slip.pixels.widthPx}" height="${slip.pixels.heightPx}" alt="${`Film of ${name}`}">`
        : null
    }</div><p class="name">${swatch(inkHex(report, plate.inkId))}${named(name)}</p>
<p>${mesh ? meshWords(mesh) : 'no mesh known'}</p>
<p>covers ${unbroken(`${fixed(plate.coveragePercent, 1)}${thinSpace}%`)}${plate.verified ? null : ', not verified'}</p></li>`;
  });
  return films.length === 0 ? html`` : html`<ul class="slips" aria-label="The films in print order">${films}</ul>`;
}
