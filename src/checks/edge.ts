import { lightnessOfHex } from '../colour/lab.ts';
import type { Limit, Reading } from '../findings/finding.ts';
import type { BoundaryPlace, Overlap } from '../measurements/overlap.ts';
import type { Ask, PlateFacts } from './ask.ts';
import type { NotApplicable, Subject } from './check.ts';
import { limitsOf, pairIn } from './subject.ts';

/** Two plates that meet, with what was measured where they do. */
export interface Edge {
  readonly overlap: Overlap;
  readonly plates: readonly [PlateFacts, PlateFacts];
  /** The lighter ink first: it is the one that spreads under the darker. */
  readonly inkNames: readonly [string, string];
}

/**
 * The edge a pair check is asked about. Not applicable when one of the two is a base, which lies under the other.
 */
export function edgeIn(ask: Ask, subject: Subject): Edge | NotApplicable {
  const plates = pairIn(subject);
  for (const { ink } of plates) {
    if (roleOf(ask, ink.name) === 'underbase') return { why: `${ink.name} lies under the other inks.` };
  }
  const overlap = ask.overlaps.find(({ plateIds }) => plateIds[0] === plates[0].id && plateIds[1] === plates[1].id)!;
  const [first, second] = plates.map(({ ink }) => ink);
  const isLighter = lightnessOfHex(first.displayHex) >= lightnessOfHex(second.displayHex);
  return { overlap, plates, inkNames: isLighter ? [first.name, second.name] : [second.name, first.name] };
}

export function roleOf(ask: Ask, inkName: string) {
  return ask.ticket.screenFor(inkName).role.value;
}

/** The trap wanted where two plates meet: the larger of their limits. */
export function trapLimit(ask: Ask, [first, second]: Edge['plates']): Limit {
  const limits = [limitsOf(ask, first).trapMm, limitsOf(ask, second).trapMm];
  return limits[0].value >= limits[1].value ? limits[0] : limits[1];
}

export function edgeReading(
  { overlap, plates, inkNames }: Edge,
  reading: Pick<Reading, 'value' | 'unit'> & Partial<Reading>,
): Reading {
  return {
    plusMinus: overlap.plusMinusMm,
    plateIds: overlap.plateIds,
    inkNames,
    filmId: plates[0].film.id,
    boxMm: null,
    ...reading,
  };
}

/** Where a stretch of boundary lies. */
export function placeOf({ boxMm, xMm, yMm }: BoundaryPlace): Pick<Reading, 'boxMm' | 'focusMm'> {
  return { boxMm, focusMm: { xMm, yMm } };
}
