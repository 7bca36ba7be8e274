import type { Place } from '../../../../src/findings/finding.ts';
import type { Digest } from '../../../../src/report/digest.ts';
import type { Entry } from '../../../../src/report/entry.ts';
import type { ReportJson } from '../../../../src/report/reportJson.ts';

/** What there is to step through: what stops filming, then what to look at first. */
export function entriesOf(digest: Digest): Entry[] {
  return [...digest.stops, ...digest.lookFirst].flatMap(({ entries }) => entries);
}

const fineChecks = new Set(['thin-line', 'thin-gap', 'small-dot', 'lost-island']);

/** Every place that is too thin or too narrow, as far as the report tells them. */
export function finePlacesOf(report: ReportJson): Place[] {
  return report.checks
    .filter(({ id }) => fineChecks.has(id))
    .flatMap(({ findings }) => findings.flatMap(({ places }) => places));
}
