import { asCustomer, type CustomerAnswer } from '../../src/jobs/customerTypes.ts';
import { decisionLines, standingSentence } from '../../src/report/decisionWords.ts';
import type { ReportDecisions } from '../../src/report/reportJson.ts';

/** What was decided of each revision, for people who read it without the program. */
export function decisionsInWords(
  jobName: string,
  revisions: readonly { readonly decisions: ReportDecisions; readonly answers: readonly CustomerAnswer[] }[],
): string {
  const parts = revisions.map(({ decisions, answers }) => {
    const lines = decisionLines(decisions, []).map(
      ({ when, who, what, reason, undone }) =>
        `  ${oneLine([`${when} ${who}`, what, reason, undone].filter((part) => part !== '').join('; '))}`,
    );
    const answered = answers.map((answer, index) => `  ${oneLine(answerLine(answer, index === answers.length - 1))}`);
    return [standingSentence(decisions), ...(lines.length === 0 ? ['  no decisions'] : lines), ...answered].join('\n');
  });
  return `${oneLine(jobName)}\n\n${parts.join('\n\n')}\n`;
}

function answerLine({ kind, name, remark, at, contentKey }: CustomerAnswer, counts: boolean): string {
  const when = `${new Date(at).toISOString().slice(0, 16).replace('T', ' ')} UTC`;
  const what = kind === 'approved' ? 'Approved' : 'Not approved';
  const films = `films ${contentKey.slice(0, 16)}`;
  const said = [`${when} ${asCustomer(name)}`, what, remark, films, counts ? '' : 'answered again later'];
  return said.filter((part) => part !== '').join('; ');
}

function oneLine(text: string): string {
  // biome-ignore lint/suspicious/noControlCharactersInRegex: a name may hold them, a line of text must not.
  return text.replace(/[\u0000-\u001f\u007f-\u009f]+/g, ' ');
}
