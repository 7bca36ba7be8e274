import type { CheckResult, Finding } from '../findings/finding.ts';

/** A finding of a check, with its index within `check.findings`. */
export interface Member {
  readonly check: CheckResult;
  readonly finding: Finding;
  readonly findingIndex: number;
}

/** Where a place of an entry comes from: the place of one of its members. */
export interface PlaceSource {
  readonly member: Member;
  readonly placeIndex: number;
}

/** One thing to read in the report: a finding, several alike folded into one, or a check with no finding of its own. */
export interface Entry {
  /** Address within the report: `thin-line-1`. */
  readonly anchor: string;
  readonly check: CheckResult;
  readonly title: string;
  /** The finding, or what stands for all that were folded: inks and places of all, reading and advice of the worst. */
  readonly finding: Finding | null;
  /** The findings it shows, worst first; several only when folded. */
  readonly members: readonly Member[];
  /** One for each of the finding's places, in the same order. */
  readonly sources: readonly PlaceSource[];
  /** `inks`: the same finding on several inks. `waiting`: readings of several checks that wait on the same thing. */
  readonly fold: 'none' | 'inks' | 'waiting';
  /** Set without pictures: three of the same check stand before it. */
  readonly isBrief: boolean;
}

/** An entry for one finding. */
export function entryOf(member: Member): Entry {
  const { check, finding, findingIndex } = member;
  return {
    anchor: `${check.id}-${findingIndex + 1}`,
    check,
    title: check.title,
    finding,
    members: [member],
    sources: finding.places.map((_, placeIndex) => ({ member, placeIndex })),
    fold: 'none',
    isBrief: false,
  };
}

/** An entry for a check that failed or stayed open without a finding. */
export function bareEntry(check: CheckResult): Entry {
  const { id, title } = check;
  return { anchor: id, check, title, finding: null, members: [], sources: [], fold: 'none', isBrief: false };
}
