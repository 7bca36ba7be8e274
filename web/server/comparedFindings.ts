import type { Finding } from '../../src/findings/finding.ts';
import type { ReportJson } from '../../src/report/reportJson.ts';
import { answeredFindings } from '../../src/revisions/answeredFindings.ts';
import type { ComparedFinding, FindingThen } from '../shared/compare.ts';

/** The findings of two reports of a job, as the page is told of them. */
export function comparedFindings(before: ReportJson | null, after: ReportJson | null): ComparedFinding[] {
  return answeredFindings(before, after).map(({ kind, before: was, after: is }) => {
    const { check, finding } = (is ?? was)!;
    return {
      ...{ checkId: check.id, code: finding.code, inkNames: finding.inkNames, title: check.title },
      kind,
      before: was && factsOf(was.finding),
      after: is && factsOf(is.finding),
    };
  });
}

function factsOf({ outcome, placesTotal, measured }: Finding): FindingThen {
  return {
    outcome,
    placesTotal,
    measured: measured && { value: measured.value, unit: measured.unit, plusMinus: measured.plusMinus },
  };
}
