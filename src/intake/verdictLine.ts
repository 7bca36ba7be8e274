import type { Verdict } from '../findings/outcome.ts';
import type { ReportJson } from '../report/reportJson.ts';
import { verdictWords } from '../report/words.ts';

const mostIds = 4;

/** Why a report ends as it does, in one line: the checks that decided it, or what could not be opened. */
export function reasonOf(report: ReportJson): string {
  if (report.error) return `${report.error.file}: ${report.error.message}`.split('\n')[0];
  const worst = report.checks.filter(({ outcome }) => outcome === report.verdict).map(({ id }) => id);
  if (report.verdict === 'pass') return `${worst.length} checks passed`;
  const more = worst.length > mostIds ? ` and ${worst.length - mostIds} more` : '';
  return worst.length === 0 ? 'nothing was measured' : `${worst.slice(0, mostIds).join(', ')}${more}`;
}

/** The one line about a job that is done. */
export function verdictLine(
  job: { readonly jobName: string; readonly revision: number },
  verdict: Verdict,
  reason: string,
  seconds: number,
): string {
  return `${verdictWords[verdict]}: ${job.jobName}, revision ${job.revision}. ${reason.replace(/\.$/, '')}; ${seconds.toFixed(1)} s.`;
}
