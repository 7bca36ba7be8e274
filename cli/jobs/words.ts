import type { CustomerAnswerKind } from '../../src/jobs/customerTypes.ts';
import type { RevisionState, RevisionSummary, Standing } from '../../src/jobs/jobTypes.ts';
import { verdictWords } from '../../src/report/words.ts';
import { plainText } from '../plainText.ts';

const stateWords: Record<RevisionState, string> = {
  waiting: 'waiting',
  working: 'being checked',
  checked: 'checked',
  couldNotRun: 'could not be checked',
  setAside: 'set aside',
};

const standingWords: Record<NonNullable<Standing>, string> = { released: 'released', onHold: 'on hold' };

const answerWords: Record<CustomerAnswerKind, string> = {
  approved: 'approved by the customer',
  declined: 'not approved by the customer',
};

/** "Ready to film, released"; "waiting"; "set aside". */
export function inWords({ state, verdict, standing, customerAnswer }: RevisionSummary): string {
  const words = [state === 'checked' && verdict !== null ? verdictWords[verdict] : stateWords[state]];
  if (standing !== null) words.push(standingWords[standing]);
  if (customerAnswer !== null) words.push(answerWords[customerAnswer]);
  return words.join(', ');
}

/** "2026-06-24 09:30", by the clock of this machine. */
export function minuteOf(timeMs: number): string {
  const time = new Date(timeMs);
  const two = (value: number) => String(value).padStart(2, '0');
  return `${time.getFullYear()}-${two(time.getMonth() + 1)}-${two(time.getDate())} ${two(time.getHours())}:${two(time.getMinutes())}`;
}

/** Columns of even width, two spaces apart, without what a terminal would obey. */
export function table(rows: readonly (readonly string[])[]): string {
  const plain = rows.map((row) => row.map(plainText));
  const widths = plain[0]?.map((_, column) => Math.max(...plain.map((row) => [...row[column]].length))) ?? [];
  return plain
    .map((row) =>
      row
        .map((cell, column) => cell + ' '.repeat(widths[column] - [...cell].length))
        .join('  ')
        .trimEnd(),
    )
    .map((line) => `${line}\n`)
    .join('');
}
