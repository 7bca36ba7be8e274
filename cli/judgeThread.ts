import { readFile } from 'node:fs/promises';
import { type JudgedAgain, judgeAgain, type MeasuredFacts, unpackFacts } from '../src/inspect/measuredFacts.ts';
import { resolveTicket } from '../src/ticket/resolveTicket.ts';
import { WrongTicketError } from '../src/ticket/ticket.ts';
import type { JudgeOrder } from '../web/server/judgeAgain.ts';
import { programMark } from './programMark.ts';
import { version } from './version.ts';

/** Spread out, the facts of one job take up to some hundred megabytes. */
const mostKept = 2;
const kept = new Map<string, MeasuredFacts | null>();

/** Errors lose their class on the way between threads. */
export type JudgeAnswer =
  | JudgedAgain
  | { readonly kind: 'wrongTicket'; readonly fileName: string; readonly problems: WrongTicketError['problems'] };

/** Judges one job in a thread of its own. */
export default async function judge({ factsFile, jobName, ticket, shop }: JudgeOrder): Promise<JudgeAnswer> {
  const facts = await factsIn(factsFile);
  if (facts === null)
    return { kind: 'notMeasured', reasons: ['They were measured by another version of the program.'] };
  try {
    const resolved = resolveTicket({ ticket: ticket ?? undefined, shop: shop ?? undefined });
    return judgeAgain(facts, { jobName: resolved.job?.value ?? jobName, ticket: resolved, version: version() });
  } catch (error) {
    if (!(error instanceof WrongTicketError)) throw error;
    return { kind: 'wrongTicket', fileName: error.fileName, problems: error.problems };
  }
}

async function factsIn(file: string): Promise<MeasuredFacts | null> {
  const known = kept.get(file);
  if (known !== undefined) return known;
  const facts = unpackFacts(await readFile(file), programMark());
  kept.set(file, facts);
  if (kept.size > mostKept) kept.delete(kept.keys().next().value!);
  return facts;
}
