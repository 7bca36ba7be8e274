import type { Ink } from '../artwork/ink.ts';
import { lightnessOfHex } from '../colour/lab.ts';
import type { Limit, Reading } from '../findings/finding.ts';
import type { BoundaryPlace, Overlap } from '../measurements/overlap.ts';
import type { ScreenRole } from '../ticket/ticket.ts';
import type { Ask, PlateFacts } from './ask.ts';
import type { NotApplicable, Subject } from './check.ts';
import { limitsOf, pairIn } from './subject.ts';
import { wideMm } from './words.ts';

/** Two plates that meet, with what was measured where they do. */
export interface Edge {
  readonly overlap: Overlap;
  readonly plates: readonly [PlateFacts, PlateFacts];
  /** The ink that prints first stands first: it is the one that spreads under the other. */
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
  const inkNames: [string, string] = printsAfter(ask, first, second)
    ? [second.name, first.name]
    : [first.name, second.name];
  return { overlap, plates, inkNames };
}

const roleRank: Record<ScreenRole, number> = { underbase: 0, colour: 1, key: 2, highlight: 3 };

/**
 * Whether the first of two inks prints after the second: as the ticket lists its frames when it gives them roles, else
 * a key after the colours and a highlight last, else the darker after the lighter. Of inks as light as each other
 * neither does.
 */
function printsAfter({ ticket }: Ask, first: Ink, second: Ink): boolean {
  const frames = [ticket.screenFor(first.name), ticket.screenFor(second.name)];
  const isOrdered = ticket.screens.some(({ role }) => role.from === 'ticket');
  if (isOrdered && frames.every(({ listed }) => listed) && frames[0].inkName !== frames[1].inkName) {
    const places = frames.map(({ inkName }) => ticket.screens.findIndex((screen) => screen.inkName === inkName));
    return places[0] > places[1];
  }
  const ranks = frames.map(({ role }) => roleRank[role.value]);
  if (ranks[0] !== ranks[1]) return ranks[0] > ranks[1];
  return lightnessOfHex(first.displayHex) < lightnessOfHex(second.displayHex);
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

/** What was not measured of an edge because dots and not outlines meet there, as a sentence to add; empty: nothing. */
export function leftOutWords({ overlap: { leftOut } }: Edge): string {
  return leftOut.outlineMm > 0 ? ` Of outlines in halftones ${wideMm(leftOut.outlineMm)} were not measured.` : '';
}

/** Where a stretch of boundary lies. */
export function placeOf({ boxMm, xMm, yMm }: BoundaryPlace): Pick<Reading, 'boxMm' | 'focusMm'> {
  return { boxMm, focusMm: { xMm, yMm } };
}
