import { factsOfBase, topsOfBase } from '../baseFacts.ts';
import type { Digest } from '../digest.ts';
import { areaCmWords, counted, shareWords } from '../format.ts';
import { type LengthChart, type LengthScale, lengthChartSvg, lengthScale } from '../lengthChart.ts';
import { factsOfMeeting, type MeasuredFact } from '../meetingFacts.ts';
import {
  chartOfBase,
  chartOfMeeting,
  firstOfEachCheck,
  hasMeetings,
  inkNameOf,
  type Meeting,
  meetingsOf,
} from '../meetings.ts';
import { apartWords, chartLegend, leadOfMeetings, onPaper, rowOfMeeting } from '../meetingWords.ts';
import type { ReportJson, ReportUnderbase } from '../reportJson.ts';
import { html, type Markup, named, raw } from './markup.ts';
import { inkMark } from './parts.ts';

/** As many pairs are shown in full; the others are rows. */
const mostInFull = 6;
/** A list of more rows is folded. */
const mostRowsOpen = 8;

/** How the inks meet: pairs with a finding in full, all others as rows, then the base. Null where there is neither. */
export function meetingsSection(report: ReportJson, digest: Digest): Markup | null {
  if (!hasMeetings(report)) return null;
  const meetings = meetingsOf(report, digest);
  const { found, fine, apartTotal, scale } = meetings;
  const inFull = found.slice(0, mostInFull);
  const more = found.slice(mostInFull);
  return html`<section aria-labelledby="meetings"><h2 id="meetings">Where inks meet</h2>
<p class="lead">${leadOfMeetings(meetings)} <span class="quiet">${chartLegend}</span></p>
${inFull.map((meeting) => meetingArticle(report, meeting, scale))}
${more.length > 0 ? foldedRows(report, more, scale, `${counted(more.length, 'more pair')} with a finding`) : null}
${fine.length > 0 ? foldedRows(report, fine, scale, `${counted(fine.length, 'pair')} without a finding`) : null}
${apartTotal > 0 ? html`<p class="aside quiet">${apartWords(apartTotal)}</p>` : null}
${report.underbase ? baseArticle(report, report.underbase) : null}</section>`;
}

function meetingArticle(report: ReportJson, meeting: Meeting, scale: LengthScale): Markup {
  const id = `pair-${meeting.pair.plateIds.join('-')}`;
  return html`<article class="finding" id="${id}" aria-labelledby="${id}-title"><div class="claim">
<div><h3 id="${id}-title">${pairMarks(report, meeting)}</h3>${findingLinks(meeting)}${factList(factsOfMeeting(meeting, onPaper))}</div>
${chartOf(chartOfMeeting(meeting), scale)}</div></article>`;
}

function pairMarks(report: ReportJson, { inksAsPrinted: [under, over] }: Meeting): Markup {
  return html`${inkMark(report, under)} / ${inkMark(report, over)}`;
}

/** To what was found about the pair, each check once. */
function findingLinks({ entries }: Meeting): Markup | null {
  const links = firstOfEachCheck(entries).map(
    ({ anchor, title }, index) => html`${index === 0 ? '' : ' · '}<a href="#${anchor}">${title}</a>`,
  );
  return links.length === 0 ? null : html`<p>${links}</p>`;
}

function factList(facts: readonly MeasuredFact[]): Markup {
  return html`<dl class="facts met">${facts.map(({ term, value }) => html`<dt>${term}</dt><dd>${named(value)}</dd>`)}</dl>`;
}

function chartOf(chart: LengthChart | null, scale: LengthScale, form: 'full' | 'small' = 'full'): Markup | null {
  return chart === null ? null : raw(lengthChartSvg(chart, scale, form));
}

function foldedRows(report: ReportJson, meetings: readonly Meeting[], scale: LengthScale, summary: string): Markup {
  const rows = meetings.map((meeting) => {
    const { edge, least, median, most, besides } = rowOfMeeting(meeting);
    return html`<tr><th scope="row">${pairMarks(report, meeting)}${findingLinks(meeting)}</th><td class="n">${edge}</td>
<td>${chartOf(chartOfMeeting(meeting), scale, 'small')}</td><td class="n">${least}</td><td class="n">${median}</td><td class="n">${most}</td><td>${named(besides)}</td></tr>`;
  });
  return html`<details${meetings.length <= mostRowsOpen ? ' open' : ''}><summary>${summary}</summary>
<div class="scroll"><table><thead><tr><th scope="col">Inks</th><th scope="col" class="n">Common edge</th><th scope="col">Overlap by length</th>
<th scope="col" class="n">Smallest</th><th scope="col" class="n">Median</th><th scope="col" class="n">Largest</th><th scope="col">Besides</th></tr></thead>
<tbody>${rows}</tbody></table></div></details>`;
}

function baseArticle(report: ReportJson, base: ReportUnderbase): Markup {
  const chart = chartOfBase(report, base);
  const tops = topsOfBase(report, base).map(
    ({ inkName, areaMm2, bareAreaMm2, barePercent }) =>
      html`<tr><th scope="row">${inkMark(report, inkName)}</th><td class="n">${areaCmWords(areaMm2)}</td><td class="n">${areaCmWords(bareAreaMm2)}</td><td class="n">${shareWords(barePercent)}</td></tr>`,
  );
  return html`<h3>The base under the colours</h3><article class="finding" aria-labelledby="base-title"><div class="claim">
<div><h4 id="base-title">${inkMark(report, inkNameOf(report, base.basePlateId))}</h4>${factList(factsOfBase(report, base, onPaper))}</div>
${chart ? chartOf(chart, lengthScale([chart])) : null}</div>
<div class="scroll"><table class="tops"><thead><tr><th scope="col">On the base</th><th scope="col" class="n">Prints</th><th scope="col" class="n">Without base straight below</th>
<th scope="col" class="n">Share</th></tr></thead><tbody>${tops}</tbody></table></div></article>`;
}
