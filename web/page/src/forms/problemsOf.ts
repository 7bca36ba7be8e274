import type { ValueProblem } from '../../../shared/shop.ts';
import { RefusedError } from '../server/ask.ts';

/** The mistakes a refusal tells, each at its path. */
export function problemsOf(error: unknown): readonly ValueProblem[] {
  if (!(error instanceof RefusedError)) return [];
  const body = error.body as { readonly error?: { readonly problems?: readonly ValueProblem[] } } | null;
  return body?.error?.problems ?? [];
}
