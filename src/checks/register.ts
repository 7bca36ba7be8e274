import type { Limit } from '../findings/finding.ts';
import type { PlateRegister } from '../measurements/marks.ts';
import type { Ask } from './ask.ts';
import type { NotApplicable } from './check.ts';
import { limitsOf } from './subject.ts';

/** Why films cannot be compared, or null when they can. */
export function whyNoRegister({ plates, registration }: Ask): NotApplicable | null {
  if (plates.length < 2) return { why: 'A single film has nothing to fit.' };
  if (registration === null) return { why: 'Fewer than two films have marks in common to measure by.' };
  return null;
}

/** How far films may lie off: what the press holds, or the smallest trap of the job where that is less. */
export function registerLimit(ask: Ask): Limit {
  let least = ask.ticket.limits.registrationMm;
  for (const plate of ask.plates) {
    if (!plate.ink.printed) continue;
    const { trapMm } = limitsOf(ask, plate);
    if (trapMm.value > 0 && trapMm.value < least.value) least = trapMm;
  }
  return least;
}

/** The other plates' registers, the reference left out. */
export function registersOf({ registration }: Ask): readonly PlateRegister[] {
  return registration!.plates.filter(({ plateId }) => plateId !== registration!.referencePlateId);
}

/** What to doubt of a register that no mark bears out; undefined where marks do. */
export function doubtOf({ marksUsed }: PlateRegister, inkName: string): string | undefined {
  return marksUsed > 0
    ? undefined
    : `${inkName} has no marks in common with the others: this is how the outlines of its art fit theirs.`;
}
