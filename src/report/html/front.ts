import { compositeOnShirt, inkHex, platesInPrintOrder, safeHex, slipOfPlate } from '../composite.ts';
import { type Digest, jobSizeMm, meshOf, ticketWords } from '../digest.ts';
import { counted, fixed, meshLongWords, sizeInchWords, sizeWords, thinSpace } from '../format.ts';
import type { Inspection } from '../inspection.ts';
import { verdictSignSvg } from '../verdictSign.ts';
import { verdictWords } from '../words.ts';
import { dataUri, html, type Markup, named, raw } from './markup.ts';
import { swatch, unbroken } from './parts.ts';

/** The head of the report: verdict, sums, the composite on the shirt, job facts, the films as slips. */
export async function frontOf(inspection: Inspection, digest: Digest, date: string | null): Promise<Markup> {
  const { report, pictures } = inspection;
  const composite = await compositeOnShirt(report, pictures.plates);
  const size = jobSizeMm(report);
  const shirt = composite
    ? html`<figure><div class="shirt" style="${`background:${safeHex(report.ticket.garmentHex)}`}"><img src="${dataUri(composite.png)}"
width="${composite.widthPx}" height="${composite.heightPx}" alt="All inks on the shirt colour, in the order of the plan"></div>
<figcaption>On the shirt${size ? html`, ${unbroken(sizeWords(size.widthMm, size.heightMm))}` : null}</figcaption></figure>`
    : html`<p class="quiet">There is nothing to show: no film was drawn.</p>`;
  return html`<header>
<div class="verdict">${raw(verdictSignSvg(report.verdict))}<h1>${verdictWords[report.verdict]}</h1></div>
<p class="job">${named(report.job.name)}</p>
<nav class="sums" aria-label="Parts of this report">${sums(digest)}</nav>
</header>
<div class="front">${shirt}${factsOf(inspection, date)}</div>
${await slipsOf(inspection)}`;
}

function sums(digest: Digest): Markup {
  const parts = [
    digest.stopsTotal > 0
      ? html`<a href="#stops">${digest.stopsTotal} ${digest.stopsTotal === 1 ? 'stops' : 'stop'} filming</a>`
      : null,
    digest.lookFirstTotal > 0 ? html`<a href="#look-first">${digest.lookFirstTotal} to look at first</a>` : null,
    html`<a href="#fine">${counted(digest.fine.length, 'check')} fine</a>`,
    html`<a href="#not-checked">not checked, and why</a>`,
    html`<a href="#press">for the press</a>`,
    html`<a href="#provenance">provenance</a>`,
  ].filter((part) => part !== null);
  return html`${parts.map((part, index) => html`${index === 0 ? '' : ' · '}${part}`)}`;
}

function factsOf({ report }: Inspection, date: string | null): Markup {
  const { ticket } = report;
  const size = jobSizeMm(report);
  const facts: (readonly [string, Markup | string])[] = [];
  if (size) {
    const inches = html`<span class="q quiet">${sizeInchWords(size.widthMm, size.heightMm)}</span>`;
    facts.push(['Size', html`${unbroken(sizeWords(size.widthMm, size.heightMm))} ${inches}`]);
  }
  facts.push([
    'Films',
    `${counted(report.plates.length, 'film')} from ${counted(new Set(report.films.map((film) => film.file)).size, 'file')}`,
  ]);
  facts.push([
    'Shirt',
    html`${swatch(ticket.garmentHex)} ${ticket.fabric}${ticket.print.location === null ? null : `, ${ticket.print.location}`}`,
  ]);
  if (ticket.print.quantity !== null) facts.push(['Quantity', String(ticket.print.quantity)]);
  facts.push([
    'Press',
    `${counted(ticket.press.heads, 'head')}, holds register to ${ticket.press.registrationMm}${thinSpace}mm`,
  ]);
  facts.push(['Limits from', html`${named(ticketWords(report))}`]);
  if (date !== null) facts.push(['Date', date]);
  return html`<dl class="facts">${facts.map(([term, value]) => html`<dt>${term}</dt><dd>${value}</dd>`)}</dl>`;
}

async function slipsOf({ report, pictures }: Inspection): Promise<Markup> {
  const plates = platesInPrintOrder(report);
  const slips = await Promise.all(
    plates.map(async (plate) => {
      const ink = report.inks.find((candidate) => candidate.id === plate.inkId);
      const name = ink?.name ?? plate.id;
      const image = pictures.plates.get(plate.id);
      const slip = image ? await slipOfPlate(image) : null;
      const mesh = meshOf(report, name);
      return html`<li class="slip"><div class="film">${
        slip
          ? html`<img src="${dataUri(slip.png)}" width="${slip.widthPx}" height="${slip.heightPx}" alt="${`Film of ${name}`}">`
          : null
      }</div><p class="name" style="color:inherit;font-size:inherit">${swatch(inkHex(report, plate.inkId))}${named(name)}</p>
<p>${mesh ? meshLongWords(mesh) : 'no mesh known'}</p>
<p>covers ${unbroken(`${fixed(plate.coveragePercent, 1)}${thinSpace}%`)}${plate.verified ? null : ', not verified'}</p></li>`;
    }),
  );
  return slips.length === 0 ? html`` : html`<ul class="slips" aria-label="The films in print order">${slips}</ul>`;
}
