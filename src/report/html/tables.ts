import type { CheckResult } from '../../findings/finding.ts';
import type { Digest } from '../digest.ts';
import { bytesWords, fixed, originWords, sizeWords, thinSpace } from '../format.ts';
import { leftToOthersIn } from '../leftToOthers.ts';
import { measureStripSvg, stripOfTightest } from '../measureStrip.ts';
import { type LimitRow, limitRows } from '../provenance.ts';
import { tightestInWords } from '../readingInWords.ts';
import type { ReportJson } from '../reportJson.ts';
import { errorHeadings } from '../words.ts';
import { html, type Markup, named, raw } from './markup.ts';
import { inkMark, inkMarks, unbroken } from './parts.ts';

/** The film that could not be opened: which, what is wrong with it, what to do. */
export function errorSection({ file, code, message, remedy }: NonNullable<ReportJson['error']>): Markup {
  return html`<section aria-labelledby="error"><h2 id="error">${errorHeadings(code).section}</h2>
<article class="finding"><h3>${named(file)}</h3><p>${message}</p>
<dl class="advice"><div><dt>What to do</dt><dd>${remedy}</dd></div></dl></article></section>`;
}

/** Every check that passed with its tightest reading against its limit. */
export function fineSection(report: ReportJson, digest: Digest): Markup {
  const rows = digest.fine.map((check) => fineRow(report, check));
  return html`<section aria-labelledby="fine"><h2 id="fine">Measured and fine</h2>
${
  rows.length === 0
    ? html`<p class="lead">No check passed with a measurement.</p>`
    : html`<p class="lead quiet">Each check with its tightest reading.</p>
<div class="scroll"><table><thead><tr><th scope="col">Check</th><th scope="col">Ink</th><th scope="col" class="n">Tightest</th>
<th scope="col" class="n">Limit</th><th scope="col">From</th><th scope="col">Where it lies</th><th scope="col" class="n readings">Readings</th></tr></thead>
<tbody>${rows}</tbody></table></div>`
}</section>`;
}

function fineRow(report: ReportJson, check: CheckResult): Markup {
  const { tightest } = check;
  if (!tightest) {
    return html`<tr><th scope="row">${check.title}</th><td></td><td class="n">–</td><td class="n">–</td><td></td><td></td><td class="n readings">${check.readingsTotal}</td></tr>`;
  }
  const { reading, limit } = tightestInWords(check);
  const strip = stripOfTightest(check);
  return html`<tr><th scope="row">${check.title}</th><td>${reading === 'none' ? null : inkMarks(report, tightest.inkNames)}</td>
<td class="n">${reading}</td><td class="n">${limit}</td><td class="from">${limit === '' ? '' : originWords[tightest.limit.from]}</td>
<td>${strip === null ? null : raw(measureStripSvg(strip, 'small'))}</td><td class="n readings">${check.readingsTotal}</td></tr>`;
}

/** What could not be run, what does not apply here, and what this version does not look at. */
export function notCheckedSection(report: ReportJson, digest: Digest): Markup {
  const parts: Markup[] = [];
  const list = (heading: string, rows: readonly (readonly [string, string])[]) => {
    if (rows.length === 0) return;
    parts.push(
      html`<h3>${heading}</h3><dl class="list">${rows.map(([term, why]) => html`<dt>${term}</dt><dd>${why}</dd>`)}</dl>`,
    );
  };
  const rowsOf = (checks: readonly CheckResult[]) => checks.map((check) => [check.title, check.why ?? ''] as const);
  list('Left to other checks', leftToOthersIn(report));
  list('Could not be run', rowsOf(digest.couldNotRun));
  list('Does not apply to this job', rowsOf(digest.notApplicable));
  list(
    'Not looked at by this version',
    report.notLookedAt.map((item) => [item.title, item.why] as const),
  );
  return html`<section aria-labelledby="not-checked"><h2 id="not-checked">Not checked, and why</h2>
${report.error ? html`<p class="lead">Nothing was measured: a film of the job could not be opened.</p>` : null}
${parts.length === 0 && !report.error ? html`<p class="lead">Everything this version knows was checked.</p>` : parts}</section>`;
}

/** Order, meshes, stations, notes and cautions of the press plan. */
export function pressSection(report: ReportJson): Markup {
  const { plan } = report;
  const rows = plan.order.map((step) => {
    const what =
      step.what === 'ink'
        ? inkMark(report, step.inkName ?? '')
        : html`<span class="quiet">${step.what === 'flash' ? 'Flash' : 'Cool-down'}</span>`;
    const covers = step.coveragePercent === null ? '' : `${fixed(step.coveragePercent, 1)}${thinSpace}%`;
    return html`<tr><td class="n">${step.station}</td><th scope="row">${what}</th><td>${step.role}</td><td>${step.mesh}</td><td class="n">${covers}</td><td>${step.why}</td></tr>`;
  });
  const notes = (items: readonly string[]) =>
    html`<ul class="notes">${items.map((item) => html`<li>${item}</li>`)}</ul>`;
  return html`<section aria-labelledby="press"><h2 id="press">For the press</h2>
<p class="lead">A proposal: ${plan.stationsNeeded} stations needed, ${plan.stationsOwned} on the press.</p>
${
  rows.length === 0
    ? null
    : html`<div class="scroll"><table><thead><tr><th scope="col" class="n">Station</th><th scope="col">What</th><th scope="col">Role</th>
<th scope="col">Mesh</th><th scope="col" class="n">Covers</th><th scope="col">Why there</th></tr></thead><tbody>${rows}</tbody></table></div>`
}
${plan.notes.length > 0 ? html`<h3>Notes</h3>${notes(plan.notes)}` : null}
${plan.cautions.length > 0 ? html`<h3>Cautions</h3>${notes(plan.cautions)}` : null}</section>`;
}

/** Files with hashes, how they were read and joined, every limit with origin and source, version and time. */
export function provenanceSection(report: ReportJson): Markup {
  const films = report.films.map(
    (film) => html`<dt>${named(film.file)}${film.page > 1 ? `, page ${film.page}` : null}</dt>
<dd>${unbroken(bytesWords(film.sizeBytes))}, ${film.format}, ${film.nature}, ${unbroken(sizeWords(film.widthMm, film.heightMm))}${
      film.scaleKnown ? null : ' (size assumed)'
    }, ${film.objectCount} objects${film.sha256 === '' ? null : html`<br><span class="hash">SHA-256 ${film.sha256}</span>`}
${film.notes.map((note) => html`<br>${note.message}`)}</dd>`,
  );
  const joined = report.joined.map((note) => html`<li>${note.message}</li>`);
  const limits = limitRows(report).map(limitRow);
  return html`<section aria-labelledby="provenance"><h2 id="provenance">Provenance</h2>
${films.length > 0 ? html`<h3>Files, as read</h3><dl class="list">${films}</dl>` : null}
${joined.length > 0 ? html`<h3>How they were joined</h3><ul class="notes">${joined}</ul>` : null}
<h3>Limits</h3><div class="scroll"><table><thead><tr><th scope="col">Limit</th><th scope="col">For</th><th scope="col" class="n">Value</th><th scope="col">From</th>
<th scope="col">Rule</th><th scope="col">Source</th></tr></thead><tbody>${limits}</tbody></table></div></section>`;
}

function limitRow(row: LimitRow): Markup {
  return html`<tr><th scope="row">${row.name}</th><td>${row.forWhom}</td><td class="n">${row.value}</td><td class="from">${row.from}</td><td>${row.rule}</td><td>${row.source}</td></tr>`;
}
