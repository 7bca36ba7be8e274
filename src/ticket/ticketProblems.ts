import type { z } from 'zod';
import type { TicketProblem } from './ticket.ts';

/** What the schema found wrong with a value, as problems for people. */
export function problemsOf(issues: readonly z.core.$ZodIssue[], root: unknown): readonly TicketProblem[] {
  return issues.flatMap((issue) => problemsOfIssue(issue, [], root));
}

function problemsOfIssue(
  issue: z.core.$ZodIssue,
  above: readonly PropertyKey[],
  root: unknown,
): readonly TicketProblem[] {
  const path = [...above, ...issue.path];
  if (issue.code === 'unrecognized_keys') {
    const known = knownKeys(issue.message);
    return issue.keys.map((key) => ({
      path: writePath([...path, key]),
      expected: suggestKey(key, known),
      received: showValue(valueAt(root, [...path, key])),
    }));
  }
  if (issue.code === 'invalid_union') {
    // The branch of the value's own type says what is wrong inside it.
    const branch = issue.errors.find((issues) => issues.every((inner) => inner.path.length > 0 || isInside(inner)));
    if (branch) return branch.flatMap((inner) => problemsOfIssue(inner, path, root));
  }
  return [{ path: writePath(path), expected: issue.message, received: showValue(valueAt(root, path)) }];
}

function isInside(issue: z.core.$ZodIssue): boolean {
  return issue.code !== 'invalid_type';
}

/** `screens[2].mesh.threadUm`; the whole ticket is the empty path. */
export function writePath(path: readonly PropertyKey[]): string {
  let written = '';
  for (const step of path) {
    if (typeof step === 'number') written += `[${step}]`;
    else if (/^[\p{L}_$][\p{L}\p{N}_$]*$/u.test(String(step)))
      written += written === '' ? String(step) : `.${String(step)}`;
    else written += `[${JSON.stringify(String(step).slice(0, 80))}]`;
  }
  return written;
}

/** A value as people will recognise it, cut short. */
export function showValue(value: unknown): string {
  if (value === undefined || value === null) return 'nothing';
  if (typeof value === 'string')
    return `the text ${JSON.stringify(value.length > 60 ? `${value.slice(0, 60)}…` : value)}`;
  if (Array.isArray(value)) return `a list of ${value.length}`;
  if (typeof value === 'object') return 'a group of keys';
  return String(value);
}

function valueAt(root: unknown, path: readonly PropertyKey[]): unknown {
  let value = root;
  for (const step of path) {
    if (typeof value !== 'object' || value === null || !Object.hasOwn(value, step)) return undefined;
    value = (value as Record<PropertyKey, unknown>)[step];
  }
  return value;
}

/** The keys of a section, from the sentence its schema gives: `a group of keys: a, b, c`. */
function knownKeys(message: string): readonly string[] {
  return message.split(': ')[1]?.split(', ') ?? [];
}

function suggestKey(key: string, known: readonly string[]): string {
  const ranked = known
    .map((candidate) => ({ candidate, distance: editDistance(key.toLowerCase(), candidate.toLowerCase()) }))
    .sort((a, b) => a.distance - b.distance);
  const best = ranked[0];
  const close = best !== undefined && best.distance <= Math.max(1, Math.floor(best.candidate.length / 3));
  return close ? `no such key; did you mean ${best.candidate}?` : `no such key; one of ${known.join(', ')}`;
}

/** Levenshtein distance; keys are cut at 60 characters. */
function editDistance(a: string, b: string): number {
  const from = a.slice(0, 60);
  const to = b.slice(0, 60);
  let row = Array.from({ length: to.length + 1 }, (_, index) => index);
  for (let i = 1; i <= from.length; i++) {
    const next = [i];
    for (let j = 1; j <= to.length; j++) {
      const change = row[j - 1] + (from[i - 1] === to[j - 1] ? 0 : 1);
      next.push(Math.min(change, row[j] + 1, next[j - 1] + 1));
    }
    row = next;
  }
  return row[to.length];
}
