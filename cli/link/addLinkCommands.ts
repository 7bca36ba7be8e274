import { type Command, InvalidArgumentError, Option } from 'commander';
import type { StoreChoice } from '../jobs/addJobsCommands.ts';
import { usualStoreLocation } from '../jobs/storeLocation.ts';

export interface LinkChoice extends StoreChoice {
  readonly by: string;
}

export interface NewLinkChoice extends LinkChoice {
  readonly days?: number;
  readonly language?: string;
  readonly units?: 'mm' | 'inch';
  readonly address?: string;
  readonly shop?: string;
}

/** `plateglass link …`: links by which a customer sees one job. */
export function addLinkCommands(program: Command): void {
  const links = program.command('link').description('links by which a customer sees one job, and answers');

  byName(onStore(links.command('make').description('make a link to a job, and print it; it is told this once')))
    .argument('<job>', 'name of the job')
    .option('--days <number>', 'how long it is valid; without it as the shop’s file says, else 14', days)
    .option('--language <language>', 'en, es or de; without it the page speaks as the customer’s browser asks')
    .addOption(new Option('--units <units>', 'lengths on the page').choices(['mm', 'inch']))
    .option('--address <url>', 'where customers reach the page; without it customerPage.address of the shop’s file')
    .option('--shop <file>', 'shop defaults; without it shop.yaml in this folder')
    .action(async (job: string, options: NewLinkChoice) => {
      const { makeLink } = await import('./makeLink.ts');
      process.exitCode = await makeLink(job, options);
    });

  onStore(links.command('list').description('list links, of a job or of all, the latest first'))
    .argument('[job]', 'name of the job')
    .action(async (job: string | undefined, options: StoreChoice) => {
      const { listLinks } = await import('./listLinks.ts');
      process.exitCode = await listLinks(job, options);
    });

  byName(onStore(links.command('revoke').description('close a link at once')))
    .argument('<number>', 'number of the link, as list tells it', linkNumber)
    .action(async (id: number, options: LinkChoice) => {
      const { revokeLink } = await import('./revokeLink.ts');
      process.exitCode = await revokeLink(id, options);
    });
}

function onStore(command: Command): Command {
  return command.option(
    '--store <place>',
    'the job store: its folder, a folder that is watched, or postgres://…',
    usualStoreLocation(),
  );
}

function byName(command: Command): Command {
  const user = process.env.USER || process.env.LOGNAME || 'command line';
  return command.option('--by <name>', 'who asks for it, for the history', user);
}

function days(text: string): number {
  if (!/^\d{1,3}$/.test(text) || Number(text) < 1 || Number(text) > 365)
    throw new InvalidArgumentError('It takes days, 1 to 365.');
  return Number(text);
}

function linkNumber(text: string): number {
  if (!/^\d{1,9}$/.test(text)) throw new InvalidArgumentError('It takes the number of a link.');
  return Number(text);
}
