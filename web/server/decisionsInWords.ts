import { decisionLines, standingSentence } from '../../src/report/decisionWords.ts';
import type { ReportDecisions } from '../../src/report/reportJson.ts';

/** What was decided of each revision, for people who read it without the program. */
export function decisionsInWords(jobName: string, revisions: readonly ReportDecisions[]): string {
  const parts = revisions.map((decisions) => {
    const lines = decisionLines(decisions, []).map(
      ({ when, who, what, reason, undone }) =>
        `  ${oneLine([`${when} ${who}`, what, reason, undone].filter((part) => part !== '').join('; '))}`,
    );
    return [standingSentence(decisions), ...(lines.length === 0 ? ['  no decisions'] : lines)].join('\n');
  });
  return `${oneLine(jobName)}\n\n${parts.join('\n\n')}\n`;
}

function oneLine(text: string): string {
  // biome-ignore lint/suspicious/noControlCharactersInRegex: a name may hold them, a line of text must not.
  return text.replace(/[\u0000-\u001f\u007f-\u009f]+/g, ' ');
}
