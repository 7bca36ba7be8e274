import type { ProofFacts } from '../../../src/fixNotes/proofFacts.ts';
import { safeHex } from '../../../src/report/composite.ts';
import { escapeMarkup } from '../../../src/report/shapes.ts';
import { addressOf, type CustomerPageParts } from './customerPage.ts';

/** The art as it prints, what it is printed with, and what to look at before it is approved. */
export function proofSection(parts: CustomerPageParts, proof: ProofFacts | null): string {
  const { words, view } = parts;
  const heading = `<h2 id="proof">${escapeMarkup(words.say('proof'))}</h2>`;
  if (proof === null)
    return `<section aria-labelledby="proof">${heading}\n<p>${escapeMarkup(words.say('noProof'))}</p></section>`;
  const facts = proof.facts.map(
    ({ term, value, swatchHex }) =>
      `<dt>${escapeMarkup(term)}</dt><dd>${swatchHex === undefined ? '' : `${swatch(swatchHex)} `}${escapeMarkup(value)}</dd>`,
  );
  const inks = proof.inks.map(({ name, hex }) => `<li>${swatch(hex)} ${escapeMarkup(name)}</li>`);
  const lists = proof.lists.map(
    ({ heading: title, lines }) => `<h3>${escapeMarkup(title)}</h3>
<ul>${lines.map((line) => `<li>${escapeMarkup(line)}</li>`).join('\n')}</ul>`,
  );
  return `<section aria-labelledby="proof">
${heading}
<img class="proof" src="${addressOf(parts, `/${view.revision.revision}/proof.png`)}" alt="${escapeMarkup(words.say('proofAlt'))}">
<p><a href="${addressOf(parts, `/${view.revision.revision}/proof.pdf`)}">${escapeMarkup(words.say('proofPdf'))}</a></p>
<dl>${facts.join('\n')}</dl>
<ol class="inks">${inks.join('\n')}</ol>
${lists.join('\n')}
</section>`;
}

/** A colour as a picture: attributes of shapes are no styles. */
function swatch(hex: string): string {
  return `<svg class="swatch" width="18" height="18" viewBox="0 0 18 18" aria-hidden="true"><rect x="0.5" y="0.5" width="17" height="17" fill="${safeHex(hex)}" stroke="#737c84"/></svg>`;
}
