import type { CropPicture } from '../cropPicture.ts';
import {
  chartOfHalftone,
  factsOfHalftone,
  leadOfHalftones,
  partKey,
  type ShownHalftone,
  shownHalftones,
} from '../halftoneFacts.ts';
import { inkNameOf } from '../meetings.ts';
import type { PaintedReport } from '../paintedReport.ts';
import type { ReportJson } from '../reportJson.ts';
import { drawingToSvg } from '../shapes.ts';
import { toneChart } from '../toneChart.ts';
import { html, type Markup, named, raw } from './markup.ts';
import { cropFigure, inkMark } from './parts.ts';

/** The halftones that were read, each with its figures and its tones. Null where there are none. */
export function halftonesSection({ report, spectra, tints }: PaintedReport): Markup | null {
  const shown = shownHalftones(report);
  if (shown.length === 0) return null;
  return html`<section aria-labelledby="halftones"><h2 id="halftones">Halftones</h2>
<p class="lead">${leadOfHalftones(report)}</p>
${shown.map((one, index) => {
  const key = partKey(one.plate.id, one.region);
  const pictures = [tints?.get(key), spectra?.get(key)].filter((picture) => picture !== undefined);
  return article(report, one, `halftone-${index + 1}`, pictures);
})}</section>`;
}

function article(report: ReportJson, shown: ShownHalftone, id: string, pictures: readonly CropPicture[]): Markup {
  const facts = factsOfHalftone(shown, '\u00a0');
  return html`<article class="finding" id="${id}" aria-labelledby="${id}-title"><div class="claim">
<div><h3 id="${id}-title">${inkMark(report, inkNameOf(report, shown.plate.id))}</h3>
<dl class="facts met">${facts.map(({ term, value }) => html`<dt>${term}</dt><dd>${named(value)}</dd>`)}</dl></div>
${raw(drawingToSvg(toneChart(chartOfHalftone(shown)), { className: 'strip' }))}</div>${
    pictures.length > 0 ? html`<div class="shown">${pictures.map(cropFigure)}</div>` : null
  }</article>`;
}
