import type { z } from 'zod';
import { parseTicketText } from './parseTicketText.ts';
import type { TicketProblem } from './ticket.ts';
import { problemsOf } from './ticketProblems.ts';

/**
 * The values of a ticket or shop file that its schema accepts. What it does not accept is left out and noted in
 * `problems`, so that the rest can still be checked and everything wrong is told at once. Null when nothing can be read.
 */
export function readValues<S extends z.ZodType>(
  text: string,
  schema: S,
  problems: TicketProblem[],
): z.output<S> | null {
  const parsed = parseTicketText(text);
  problems.push(...parsed.problems);
  if (parsed.problems.length > 0) return null;
  let value: unknown = structuredClone(parsed.value);
  for (;;) {
    const result = schema.safeParse(value);
    if (result.success) return result.data;
    for (const problem of problemsOf(result.error.issues, value)) addProblem(problems, problem);
    const before = JSON.stringify(value);
    for (const path of wrongPaths(result.error.issues)) value = without(value, path);
    if (value === undefined || JSON.stringify(value) === before) return null;
  }
}

/** Adds a problem unless its place, or something around it, is named already: one mistake is told once. */
export function addProblem(problems: TicketProblem[], problem: TicketProblem): void {
  const told = problems.some(({ path }) => {
    const rest = problem.path.startsWith(path) ? problem.path.slice(path.length) : null;
    return path !== '' && rest !== null && (rest === '' || rest.startsWith('.') || rest.startsWith('['));
  });
  if (!told) problems.push(problem);
}

function wrongPaths(issues: readonly z.core.$ZodIssue[]): readonly (readonly PropertyKey[])[] {
  return issues.flatMap((issue) =>
    issue.code === 'unrecognized_keys' ? issue.keys.map((key) => [...issue.path, key]) : [issue.path],
  );
}

/** The value without what stands at the path. An entry of a list is emptied and keeps its place, so that paths stay true. */
function without(value: unknown, path: readonly PropertyKey[]): unknown {
  if (path.length === 0) return undefined;
  const parent = path.slice(0, -1).reduce<unknown>((at, step) => childOf(at, step), value);
  const last = path[path.length - 1];
  if (Array.isArray(parent) && typeof last === 'number') {
    const entry: unknown = parent[last];
    const empty = typeof entry === 'object' && entry !== null && Object.keys(entry).length === 0;
    // An empty entry that is still wrong cannot be mended: the whole list goes.
    if (empty) return without(value, path.slice(0, -1));
    parent[last] = {};
  } else if (typeof parent === 'object' && parent !== null) {
    Reflect.deleteProperty(parent, last);
  }
  return value;
}

function childOf(value: unknown, step: PropertyKey): unknown {
  if (typeof value !== 'object' || value === null || !Object.hasOwn(value, step)) return undefined;
  return (value as Record<PropertyKey, unknown>)[step];
}
