import { LineCounter, parseDocument, visit, type YAMLError, type YAMLWarning } from 'yaml';
import type { TicketProblem } from './ticket.ts';

/** A ticket is a page of text; more is some other file. */
export const maxTicketChars = 200_000;
export const maxTicketNesting = 20;
/** How many nodes aliases may add in all, so that a few lines cannot grow into gigabytes. */
const maxAliases = 50;

export type ParsedTicket =
  | { readonly value: unknown; readonly problems: readonly [] }
  | { readonly value: null; readonly problems: readonly TicketProblem[] };

/**
 * Reads YAML 1.2 or JSON (which YAML takes in) into plain values. Keys given twice, several documents, unknown tags,
 * aliases that multiply and deep nesting are problems, each with its line. An empty text is an empty ticket.
 */
export function parseTicketText(text: string): ParsedTicket {
  if (text.length > maxTicketChars) {
    return wrong([{ path: '', expected: `at most ${maxTicketChars} characters`, received: `${text.length}` }]);
  }
  if (text.includes('\u0000'))
    return wrong([{ path: '', expected: 'a text file', received: 'bytes that are not text' }]);
  const depth = bracketDepth(text);
  if (depth > maxTicketNesting) return wrong([tooDeep(`${depth} levels of brackets`)]);
  const lineCounter = new LineCounter();
  let document: ReturnType<typeof parseDocument>;
  try {
    document = parseDocument(text.replace(/^\uFEFF/u, ''), { lineCounter, uniqueKeys: true, prettyErrors: false });
  } catch {
    return wrong([tooDeep('text that could not be followed')]);
  }
  const problems: TicketProblem[] = [...document.errors, ...document.warnings].map((error) => {
    const { line, col } = lineCounter.linePos(error.pos[0]);
    return describe(error, `line ${line}, column ${col}`, text);
  });
  if (problems.length > 0) return wrong(problems);
  let aliases = 0;
  let deepest = 0;
  visit(document, {
    Alias: () => {
      aliases += 1;
    },
    Collection: (_key, _node, path) => {
      deepest = Math.max(deepest, path.length);
    },
  });
  // Each level of YAML takes two steps of the path: the pair and its collection.
  if (deepest > 2 * maxTicketNesting) return wrong([tooDeep('deeper nesting')]);
  if (aliases > maxAliases) {
    return wrong([{ path: '', expected: `at most ${maxAliases} aliases (*name)`, received: `${aliases}` }]);
  }
  try {
    const value: unknown = document.toJS({ maxAliasCount: maxAliases }) ?? {};
    // Throws on an alias within its own anchor, which would make a value without end.
    JSON.stringify(value);
    return { value, problems: [] };
  } catch {
    const expected = 'aliases (*name) that name an anchor above and repeat a small part of the ticket';
    return wrong([{ path: '', expected, received: 'aliases that multiply, or name nothing' }]);
  }
}

function describe(error: YAMLError | YAMLWarning, place: string, text: string): TicketProblem {
  if (error.message.includes('call stack')) return tooDeep(place);
  if (error.code === 'DUPLICATE_KEY') {
    return {
      path: '',
      expected: 'each key once',
      received: `${place}: the key ${keyAt(text, error.pos[0])} a second time`,
    };
  }
  if (error.code === 'MULTIPLE_DOCS')
    return { path: '', expected: 'one ticket a file', received: `${place}: a second one` };
  return { path: '', expected: 'YAML or JSON', received: `${place}: ${error.message.split('\n')[0].slice(0, 200)}` };
}

function wrong(problems: readonly TicketProblem[]): ParsedTicket {
  return { value: null, problems };
}

function tooDeep(received: string): TicketProblem {
  return { path: '', expected: `at most ${maxTicketNesting} levels of nesting`, received };
}

/** Deepest nesting of brackets, counted before the parser, which calls itself once a level. */
function bracketDepth(text: string): number {
  let depth = 0;
  let deepest = 0;
  for (const char of text) {
    if (char === '[' || char === '{') deepest = Math.max(deepest, ++depth);
    else if ((char === ']' || char === '}') && depth > 0) depth -= 1;
  }
  return deepest;
}

function keyAt(text: string, offset: number): string {
  return JSON.stringify(
    /^[^:\n]{0,60}/u
      .exec(text.slice(offset))?.[0]
      .trim()
      .replace(/^["']|["']$/gu, '') ?? '',
  );
}
