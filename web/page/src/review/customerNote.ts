import type { ReportJson } from '../../../../src/report/reportJson.ts';

/** What the customer is asked to change, once each, as text that can be copied into a mail. */
export function customerNoteOf(report: ReportJson): string {
  const asked = report.checks.flatMap(({ findings }) => findings.map(({ advice }) => advice.customer));
  return [report.job.name, '', ...[...new Set(asked)].map((line) => `- ${line}`)].join('\n');
}
