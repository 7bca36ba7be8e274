import type { ReportJson } from './reportJson.ts';

const wrapAt = 80;

/** The proposed press plan as plain text: stations in order, notes, cautions. */
export function renderPlan(report: ReportJson): string {
  const { plan } = report;
  const lines = [`Press plan (proposed)   ${report.job.name}`, ''];
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
    lines.push(`${String(station.station).padStart(3)}  ${what}`, ...wrapped(station.why, '     '));
  }
  lines.push('', `${plan.stationsNeeded} of ${plan.stationsOwned} stations`);
  for (const [title, texts] of [
    ['Notes', plan.notes],
    ['Cautions', plan.cautions],
  ] as const) {
    if (texts.length === 0) continue;
    lines.push('', title);
    for (const text of texts) lines.push(...wrapped(text, '    ', '  - '));
  }
  return `${lines.join('\n')}\n`;
}

function wrapped(text: string, indent: string, first = indent): string[] {
  const lines: string[] = [];
  let line = first;
  for (const word of text.split(/\s+/)) {
    if (line.length + word.length + 1 > wrapAt && line.trim().length > 0 && line !== first) {
      lines.push(line.trimEnd());
      line = indent;
    }
    line += `${word} `;
  }
  return [...lines, line.trimEnd()];
}
