import { counted } from './format.ts';
import { brokenLines } from './lineBreaks.ts';
import type { ReportJson } from './reportJson.ts';
import { shownText } from './words.ts';

const wrapAt = 80;

/** The proposed press plan as plain text: stations in order, notes, cautions. */
export function renderPlan(report: ReportJson): string {
  const { plan } = report;
  const lines = [`Press plan (proposed)   ${shownText(report.job.name)}`, ''];
  for (const station of plan.order) {
    const what =
      station.what === 'ink'
        ? [
            station.inkName,
            station.mesh,
            station.coveragePercent === null ? null : `${station.coveragePercent.toFixed(1)} % coverage`,
          ]
            .filter(Boolean)
            .join(', ')
        : station.what === 'flash'
          ? 'flash'
          : 'cool down';
    lines.push(
      `${String(station.station).padStart(3)}  ${shownText(what)}`,
      ...brokenLines(shownText(station.why), wrapAt, '     '),
    );
  }
  lines.push('', `${counted(plan.stationsNeeded, 'station')} needed, ${plan.stationsOwned} on the press`);
  for (const [title, texts] of [
    ['Notes', plan.notes],
    ['Cautions', plan.cautions],
  ] as const) {
    if (texts.length === 0) continue;
    lines.push('', title);
    for (const text of texts) lines.push(...brokenLines(shownText(text), wrapAt, '  - ', '    '));
  }
  return `${lines.join('\n')}\n`;
}
