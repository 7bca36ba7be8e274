import type { Ask } from './ask.ts';
import type { NotApplicable } from './check.ts';

/** Why films cannot be compared by their marks, or null when they can. */
export function whyNoRegister({ plates, registration }: Ask): NotApplicable | null {
  if (plates.length < 2) return { why: 'A single film has nothing to fit.' };
  if (registration === null) return { why: 'Fewer than two films have marks in common to measure by.' };
  return null;
}
