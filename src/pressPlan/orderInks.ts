import type { Ink } from '../artwork/ink.ts';
import { lightnessOfHex } from '../colour/lab.ts';
import type { ResolvedScreen, ResolvedTicket, ScreenRole } from '../ticket/ticket.ts';

/** Inks this close in lightness print in the order of their coverage instead. */
const closeLightness = 5;

export interface PlannedInk {
  readonly ink: Ink;
  readonly frame: ResolvedScreen;
  readonly role: ScreenRole;
  /** L*, 0 to 100. */
  readonly lightness: number;
  readonly coveragePercent: number | null;
  readonly why: string;
}

export interface InkOrder {
  readonly inks: readonly PlannedInk[];
  /** `ticket`: as the ticket lists them. `rule`: proposed here. */
  readonly from: 'ticket' | 'rule';
  /** Where the ticket's order departs from the usual one; it is kept all the same. */
  readonly remarks: readonly string[];
}

const roleRank: Record<ScreenRole, number> = { underbase: 0, colour: 1, key: 2, highlight: 3 };

const roleWhy: Record<Exclude<ScreenRole, 'colour'>, string> = {
  underbase: 'the underbase prints first, to be flashed before anything lies on it',
  key: 'the key prints after the colours it outlines',
  highlight: 'the highlight prints last, on top',
};

/**
 * The order the inks print in: underbase, colours from light to dark, key, highlight; among colours of like lightness
 * the smaller coverage first. A ticket that gives its frames roles has decided the order, and it is kept.
 * Source: trade articles on print order (light to dark, base first); coverage and key last are common practice.
 */
export function orderInks(
  inks: readonly Ink[],
  ticket: ResolvedTicket,
  coverageByInkId: ReadonlyMap<string, number>,
): InkOrder {
  const planned = inks.map((ink) => {
    const frame = ticket.screenFor(ink.name);
    const coveragePercent = coverageByInkId.get(ink.id) ?? null;
    return { ink, frame, role: frame.role.value, lightness: lightnessOf(ink), coveragePercent };
  });
  const byRule = orderByRule(planned);
  const ticketHasOrder = ticket.screens.some((frame) => frame.role.from === 'ticket');
  if (!ticketHasOrder) return { inks: byRule, from: 'rule', remarks: [] };

  const place = (entry: PlannedInk): number => {
    const index = ticket.screens.indexOf(entry.frame);
    return index < 0 ? ticket.screens.length : index;
  };
  const ordered = byRule
    .map((entry) => (entry.frame.listed ? { ...entry, why: 'as the ticket lists it' } : entry))
    .sort((a, b) => place(a) - place(b));
  const unlisted = ordered.filter((entry) => !entry.frame.listed).map((entry) => entry.ink.name);
  const remarks = remarksOn(ordered);
  if (unlisted.length > 0) {
    remarks.push(`Not on the ticket, so put after the frames it lists: ${unlisted.join(', ')}.`);
  }
  return { inks: ordered, from: 'ticket', remarks };
}

function orderByRule(planned: readonly Omit<PlannedInk, 'why'>[]): readonly PlannedInk[] {
  const sorted = [...planned].sort(
    (a, b) => roleRank[a.role] - roleRank[b.role] || b.lightness - a.lightness || coverageOf(a) - coverageOf(b),
  );
  const ordered: PlannedInk[] = [];
  for (let index = 0; index < sorted.length; ) {
    const first = sorted[index];
    let end = index + 1;
    while (
      end < sorted.length &&
      sorted[end].role === first.role &&
      first.lightness - sorted[end].lightness <= closeLightness
    ) {
      end += 1;
    }
    const alike = sorted.slice(index, end).sort((a, b) => coverageOf(a) - coverageOf(b));
    ordered.push(...alike.map((entry) => ({ ...entry, why: whyOf(entry, alike.length > 1) })));
    index = end;
  }
  return ordered;
}

function whyOf(entry: Omit<PlannedInk, 'why'>, hasAlike: boolean): string {
  if (entry.role !== 'colour') return roleWhy[entry.role];
  return hasAlike
    ? `light to dark; among inks as light as this (L* ${entry.lightness.toFixed(0)}), the smaller coverage first`
    : `light to dark: L* ${entry.lightness.toFixed(0)}`;
}

function remarksOn(ordered: readonly PlannedInk[]): string[] {
  const remarks: string[] = [];
  for (const [index, entry] of ordered.entries()) {
    const before = ordered.slice(0, index).find((earlier) => roleRank[earlier.role] > roleRank[entry.role]);
    if (before && entry.frame.listed) {
      remarks.push(
        `The ticket prints ${before.ink.name} (${before.role}) before ${entry.ink.name} (${entry.role}); usually it is the other way round. Kept as the ticket says.`,
      );
    }
  }
  return remarks;
}

function coverageOf(entry: { readonly coveragePercent: number | null }): number {
  return entry.coveragePercent ?? 0;
}

/** L* of the ink's display colour; the middle when it has none that can be read. */
function lightnessOf(ink: Ink): number {
  return /^#[0-9a-f]{6}$/iu.test(ink.displayHex) ? lightnessOfHex(ink.displayHex) : 50;
}
