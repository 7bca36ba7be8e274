import type { Limit } from '../findings/finding.ts';
import { decimalsFor, originWords, quantity } from './format.ts';
import type { ReportJson } from './reportJson.ts';

/** A limit in words, like ones of several inks in one row. */
export interface LimitRow {
  readonly name: string;
  readonly forWhom: string;
  readonly value: string;
  readonly from: string;
  readonly rule: string;
  readonly source: string;
}

/** Every limit the job was judged by: those of the whole job first, then those of the inks. */
export function limitRows(report: ReportJson): LimitRow[] {
  const rows = Object.entries(report.ticket.limits).map(([key, limit]) => rowOf(key, limit, 'the job'));
  const frames = report.ticket.screens;
  const gathered = new Map<string, { key: string; limit: Limit; inks: string[] }>();
  for (const frame of frames) {
    for (const [key, limit] of Object.entries(frame.limits)) {
      const likeness = JSON.stringify([key, limit]);
      const found = gathered.get(likeness);
      if (found) found.inks.push(frame.ink);
      else gathered.set(likeness, { key, limit, inks: [frame.ink] });
    }
  }
  const inkRows = [...gathered.values()].sort((a, b) => (a.key < b.key ? -1 : a.key > b.key ? 1 : 0));
  for (const { key, limit, inks } of inkRows) {
    rows.push(rowOf(key, limit, inks.length === frames.length ? 'every ink' : inks.join(', ')));
  }
  return rows;
}

function rowOf(key: string, limit: Limit, forWhom: string): LimitRow {
  return {
    name: limitNames[key] ?? key,
    forWhom,
    value: quantity(limit.value, limit.unit, decimalsFor(limit.unit, [limit.value])),
    from: originWords[limit.from],
    rule: limit.rule,
    source: limit.source,
  };
}

const limitNames: Readonly<Record<string, string>> = {
  maxInks: 'Most inks',
  minImagePpi: 'Coarsest picture',
  sizeToleranceMm: 'Size tolerance',
  nearDuplicateDeltaE: 'Inks that can be told apart',
  semiOpaquePercent: 'Grey on a film',
  registrationMm: 'Register of the press',
  scalePercent: 'Stretch of a film',
  markCount: 'Marks on a film',
  platenMarginMm: 'Margin on the platen',
  heavyCoveragePercent: 'Heavy coverage',
  stations: 'Stations',
  minLineMm: 'Thinnest line',
  minGapMm: 'Thinnest gap',
  minDotMm: 'Smallest dot',
  minIslandMm: 'Smallest island',
  trapMm: 'Trap',
  chokeMm: 'Choke',
  maxTrapMm: 'Widest trap',
  minTypePt: 'Smallest type',
  minMeshRatio: 'Threads to a line of a halftone',
  lostTonePercent: 'Halftone its mesh does not hold',
  moirePercent: 'Moiré, an estimate',
  minAngleDifferenceDeg: 'Angle between halftones',
  softDotPercent: 'Soft edges of dots',
};

/** `Read 0.21 s, draw 0.64 s`: the time each stage took. */
export function timingWords(report: ReportJson): string {
  return Object.entries(report.timings)
    .map(([key, ms]) => `${key.replace(/Ms$/, '')} ${(ms / 1000).toFixed(2)}\u00a0s`)
    .join(', ');
}
