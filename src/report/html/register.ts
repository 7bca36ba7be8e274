import type { CropPicture } from '../cropPicture.ts';
import { inkNameOf } from '../meetings.ts';
import type { PaintedReport } from '../paintedReport.ts';
import { registerArrows } from '../registerArrows.ts';
import { factsOfRegister, hasRegister, leadOfRegister, type RegisterPlate } from '../registerFacts.ts';
import { drawingToSvg } from '../shapes.ts';
import { html, type Markup, named, raw } from './markup.ts';
import { cropFigure, inkMark } from './parts.ts';

/** How the films lie to each other: each with its figures, arrows and marks. Null where nothing tells. */
export function registerSection({ report, marks }: PaintedReport): Markup | null {
  if (!hasRegister(report)) return null;
  const { referencePlateId, plates } = report.registration!;
  const reference = marks?.get(referencePlateId) ?? [];
  return html`<section aria-labelledby="register"><h2 id="register">Register</h2>
<p class="lead">${leadOfRegister(report, '\u00a0')}</p>
${plates.map((plate) => plateArticle(report, plate, marks?.get(plate.plateId) ?? []))}
${reference.length > 0 ? html`<h3>Marks of the first film</h3>${cropList(reference)}` : null}</section>`;
}

function plateArticle(report: PaintedReport['report'], plate: RegisterPlate, crops: readonly CropPicture[]): Markup {
  const id = `register-${plate.plateId}`;
  const arrows = registerArrows(report, plate);
  const facts = factsOfRegister(report, plate, '\u00a0');
  return html`<article class="finding" id="${id}" aria-labelledby="${id}-title"><div class="claim">
<div><h3 id="${id}-title">${inkMark(report, inkNameOf(report, plate.plateId))}</h3>
<dl class="facts met">${facts.map(({ term, value }) => html`<dt>${term}</dt><dd>${named(value)}</dd>`)}</dl></div>
${arrows ? raw(drawingToSvg(arrows, { className: 'strip' })) : null}</div>${crops.length > 0 ? cropList(crops) : null}</article>`;
}

function cropList(crops: readonly CropPicture[]): Markup {
  return html`<div class="shown marks">${crops.map(cropFigure)}</div>`;
}
