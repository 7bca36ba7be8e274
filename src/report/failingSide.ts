import type { CheckResult, Finding } from '../findings/finding.ts';

/** On which side of the limit it fails; null when that is not known. */
export type FailingSide = 'below' | 'above' | null;

/** The side on which a finding's reading fails. */
export function failingSideOf(check: CheckResult, finding: Finding): FailingSide {
  const said = sideOf(finding.worse ?? check.worse);
  if (said !== null || !finding.measured || !finding.limit || finding.outcome !== 'fail') return said;
  return sideOfFailure(finding.measured.value, finding.limit.value);
}

/** The side on which a passed check would have failed. */
export function failingSideOfPassed(check: CheckResult): FailingSide {
  const said = sideOf(check.worse);
  if (said !== null || !check.tightest) return said;
  return sideOfFailure(check.tightest.limit.value, check.tightest.value);
}

/** How far past its limit the worst reading lies, as a share of the larger of both; 0 when that cannot be said. */
export function excessOf(check: CheckResult, finding: Finding | null): number {
  if (!finding?.measured || !finding.limit) return 0;
  const { value } = finding.measured;
  const limit = finding.limit.value;
  const side = failingSideOf(check, finding);
  const past = side === 'below' ? limit - value : side === 'above' ? value - limit : 0;
  return past / Math.max(Math.abs(limit), Math.abs(value), 1e-6);
}

/** `needs` where less fails, `allows` where more fails, `limit` where neither can be said. */
export function limitVerb(side: FailingSide): string {
  return side === 'below' ? 'needs' : side === 'above' ? 'allows' : 'limit';
}

function sideOf(worse: 'less' | 'more' | undefined): FailingSide {
  return worse === 'less' ? 'below' : worse === 'more' ? 'above' : null;
}

/** Reports written before the side was told: a value that fails lies on the failing side. */
function sideOfFailure(failing: number, limit: number): FailingSide {
  return failing < limit ? 'below' : failing > limit ? 'above' : null;
}
