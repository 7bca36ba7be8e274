import { decisionLines, historyLines, standingSentence } from '../decisionWords.ts';
import type { ReportJson } from '../reportJson.ts';
import { html, type Markup } from './markup.ts';

/** Who released, held or accepted what, and why; nothing when the report was handed out before anybody decided. */
export function decisionsSection({ decisions, checks }: ReportJson): Markup | null {
  if (decisions === undefined) return null;
  const lines = decisionLines(decisions, checks).map(
    ({ when, who, what, reason, undone }) =>
      html`<tr><td>${when}</td><td>${who}</td><th scope="row">${what}</th><td>${reason}${
        undone === '' ? null : html`<br><strong>${undone}</strong>`
      }</td></tr>`,
  );
  const history = historyLines(decisions).map(
    ({ when, who, what }) => html`<tr><td>${when}</td><td>${who}</td><td>${what}</td></tr>`,
  );
  return html`<section aria-labelledby="decisions"><h2 id="decisions">Decisions</h2>
<p class="lead"><strong>${standingSentence(decisions)}</strong></p>
${
  lines.length === 0
    ? null
    : html`<div class="scroll"><table><thead><tr><th scope="col">When</th><th scope="col">Who</th><th scope="col">What</th><th scope="col">Why</th></tr></thead>
<tbody>${lines}</tbody></table></div>`
}
${
  history.length === 0
    ? null
    : html`<h3>History of the job</h3><div class="scroll"><table><thead><tr><th scope="col">When</th><th scope="col">Who</th><th scope="col">What</th></tr></thead>
<tbody>${history}</tbody></table></div>`
}</section>`;
}
