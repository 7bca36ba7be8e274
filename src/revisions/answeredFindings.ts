import { foldInkName } from '../colour/normaliseInkName.ts';
import type { Member } from '../report/entry.ts';
import type { ReportJson } from '../report/reportJson.ts';
import type { ArtChange } from './artChange.ts';

/** What became of a finding. notJudged: it is not found any more, but its check could not look this time. */
export type FindingFate = 'fixed' | 'stillThere' | 'new' | 'notJudged';

export interface AnsweredFinding {
  readonly kind: FindingFate;
  readonly before: Member | null;
  readonly after: Member | null;
}

/**
 * The findings of two reports of a job. They are the same by check, code and inks; of what is left over then, by check
 * and inks, as a line that was too thin and is now close to the limit is the same line. `changes` tells which inks have
 * another name.
 */
export function answeredFindings(
  before: ReportJson | null,
  after: ReportJson | null,
  changes: readonly ArtChange[] = [],
): AnsweredFinding[] {
  const names = new Map(
    changes.flatMap(({ kind, inkNames, wasInkName }) =>
      (kind === 'inkRenamed' || kind === 'inkRecoloured') && wasInkName !== undefined
        ? [[foldInkName(wasInkName), foldInkName(inkNames[0])]]
        : [],
    ),
  );
  const inksOf = ({ finding }: Member) => finding.inkNames.map(foldInkName);
  const inksNow = (member: Member) => inksOf(member).map((name) => names.get(name) ?? name);
  const left = membersOf(before);
  const then = new Map<Member, Member>();
  const is = membersOf(after);
  for (const withCode of [true, false]) {
    const keyOf = ({ check, finding }: Member, inks: readonly string[]) =>
      JSON.stringify([check.id, withCode ? finding.code : '', inks]);
    for (const member of is) {
      if (then.has(member)) continue;
      const index = left.findIndex((one) => keyOf(one, inksNow(one)) === keyOf(member, inksOf(member)));
      if (index >= 0) then.set(member, left.splice(index, 1)[0]);
    }
  }
  return [
    ...is.map((member): AnsweredFinding => {
      const earlier = then.get(member) ?? null;
      return { kind: earlier === null ? 'new' : 'stillThere', before: earlier, after: member };
    }),
    ...left.map((member): AnsweredFinding => {
      return { kind: isJudged(after, member.check.id) ? 'fixed' : 'notJudged', before: member, after: null };
    }),
  ];
}

function membersOf(report: ReportJson | null): Member[] {
  return (report?.checks ?? []).flatMap((check) =>
    check.findings.map((finding, findingIndex) => ({ check, finding, findingIndex })),
  );
}

/** Whether a check said what it asks: not where it could not run, or found nothing because it could not look. */
function isJudged(report: ReportJson | null, checkId: string): boolean {
  const check = report?.checks.find(({ id }) => id === checkId);
  if (check === undefined || check.outcome === 'couldNotRun') return false;
  return check.outcome !== 'needsReview' || check.findings.length > 0;
}
