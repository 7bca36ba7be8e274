import { safeHex } from '../composite.ts';
import { type CropPicture, captionOf } from '../cropPicture.ts';
import { dataUri } from '../dataUri.ts';
import type { Entry } from '../entry.ts';
import { unitsKept } from '../format.ts';
import { inkValuesOf, originOfLimit, readingAgainstLimit } from '../frontFacts.ts';
import { isEveryInk, membersInWords } from '../inkWords.ts';
import { measureStripSvg, stripReadingOf } from '../measureStrip.ts';
import type { PlacesMap } from '../placesMap.ts';
import type { ReportJson } from '../reportJson.ts';
import { escapeMarkup, round, shapesToSvg } from '../shapes.ts';
import { shownText } from '../words.ts';
import { html, type Markup, named, raw } from './markup.ts';

/** A number with its unit that does not break over two lines. */
export function unbroken(text: string): Markup {
  return html`<span class="q">${text}</span>`;
}

/** An ink's name with its swatch before it. */
export function inkMark(report: ReportJson, name: string): Markup {
  const ink = report.inks.find((candidate) => candidate.name === name);
  return html`<span class="ink">${ink ? swatch(ink.displayHex) : null}${named(name)}</span>`;
}

/** Several inks, named one after the other; all of many are "every ink". */
export function inkMarks(report: ReportJson, names: readonly string[]): Markup {
  if (isEveryInk(report, names)) return html`every ink`;
  return html`${names.map((name, index) => html`${index === 0 ? '' : ' / '}${inkMark(report, name)}`)}`;
}

export function swatch(hex: string): Markup {
  return raw(`<span class="swatch" style="background:${safeHex(hex)}"></span>`);
}

/** One finding: what is wrong, the strip, the places, what to do. */
export function findingArticle(
  report: ReportJson,
  entry: Entry,
  crops: readonly CropPicture[],
  map: PlacesMap | null,
): Markup {
  const { check, finding, anchor } = entry;
  const title = html`<h4 id="${anchor}-title">${entry.title}</h4>`;
  if (finding === null) {
    return html`<article class="finding" id="${anchor}" aria-labelledby="${anchor}-title">${title}<p>${check.why}</p></article>`;
  }
  const details =
    finding.details.length > 0 ? html`<p class="quiet">${unitsKept(finding.details.join(' · '))}</p>` : null;
  const { customer, printer } = finding.advice;
  return html`
<article class="finding" id="${anchor}" aria-labelledby="${anchor}-title">
<div class="claim"><div>${title}${inkLine(report, entry)}${readingLine(report, entry)}${details}</div>${stripOf(entry)}</div>
${crops.length + (map ? 1 : 0) > 0 ? html`<div class="shown">${crops.map(cropFigure)}${map ? mapFigure(map, crops.length === 0) : null}</div>` : null}
<dl class="advice"><div><dt>For the printer</dt><dd>${unitsKept(printer)}</dd></div>
<div><dt>For the customer</dt><dd>${unitsKept(customer)}</dd></div></dl>
</article>`;
}

/** The inks of a finding; of a folded one each ink with its value. */
function inkLine(report: ReportJson, entry: Entry): Markup | null {
  const { finding, members } = entry;
  if (!finding || finding.inkNames.length === 0) return null;
  const values = inkValuesOf(entry);
  if (values.length === 0) return html`<p>${inkMarks(report, finding.inkNames)}</p>`;
  const items = values.map(
    ({ names, value }) =>
      html`<li>${names.map((name, index) => html`${index === 0 ? '' : ' / '}${inkMark(report, name)}`)}${value === '' ? null : html` ${unbroken(value)}`}</li>`,
  );
  return html`<ul class="inks" aria-label="${membersInWords(members)}, worst first">${items}</ul>`;
}

/** The reading against its limit in words, and where the limit comes from. */
function readingLine(report: ReportJson, entry: Entry): Markup | null {
  const words = readingAgainstLimit(entry);
  if (words === '') {
    const { check, fold } = entry;
    return check.why === null || fold === 'waiting' ? null : html`<p>${check.why}</p>`;
  }
  const origin = originOfLimit(report, entry);
  return html`<p>${unbroken(words)}${origin === '' ? null : html` <span class="quiet">(${unitsKept(origin)})</span>`}</p>`;
}

function stripOf(entry: Entry): Markup | null {
  const reading = stripReadingOf(entry);
  return reading === null ? null : raw(measureStripSvg(reading));
}

/** An enlarged place with what is drawn over it. */
export function cropFigure(crop: CropPicture): Markup {
  const { width, height } = crop;
  const image =
    `<image class="art" href="${dataUri(crop.picture)}" x="${round(crop.imageX)}" y="${round(crop.imageY)}" ` +
    `width="${round(crop.imageWidth)}" height="${round(crop.imageHeight)}" preserveAspectRatio="none"/>`;
  const svg =
    `<svg viewBox="0 0 ${round(width)} ${round(height)}" width="${round(width)}" height="${round(height)}" role="img" ` +
    `aria-label="${escapeMarkup(shownText(crop.label))}">` +
    `${image}${shapesToSvg(crop.overlay)}</svg>`;
  return html`<figure>${raw(svg)}<figcaption>${captionOf(crop)}</figcaption></figure>`;
}

function mapFigure(map: PlacesMap, isAlone: boolean): Markup {
  const { width, height, picture } = map;
  const image = picture
    ? `<image href="${dataUri(picture)}" x="0" y="0" width="${round(width)}" height="${round(height)}" preserveAspectRatio="none"/>`
    : '';
  const svg =
    `<svg viewBox="0 0 ${round(width)} ${round(height)}" role="img" aria-label="${escapeMarkup(map.label)}">` +
    `${image}${shapesToSvg(map.overlay)}</svg>`;
  return html`<figure class="${isAlone ? 'map alone' : 'map'}">${raw(svg)}<figcaption>${map.caption}</figcaption></figure>`;
}
