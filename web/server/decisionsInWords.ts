import type { DecisionFacts, JobFacts } from '../shared/jobs.ts';

const words = { release: 'released for filming', hold: 'put on hold', acceptFinding: 'accepted a finding' } as const;

/** What was decided of each revision, latest first, for people who read it without the program. */
export function decisionsInWords({ jobName, revisions }: JobFacts): string {
  const parts = revisions.map(({ revision, isLatest, standing, decisions }) => {
    const stands =
      standing === 'released'
        ? isLatest
          ? 'released'
          : 'was released; a later revision came, so it is no longer'
        : standing === 'onHold'
          ? 'on hold'
          : 'not decided';
    const lines = decisions.map(lineOf);
    return [`Revision ${revision}: ${stands}`, ...(lines.length === 0 ? ['  no decisions'] : lines)].join('\n');
  });
  return `${oneLine(jobName)}\n\n${parts.join('\n\n')}\n`;
}

function lineOf({ kind, by, reason, at, finding, undone }: DecisionFacts): string {
  const about = finding === null ? '' : ` (${finding.checkId}, ${finding.code}: ${finding.inkNames.join(', ')})`;
  const why = reason === '' ? '' : `: ${reason}`;
  const later =
    undone === null
      ? ''
      : `; undone ${timeOf(undone.at)} by ${undone.by}${undone.reason === '' ? '' : `: ${undone.reason}`}`;
  return `  ${oneLine(`${timeOf(at)} ${by} ${words[kind]}${about}${why}${later}`)}`;
}

function timeOf(at: number): string {
  return `${new Date(at).toISOString().slice(0, 16).replace('T', ' ')} UTC`;
}

function oneLine(text: string): string {
  // biome-ignore lint/suspicious/noControlCharactersInRegex: a name may hold them, a line of text must not.
  return text.replace(/[\u0000-\u001f\u007f-\u009f]+/g, ' ');
}
