import type { Finding } from '../findings/finding.ts';
import type { Member } from '../report/entry.ts';
import type { ReportDecision, ReportJson } from '../report/reportJson.ts';

type Settled = Extract<ReportDecision['kind'], 'acceptFinding' | 'doOurselves'>;
export type SettlingDecision = ReportDecision & { readonly kind: Settled };

/** The decision that settles a finding and that nobody has undone; null while it is open. Of several the last holds. */
export function settlingDecision(report: ReportJson, checkId: string, finding: Finding): SettlingDecision | null {
  if (report.decisions === undefined || report.decisions.isSuperseded) return null;
  const found = report.decisions.made.findLast(
    ({ undone, finding: decided }) =>
      undone === null &&
      decided !== null &&
      decided.checkId === checkId &&
      decided.code === finding.code &&
      decided.inkNames.join('\n') === finding.inkNames.join('\n'),
  );
  return (found as SettlingDecision | undefined) ?? null;
}

/** The findings that were accepted as they are, in the order of the report. */
export function acceptedFindings(report: ReportJson): Member[] {
  return report.checks.flatMap((check) =>
    check.findings
      .map((finding, findingIndex) => ({ check, finding, findingIndex }))
      .filter(({ finding }) => settlingDecision(report, check.id, finding)?.kind === 'acceptFinding'),
  );
}

/** The report as if what has been settled had not been found: nobody is asked for it again. */
export function withoutSettled(report: ReportJson): ReportJson {
  if (report.decisions === undefined) return report;
  const checks = report.checks.map((check) => ({
    ...check,
    findings: check.findings.filter((one) => settlingDecision(report, check.id, one) === null),
  }));
  return { ...report, checks };
}
