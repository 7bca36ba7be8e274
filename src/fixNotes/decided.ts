import type { Finding } from '../findings/finding.ts';
import type { Member } from '../report/entry.ts';
import type { ReportDecision, ReportJson } from '../report/reportJson.ts';

type Settled = Extract<ReportDecision['kind'], 'acceptFinding' | 'doOurselves'>;

/** Whether people have settled a finding, in one of these ways, and nobody has undone it. */
export function isSettled(report: ReportJson, checkId: string, finding: Finding, kinds: readonly Settled[]): boolean {
  if (report.decisions === undefined || report.decisions.isSuperseded) return false;
  return report.decisions.made.some(
    ({ kind, undone, finding: decided }) =>
      undone === null &&
      (kinds as readonly string[]).includes(kind) &&
      decided !== null &&
      decided.checkId === checkId &&
      decided.code === finding.code &&
      decided.inkNames.join('\n') === finding.inkNames.join('\n'),
  );
}

/** The findings that were accepted as they are, in the order of the report. */
export function acceptedFindings(report: ReportJson): Member[] {
  return report.checks.flatMap((check) =>
    check.findings
      .map((finding, findingIndex) => ({ check, finding, findingIndex }))
      .filter(({ finding }) => isSettled(report, check.id, finding, ['acceptFinding'])),
  );
}

/** The report as if what has been settled had not been found: nobody is asked for it again. */
export function withoutSettled(report: ReportJson): ReportJson {
  if (report.decisions === undefined) return report;
  const checks = report.checks.map((check) => ({
    ...check,
    findings: check.findings.filter((one) => !isSettled(report, check.id, one, ['acceptFinding', 'doOurselves'])),
  }));
  return { ...report, checks };
}
