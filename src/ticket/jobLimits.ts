import type { Limit, Unit } from '../findings/finding.ts';
import { defaultLimit, type SetValue, setLimit } from './plateLimits.ts';
import type { ResolvedTicket, Sourced } from './ticket.ts';
import type { JobLimitKey } from './ticketSchema.ts';

type JobLimits = ResolvedTicket['limits'];

interface Default {
  readonly value: number;
  readonly unit: Unit;
  readonly rule: string;
}

const defaults: Readonly<Record<Exclude<JobLimitKey, 'maxInks'>, Default>> = {
  minImagePpi: { value: 200, unit: 'ppi', rule: 'pictures at 200 pixels an inch or more at print size' },
  sizeToleranceMm: { value: 1, unit: 'mm', rule: 'the art within 1 mm of the size ordered' },
  nearDuplicateDeltaE: { value: 3, unit: 'deltaE', rule: 'inks closer than 3 (CIEDE2000) are likely one ink twice' },
  semiOpaquePercent: {
    value: 0.01,
    unit: 'percent',
    rule: 'a film is black or clear: at most a speck of its area between',
  },
  heavyCoveragePercent: {
    value: 150,
    unit: 'percent',
    rule: 'the coverage of all inks added up: more than one and a half layers over the whole film feels stiff',
  },
  platenMarginMm: { value: 25, unit: 'mm', rule: '25 mm (1 in) from the image to the platen’s edge, all round' },
  markCount: { value: 2, unit: 'count', rule: 'two marks a film, at the top and bottom centre' },
  minAngleDifferenceDeg: {
    value: 15,
    unit: 'deg',
    rule: 'halftones that print on each other 30° apart, 15° for a light ink',
  },
  softDotPercent: { value: 10, unit: 'percent', rule: 'at most a tenth of the edges of dots soft' },
  scalePercent: { value: 0.05, unit: 'percent', rule: 'films within 0.05 % of one size: 0.15 mm over 300 mm' },
};

/** The limits of the job as a whole; those of the press follow from the press. */
export function resolveJobLimits(
  set: Readonly<Partial<Record<JobLimitKey, SetValue>>>,
  heads: Sourced<number>,
  registrationMm: Sourced<number>,
): JobLimits {
  const limitOf = (key: Exclude<JobLimitKey, 'maxInks'>): Limit =>
    setLimit(set[key], defaults[key].unit) ?? defaultLimit(defaults[key].value, defaults[key].unit, defaults[key].rule);
  return {
    maxInks:
      setLimit(set.maxInks, 'count') ??
      pressLimit(heads, 'count', 'a press prints as many inks as it has heads', 'press.heads'),
    minImagePpi: limitOf('minImagePpi'),
    sizeToleranceMm: limitOf('sizeToleranceMm'),
    nearDuplicateDeltaE: limitOf('nearDuplicateDeltaE'),
    semiOpaquePercent: limitOf('semiOpaquePercent'),
    registrationMm: pressLimit(
      registrationMm,
      'mm',
      'films may be off by no more than the press itself',
      'press.registrationMm',
    ),
    scalePercent: limitOf('scalePercent'),
    minAngleDifferenceDeg: limitOf('minAngleDifferenceDeg'),
    softDotPercent: limitOf('softDotPercent'),
    markCount: limitOf('markCount'),
    platenMarginMm: limitOf('platenMarginMm'),
    heavyCoveragePercent: limitOf('heavyCoveragePercent'),
    stations: pressLimit(heads, 'count', 'inks, flashes and cool-downs each take a print head', 'press.heads'),
  };
}

function pressLimit(value: Sourced<number>, unit: Unit, rule: string, path: string): Limit {
  const set = value.from === 'default' ? '' : `${path}; `;
  return { value: value.value, unit, from: value.from, rule: `${set}${rule}`, source: 'common practice, no source' };
}
