import { type Command, InvalidArgumentError, Option } from 'commander';
import type { JobFilter } from '../../src/jobs/jobTypes.ts';
import { usualStoreLocation } from './storeLocation.ts';

const verdicts = ['pass', 'needsReview', 'fail', 'couldNotRun'];
const states = ['waiting', 'working', 'checked', 'couldNotRun', 'setAside'];

export interface StoreChoice {
  readonly store: string;
  readonly blobs?: string;
}

/** The options of list and export as commander gives them. */
export interface FilterChoice {
  readonly name?: string;
  readonly customer?: string;
  readonly ink?: string;
  readonly from?: number;
  readonly until?: number;
  readonly verdict?: JobFilter['verdicts'];
  readonly state?: JobFilter['states'];
  readonly standing?: JobFilter['standing'];
  readonly allRevisions?: boolean;
}

/** `plateglass jobs …`: what the store holds, for people and for other programs. */
export function addJobsCommands(program: Command): void {
  const jobs = program.command('jobs').description('look through the job store, and keep it in order');

  withFilters(onStore(jobs.command('list').description('list jobs, the latest arrival first')))
    .option('--limit <number>', 'at most this many', wholeNumber, 50)
    .addOption(new Option('--format <format>', 'what to print').choices(['text', 'json']).default('text'))
    .action(async (options) => {
      const { listJobs } = await import('./listJobs.ts');
      process.exitCode = await listJobs(options);
    });

  onStore(jobs.command('show').description('show a job with its revisions, decisions and history'))
    .argument('<name>', 'name of the job')
    .addOption(new Option('--format <format>', 'what to print').choices(['text', 'json']).default('text'))
    .action(async (name: string, options) => {
      const { showJob } = await import('./showJob.ts');
      process.exitCode = await showJob(name, options);
    });

  withFilters(onStore(jobs.command('export').description('write all jobs that fit to a file for other programs')))
    .addOption(new Option('--format <format>', 'kind of file').choices(['csv', 'json']).default('csv'))
    .option('--out <file>', 'file to write, which must not exist; without it, standard output')
    .action(async (options) => {
      const { exportJobs } = await import('./exportJobs.ts');
      process.exitCode = await exportJobs(options);
    });

  onStore(jobs.command('again').description('check the latest revision of a job again, also one that was set aside'))
    .argument('<name>', 'name of the job')
    .option('--by <name>', 'who asks for it, for the history', userName())
    .action(async (name: string, options) => {
      const { checkAgain } = await import('./checkAgain.ts');
      process.exitCode = await checkAgain(name, options);
    });

  onStore(jobs.command('prune').description('remove old records and the reports that belong to them'))
    .requiredOption('--older-than <days>', 'remove what ended more than so many days ago', wholeNumber)
    .option('--also-latest', 'remove the latest revision of a job too, when all others go')
    .option('--also-released', 'remove what was released too')
    .option('--try-out', 'only say what would be removed')
    .option('--by <name>', 'who asks for it, for the history', userName())
    .action(async (options) => {
      const { pruneJobs } = await import('./pruneJobs.ts');
      process.exitCode = await pruneJobs(options);
    });

  onStore(jobs.command('backup').description('write a backup of records, reports and pictures'))
    .argument('<dir>', 'folder that is not there yet, or empty')
    .action(async (folder: string, options) => {
      const { backupJobs } = await import('./backupJobs.ts');
      process.exitCode = await backupJobs(folder, options);
    });

  onStore(jobs.command('restore').description('restore a backup into a store that holds no jobs'))
    .argument('<dir>', 'folder with the backup')
    .action(async (folder: string, options) => {
      const { restoreJobs } = await import('./backupJobs.ts');
      process.exitCode = await restoreJobs(folder, options);
    });
}

function onStore(command: Command): Command {
  return command
    .option(
      '--store <place>',
      'the job store: its folder, a folder that is watched, or postgres://…',
      usualStoreLocation(),
    )
    .option('--blobs <dir>', 'where reports and pictures are kept; with PostgreSQL a folder all machines share');
}

function withFilters(command: Command): Command {
  return command
    .option('--name <text>', 'part of the name')
    .option('--customer <text>', 'part of the customer’s name')
    .option('--ink <text>', 'part of the name of an ink')
    .option('--from <date>', 'arrived on this day or later, as in 2026-06-24', startOfDay)
    .option('--until <date>', 'arrived on this day or before', endOfDay)
    .option('--verdict <list>', `one or more of ${verdicts.join(',')}`, oneOrMore(verdicts))
    .option('--state <list>', `one or more of ${states.join(',')}`, oneOrMore(states))
    .addOption(new Option('--standing <standing>', 'what people decided').choices(['released', 'onHold', 'none']))
    .option('--all-revisions', 'earlier revisions too, not only the latest of each job');
}

function oneOrMore(allowed: readonly string[]) {
  return (text: string): string[] => {
    const wanted = text.split(',').map((word) => word.trim());
    const wrong = wanted.find((word) => !allowed.includes(word));
    if (wrong !== undefined) throw new InvalidArgumentError(`"${wrong}" is none of ${allowed.join(', ')}.`);
    return wanted;
  };
}

/** Days begin at midnight where the program runs. */
function startOfDay(text: string): number {
  return day(text, 0);
}

function endOfDay(text: string): number {
  return day(text, 1);
}

function day(text: string, later: number): number {
  const match = /^(\d{4})-(\d{2})-(\d{2})$/.exec(text);
  const [year, month, date] = (match ?? []).slice(1).map(Number);
  const start = new Date(year, month - 1, date);
  if (match === null || start.getMonth() !== month - 1 || start.getDate() !== date) {
    throw new InvalidArgumentError('It takes a date as in 2026-06-24.');
  }
  return new Date(year, month - 1, date + later).getTime();
}

function wholeNumber(text: string): number {
  if (!/^\d{1,6}$/.test(text)) throw new InvalidArgumentError('It takes a whole number.');
  return Number(text);
}

function userName(): string {
  return process.env.USER || process.env.LOGNAME || 'command line';
}
