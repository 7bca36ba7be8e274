import { asCustomer } from '../../src/jobs/customerTypes.ts';
import type { HistoryEntry, Job, Revision } from '../../src/jobs/jobTypes.ts';
import { isPostgres } from '../../src/jobs/openJobStore.ts';
import { plainText } from '../plainText.ts';
import { UsageError } from '../usageError.ts';
import type { StoreChoice } from './addJobsCommands.ts';
import { withStore } from './openStore.ts';
import { inWords, minuteOf } from './words.ts';

export async function showJob(
  name: string,
  options: StoreChoice & { readonly format: 'text' | 'json' },
): Promise<number> {
  // With PostgreSQL the reports may lie where this machine cannot tell.
  const hasBlobs = options.blobs !== undefined || !isPostgres(options.store);
  await withStore(options, hasBlobs ? 'all' : 'records', async ({ jobs, blobs }) => {
    const job = await jobs.job(name);
    if (job === null)
      throw new UsageError(`There is no job "${name}". plateglass jobs list --name finds parts of a name.`);
    if (options.format === 'json') process.stdout.write(`${JSON.stringify(job, null, 2)}\n`);
    else
      process.stdout.write(
        `${inLines(job, (sha256) => (hasBlobs ? blobs.pathOf(sha256) : sha256))
          .map(plainText)
          .join('\n')}\n`,
      );
  });
  return 0;
}

function inLines(job: Job, pathOf: (sha256: string) => string): string[] {
  return [
    job.customer === null ? job.jobName : `${job.jobName} for ${job.customer}`,
    ...job.revisions.toReversed().flatMap((revision) => ['', ...revisionLines(revision, pathOf)]),
    '',
    'History',
    ...job.history.map((entry) => `  ${historyLine(entry)}`),
  ];
}

function revisionLines(revision: Revision, pathOf: (sha256: string) => string): string[] {
  const { files, ticketFile, place } = revision;
  const lines = [
    `Revision ${revision.revision}, arrived ${minuteOf(revision.arrivedAt)}: ${inWords(revision)}`,
    ...(revision.reason === null ? [] : [`  ${revision.reason}`]),
    `  files   ${files.map(({ name }) => name).join(', ')}`,
    `  ticket  ${ticketFile?.name ?? 'none'}`,
    ...(place.at === null ? [] : [`  lie in  ${place.at}`]),
    ...(place.movingTo === null ? [] : [`  go to   ${place.movingTo}`]),
    ...(revision.inkNames.length === 0 ? [] : [`  inks    ${revision.inkNames.join(', ')}`]),
  ];
  for (const { kind, name, sha256 } of revision.artifacts) {
    if (kind !== 'picture') lines.push(`  report  ${name}: ${pathOf(sha256)}`);
  }
  for (const [index, { kind, name, at, remark }] of revision.answers.entries()) {
    const replaced = index < revision.answers.length - 1 ? '; answered again later' : '';
    const what = kind === 'approved' ? 'approved it' : 'did not approve it';
    lines.push(`  ${asCustomer(name)} ${what}, ${minuteOf(at)}${remark === '' ? '' : `: ${remark}`}${replaced}`);
  }
  for (const { kind, by, at, reason, finding, undone } of revision.decisions) {
    const what = {
      release: 'released',
      hold: 'put on hold',
      askCustomer: 'asked the customer',
      acceptFinding: `accepted ${finding?.checkId}`,
      doOurselves: `takes on ${finding?.checkId}`,
    }[kind];
    const why = reason === '' ? '' : `: ${reason}`;
    lines.push(`  ${by} ${what}, ${minuteOf(at)}${why}${undone === null ? '' : `; undone by ${undone.by}`}`);
  }
  return lines;
}

const historyWords: Readonly<Record<string, string>> = {
  arrived: 'brought it',
  claimed: 'began to check it',
  handedBack: 'handed it back',
  leaseRanOut: 'stopped answering',
  failed: 'failed',
  checked: 'checked it',
  couldNotRun: 'could not check it',
  setAside: 'set it aside',
  triedAgain: 'asked to check it again',
  moved: 'moved its files',
  moveUndone: 'left its files where they were',
  released: 'released it',
  putOnHold: 'put it on hold',
  customerAsked: 'asked the customer',
  takenOn: 'takes on a finding',
  findingAccepted: 'accepted a finding',
  decisionUndone: 'undid a decision',
  mailQueued: 'gave a mail to the post',
  mailSent: 'sent a mail',
  mailGivenUp: 'gave a mail up',
  pruned: 'removed its records',
  linkMade: 'made a link for the customer',
  linkRevoked: 'closed a link for the customer',
  customerApproved: 'approved it',
  customerDeclined: 'did not approve it',
};

function historyLine({ at, who, what, revision, detail }: HistoryEntry): string {
  const reason = typeof detail.reason === 'string' && detail.reason !== '' ? `: ${detail.reason}` : '';
  return `${minuteOf(at)}  rev. ${revision ?? '-'}  ${who} ${historyWords[what] ?? what}${reason}`;
}
