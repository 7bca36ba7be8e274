import type { PointMm } from '../geometry/box.ts';
import { areaWords, counted, decimalsFor, fixed, quantity, runInchWords, runWords } from './format.ts';
import { barWords, type MeasuredFact, medianWords, shortName, type Wording } from './meetingFacts.ts';
import { inkNameOf } from './meetings.ts';
import type { ReportJson, ReportUnderbase } from './reportJson.ts';

/** An ink on the base: what it prints, and how much of that has no base straight below. */
export interface TopOfBase {
  readonly inkName: string;
  readonly areaMm2: number;
  readonly bareAreaMm2: number;
  readonly barePercent: number;
}

const mostPlaces = 3;

/** The inks on the base, the one with the largest share without base first. */
export function topsOfBase(report: ReportJson, base: ReportUnderbase): TopOfBase[] {
  return base.tops
    .map(({ plateId, areaMm2, bareAreaMm2 }) => ({
      inkName: inkNameOf(report, plateId),
      areaMm2,
      bareAreaMm2,
      barePercent: areaMm2 === 0 ? 0 : (100 * bareAreaMm2) / areaMm2,
    }))
    .sort((a, b) => b.barePercent - a.barePercent || b.areaMm2 - a.areaMm2);
}

/** How the base lies under its colours, what shows or dulls on the shirt first; what is nought is left away. */
export function factsOfBase(report: ReportJson, base: ReportUnderbase, wording: Wording): MeasuredFact[] {
  const facts: MeasuredFact[] = [];
  const add = (term: string, value: string, phrase = value) => {
    if (value !== '') facts.push({ term, value, phrase });
  };
  const along = (mm: number) => (mm === 0 ? '' : `along ${runWords(mm, wording.gap)}`);
  add('Peeks out', along(base.peekLengthMm), `peeks out ${along(base.peekLengthMm)}`);
  add('Flush', along(base.flushLengthMm), `flush ${along(base.flushLengthMm)}`);
  add('No base', unbasedWords(report, base, wording), `${counted(base.unbasedTotal, 'part')} of colour without base`);
  add('Bare strips', stripWords(report, base, wording), counted(base.bareStripsTotal, 'bare strip'));
  add('Choke', chokeWords(base, wording), `choke ${chokeWords(base, wording)}`);
  const edge = base.insetLengthMm + base.flushLengthMm + base.peekLengthMm;
  const near = edge > 0 ? `${runInchWords(edge, wording.gap)} with base near it` : 'none with base near it';
  if (!wording.isBrief || edge === 0) add('Colours’ edge', near, `edge of the colours: ${near}`);
  add('Base alone', exposedWords(base, wording));
  return facts;
}

function chokeWords(base: ReportUnderbase, wording: Wording): string {
  const { minChokeMm, medianChokeMm, chokeSpread, plusMinusMm, insetLengthMm } = base;
  if (minChokeMm === null || medianChokeMm === null || chokeSpread === null) return '';
  const decimals = decimalsFor('mm', [], plusMinusMm);
  const least = `smallest ${quantity(minChokeMm, 'mm', decimals, wording.gap)}`;
  const median = `median ${medianWords(medianChokeMm, plusMinusMm, wording)}`;
  if (wording.isBrief) return `${least}, ${median}`;
  const along = insetLengthMm > 0 ? ` along ${runWords(insetLengthMm, wording.gap)}` : '';
  return `${least}, ${median}${along}; nine tenths of the edge from ${chokeRange(chokeSpread, decimals, wording.gap)}`;
}

/** `0.20 to 0.30 mm`, `0.60 mm outside to 0.25 mm`. */
function chokeRange({ p5Mm, p95Mm }: NonNullable<ReportUnderbase['chokeSpread']>, decimals: number, gap: string) {
  if (p5Mm >= 0) return `${fixed(p5Mm, decimals)} to ${quantity(p95Mm, 'mm', decimals, gap)}`;
  const [from, to] = [p5Mm, p95Mm].map(
    (mm) => `${quantity(Math.abs(mm), 'mm', decimals, gap)}${mm < 0 ? ' outside' : ''}`,
  );
  return `${from} to ${to}`;
}

function unbasedWords(report: ReportJson, { unbased, unbasedTotal }: ReportUnderbase, { gap }: Wording): string {
  const items = unbased.map(({ boxMm, areaMm2, plateId }) => {
    const ink = shortName(inkNameOf(report, plateId));
    return `${areaWords(areaMm2, gap)} of ${ink} ${spotWords(boxMm, gap)}`;
  });
  return placesWords(counted(unbasedTotal, 'part'), 'largest', items, unbasedTotal);
}

function stripWords(report: ReportJson, base: ReportUnderbase, wording: Wording): string {
  const { bareStrips, bareStripsTotal, plusMinusMm } = base;
  const items = bareStrips.map(({ xMm, yMm, widthMm, lengthMm, plateIds }) => {
    const inks = plateIds.map((id) => shortName(inkNameOf(report, id))).join(' / ');
    const width = `${barWords(widthMm, plusMinusMm, wording)} wide`;
    return `${runWords(lengthMm, wording.gap)} of ${inks}, ${width}, ${spotWords({ xMm, yMm }, wording.gap)}`;
  });
  return placesWords(counted(bareStripsTotal, 'strip'), 'longest', items, bareStripsTotal);
}

function exposedWords({ exposedAreaMm2, exposed, exposedTotal }: ReportUnderbase, { gap, isBrief }: Wording): string {
  if (exposedAreaMm2 === 0) return '';
  const area = `${areaWords(exposedAreaMm2, gap)} of base without colour on top`;
  if (isBrief || exposedTotal === 0) return area;
  const items = exposed.map(({ boxMm, areaMm2 }) => `${areaWords(areaMm2, gap)} ${spotWords(boxMm, gap)}`);
  return `${area}; ${placesWords(`${counted(exposedTotal, 'part')} away from any colour`, 'largest', items, exposedTotal)}`;
}

/** `5 strips, the longest: …; …; …`; empty when there are none. */
function placesWords(count: string, most: string, items: readonly string[], total: number): string {
  if (total === 0) return '';
  const shown = items.slice(0, mostPlaces).join('; ');
  return total > 1 ? `${count}, the ${most}: ${shown}` : `${count}: ${shown}`;
}

function spotWords({ xMm, yMm }: PointMm, gap: string): string {
  return `at ${xMm.toFixed(1)}, ${yMm.toFixed(1)}${gap}mm`;
}
