import { mmToPoints } from '../units/lengths.ts';
import { areaWords, counted, decimalsFor, fixed, quantity, runInchWords, runWords, shareWords } from './format.ts';
import { edgeLengthMm, type Meeting } from './meetings.ts';
import type { KnockOut, ReportPair } from './reportJson.ts';

/** Something measured, as a term with its value and as it stands in a line of several. */
export interface MeasuredFact {
  readonly term: string;
  readonly value: string;
  readonly phrase: string;
}

export interface Wording {
  /** Between a number and its unit. */
  readonly gap: string;
  /** Without inches, points and whatever else stands in brackets. */
  readonly isBrief: boolean;
}

const longestName = 60;

/** All that was measured of how two inks meet: the edge, what it lacks, what it has; what is nought is left away. */
export function factsOfMeeting({ pair, inkNames }: Meeting, wording: Wording): MeasuredFact[] {
  const facts: MeasuredFact[] = [edgeFact(pair, wording)];
  const add = (term: string, value: string, phrase = value) => {
    if (value !== '') facts.push({ term, value, phrase });
  };
  const gap = gapWords(pair, wording);
  add('Gap', gap, `gap ${gap}`);
  const butt = alongWords(pair, pair.buttedLengthMm, wording);
  add('Butt', butt, `butt ${butt}`);
  const overlap = overlapWords(pair, wording);
  add('Overlap', overlap, `overlap ${overlap}`);
  add('In openings', openingWords(pair, inkNames, wording));
  const overprint = overprintWords(pair, inkNames, wording);
  add('On each other', overprint, `on each other ${overprint}`);
  const leftOut = leftOutWords(pair, wording);
  add('Not measured', leftOut, `not measured: ${leftOut}`);
  return facts;
}

function edgeFact(pair: ReportPair, { gap, isBrief }: Wording): MeasuredFact {
  const edge = edgeLengthMm(pair);
  if (edge === 0) {
    const within = `within ${quantity(pair.searchedToMm, 'mm', 2, gap)}`;
    return { term: 'Common edge', value: `none ${within}`, phrase: `no common edge ${within}` };
  }
  const length = isBrief ? runWords(edge, gap) : runInchWords(edge, gap);
  return { term: 'Common edge', value: length, phrase: `${length} of edge` };
}

/** `along 12.3 mm`, `along all of it`; empty for nought. */
function alongWords(pair: ReportPair, mm: number, { gap }: Wording): string {
  if (mm === 0) return '';
  return mm === edgeLengthMm(pair) ? 'along all of it' : `along ${runWords(mm, gap)}`;
}

/** `along 6.0 mm, up to 1.06 ± 0.04 mm`. */
function gapWords(pair: ReportPair, wording: Wording): string {
  const along = alongWords(pair, pair.gapLengthMm, wording);
  if (along === '' || pair.maxGapMm === null) return along;
  return `${along}, up to ${barWords(pair.maxGapMm, pair.plusMinusMm, wording)}`;
}

/** `0.38 to 0.42 mm, median 0.40 ± 0.04 mm (1.1 pt), 31.0 mm² in all`; empty where they overlap along no edge. */
function overlapWords(pair: ReportPair, wording: Wording): string {
  const { minOverlapMm, medianOverlapMm, maxOverlapMm, plusMinusMm, trapAreaMm2 } = pair;
  if (minOverlapMm === null || medianOverlapMm === null || maxOverlapMm === null) return '';
  const { gap, isBrief } = wording;
  const isPart = pair.gapLengthMm + pair.buttedLengthMm > 0;
  return [
    ...widthWords([minOverlapMm, medianOverlapMm, maxOverlapMm], plusMinusMm, wording),
    ...(isPart ? [`along ${runWords(pair.touchingLengthMm - pair.buttedLengthMm, gap)}`] : []),
    ...(isBrief ? [] : [`${areaWords(trapAreaMm2, gap)} in all`]),
  ].join(', ');
}

/** `0.40 ± 0.04 mm (1.1 pt)`, the trade’s points with it unless it is to be brief. */
export function medianWords(mm: number, plusMinusMm: number, wording: Wording): string {
  const points = wording.isBrief ? '' : ` (${fixed(mmToPoints(mm), 1)}${wording.gap}pt)`;
  return `${barWords(mm, plusMinusMm, wording)}${points}`;
}

/** `0.40 ± 0.04 mm`. */
export function barWords(mm: number, plusMinusMm: number, { gap }: Wording): string {
  const decimals = decimalsFor('mm', [], plusMinusMm);
  return `${fixed(mm, decimals)} ± ${quantity(plusMinusMm, 'mm', decimals, gap)}`;
}

/** `0.38 to 0.42 mm` and `median 0.40 ± 0.04 mm (1.1 pt)`, or `0.40 ± 0.04 mm (1.1 pt) throughout`. */
function widthWords(
  [leastMm, medianMm, mostMm]: readonly [number, number, number],
  plusMinusMm: number,
  wording: Wording,
): string[] {
  const decimals = decimalsFor('mm', [], plusMinusMm);
  const [least, most] = [fixed(leastMm, decimals), fixed(mostMm, decimals)];
  const median = medianWords(medianMm, plusMinusMm, wording);
  if (least === most) return [`${median} throughout`];
  return [`${least} to ${most}${wording.isBrief ? '' : `${wording.gap}mm`}`, `median ${median}`];
}

/** Which ink stands in openings cut for it in the other. */
function openingWords({ knockOuts }: ReportPair, inkNames: Meeting['inkNames'], { gap, isBrief }: Wording): string {
  const [first, second] = inkNames.map(shortName);
  const words = ({ count, boundaryMm, areaMm2 }: KnockOut, inner: string, outer: string) => {
    if (count === 0) return [];
    const size = isBrief ? '' : ` (${areaWords(areaMm2, gap)}, ${runWords(boundaryMm, gap)} round)`;
    return [`${counted(count, 'shape')} of ${inner} in ${count === 1 ? 'an opening' : 'openings'} of ${outer}${size}`];
  };
  const { firstInSecond, secondInFirst } = knockOuts;
  return [...words(firstInSecond, first, second), ...words(secondInFirst, second, first)].join(', ');
}

/** How much of either lies on the other without being a trap: `over 148.7 mm², 2.9 % of Coral and all of Night`. */
function overprintWords(pair: ReportPair, inkNames: Meeting['inkNames'], { gap }: Wording): string {
  if (pair.overprintAreaMm2 === 0) return '';
  const shares = pair.overprintPercent.map(
    (percent, index) => `${percent >= 99.95 ? 'all' : shareWords(percent, gap)} of ${shortName(inkNames[index])}`,
  );
  return `over ${areaWords(pair.overprintAreaMm2, gap)}, ${shares.join(' and ')}`;
}

function leftOutWords(
  { leftOut: { areaMm2, outlineMm, sharedAreaMm2 } }: ReportPair,
  { gap, isBrief }: Wording,
): string {
  if (outlineMm === 0 && sharedAreaMm2 === 0) return '';
  const parts = [
    ...(outlineMm > 0 ? [`about ${quantity(outlineMm, 'mm', 0, gap)} of outline`] : []),
    ...(sharedAreaMm2 > 0 ? [`${areaWords(sharedAreaMm2, gap)} where both print`] : []),
  ];
  return `${parts.join(' and ')} in halftones${isBrief ? '' : ` (${areaWords(areaMm2, gap)} of film)`}`;
}

/** A name as it stands within a sentence. */
export function shortName(name: string): string {
  const letters = [...name];
  return letters.length <= longestName ? name : `${letters.slice(0, longestName - 1).join('')}…`;
}
