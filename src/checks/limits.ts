import type { Limit, LimitOrigin, Unit } from '../findings/finding.ts';

/** Nothing of the kind may be there. */
export function noneOf(rule: string, source = 'common practice, no source', from: LimitOrigin = 'default'): Limit {
  return { value: 0, unit: 'count', from, rule, source };
}

/** A limit that is the check's own because no ticket has a say in it. */
export function ownLimit(value: number, unit: Unit, rule: string, source = 'common practice, no source'): Limit {
  return { value, unit, from: 'default', rule, source };
}
