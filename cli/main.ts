#!/usr/bin/env node
import { Command } from 'commander';
import { addServeCommands } from './addServeCommands.ts';
import { addJobsCommands } from './jobs/addJobsCommands.ts';
import { usualStoreLocation } from './jobs/storeLocation.ts';
import { addLinkCommands } from './link/addLinkCommands.ts';
import { optimiseLater } from './optimiseLater.ts';
import { positiveNumber, serviceOptions, wholeNumber } from './serviceFlags.ts';
import { version } from './version.ts';

/** Bad arguments and anything else that keeps a command from running. */
const couldNotRun = 2;

optimiseLater();
const program = new Command('plateglass')
  .description('Checks the film positives of a screen-print job before any screen is coated.')
  .version(version())
  .exitOverride()
  .configureOutput({ writeErr: (text) => process.stderr.write(text) });

program
  .command('check')
  .description('inspect the files of one job: a file, several files, or a folder of them')
  .argument('<path...>', 'SVG, PDF, TIFF, PNG, JPEG, WebP, PSD or EPS files, or one folder')
  .option('--ticket <file>', 'job ticket, YAML or JSON; without it the shop defaults apply')
  .option('--shop <file>', 'shop defaults, YAML or JSON; without it shop.yaml in this folder if there is one')
  .option('--out <dir>', 'write report.html, report.pdf, report.json and the pictures here')
  .addOption(program.createOption('--format <format>', 'what to print').choices(['text', 'json']).default('text'))
  .option('--accept-review', 'exit 0 also when something needs a look')
  .option('--dpi <number>', 'resolution of bitmaps that do not say, pixels per inch', positiveNumber)
  .option('--password <text>', 'password of a protected PDF')
  .option('--threads <number>', 'worker threads; 0 works in one thread', wholeNumber)
  .option('--quiet', 'print nothing but errors')
  .option('--name <text>', 'name of the job where the ticket gives none; without it that of the first file')
  .option('--keep-plates', 'with --out: keep the plates as well, for the review in the browser')
  .option(
    '--measured <dir>',
    'folder plates of an earlier check of these films: judge what it measured, where that is enough',
  )
  .option('--stages', 'say each stage of the work on a line of standard error, for programs')
  .action(async (paths: string[], options) => {
    // The threads start while the rest of the program is loaded.
    const { hire } = await import('./hire.ts');
    const crew = await hire(options.threads);
    try {
      const { checkCommand } = await import('./checkCommand.ts');
      process.exitCode = await checkCommand(paths, options, crew);
    } finally {
      await crew.dismiss();
    }
  });

program
  .command('note')
  .description('write the note that asks the customer for changes')
  .argument('<report>', 'report.json of a check, or the name of a job in the store')
  .option('--since <report>', 'report.json of the revision before; without it the one the store has')
  .option('--no-since', 'a first note, whatever came before')
  .addOption(
    program.createOption('--for <reader>', 'who reads it').choices(['customer', 'printer']).default('customer'),
  )
  .addOption(
    program
      .createOption('--format <format>', 'how the note is written')
      .choices(['text', 'markdown', 'html', 'pdf', 'eml'])
      .default('text'),
  )
  .addOption(program.createOption('--units <units>', 'lengths in mm, or in inches and points').choices(['mm', 'inch']))
  .option('--language <language>', 'en, es or de')
  .option('--customer <name>', 'how the customer is greeted')
  .option('--to <address>', 'the customer’s mail address, for eml and --send')
  .option('--send', 'send it through the mail server of the shop’s file; the same note goes out once')
  .option('--again', 'with --send: also when it went out before')
  .option(
    '--store <where>',
    'the job store, for the revision before, the link to the customer’s page, and what is to be sent',
  )
  .option('--blobs <dir>', 'with PostgreSQL: the shared folder of reports and pictures')
  .option('--no-link', 'without a link to the customer’s page')
  .option('--by <day>', 'answer by this day, such as 2030-06-24')
  .option('--shop <file>', 'shop defaults, which hold the shop’s phrases; without it shop.yaml in this folder')
  .option('--out <file>', 'write it here')
  .action(async (report: string, options) => {
    const { noteCommand } = await import('./noteCommand.ts');
    endWith(await noteCommand(report, options));
  });

program
  .command('proof')
  .description('write the one page that the customer signs, from a report.json')
  .argument('<report>', 'report.json of a check, with composite.png beside it')
  .requiredOption('--out <file>', 'the PDF to write')
  .option('--language <language>', 'en, es or de')
  .addOption(program.createOption('--units <units>', 'lengths in mm, or in inches and points').choices(['mm', 'inch']))
  .option('--shop <file>', 'shop defaults; without it shop.yaml in this folder')
  .action(async (report: string, options) => {
    const { proofCommand } = await import('./proofCommand.ts');
    process.exitCode = await proofCommand(report, options);
  });

program
  .command('post')
  .description('send the notes that wait for the mail server')
  .option('--store <where>', 'the job store', usualStoreLocation())
  .option('--shop <file>', 'shop defaults, which name the mail server; without it shop.yaml in this folder')
  .action(async (options) => {
    const { postCommand } = await import('./postCommand.ts');
    endWith(await postCommand(options));
  });

program
  .command('plan')
  .description('print the proposed press plan, from a report.json')
  .argument('<report>', 'report.json of a check')
  .action(async (report: string) => {
    const { planCommand } = await import('./planCommand.ts');
    process.exitCode = await planCommand(report);
  });

const watch = program
  .command('watch')
  .description('check what is dropped in a folder, and put it into a folder by its verdict')
  .argument('<dir>', 'the folder; each file, sub-folder or zip archive in it is one job')
  .option('--settle <seconds>', 'a file must lie still for so long: 3, on a share 10', positiveNumber)
  .option('--sweep <seconds>', 'time between looks: 1, on a share 6', positiveNumber)
  .option('--markers-only', 'take NAME only when NAME.done is there')
  .option('--take-over', 'watch the folder instead of another machine that is gone without giving it back')
  .option('--once', 'end when all that lies there has been checked');
serviceOptions(watch).action(async (folder: string, options) => {
  const { watchCommand } = await import('./watchCommand.ts');
  endWith(await watchCommand(folder, options));
});

const worker = program
  .command('worker')
  .description('check jobs that a watch on another machine takes in, from one store and one shared folder')
  .argument('<dir>', 'the watched folder, under the same path as on the other machines');
serviceOptions(worker).action(async (folder: string, options) => {
  const { workerCommand } = await import('./workerCommand.ts');
  endWith(await workerCommand(folder, options));
});

program
  .command('ticket-schema')
  .description('print the JSON Schema of the job ticket, for editors')
  .action(async () => {
    const { ticketSchemaCommand } = await import('./ticketSchemaCommand.ts');
    process.exitCode = ticketSchemaCommand();
  });

addServeCommands(program, endWith);
addJobsCommands(program);
addLinkCommands(program);

/** A service ends when it has put everything away, whatever a database's own threads still hold open. */
function endWith(exitCode: number): void {
  process.stdout.write('', () => process.exit(exitCode));
}

try {
  await program.parseAsync();
} catch (error) {
  const known = error as { code?: string; exitCode?: number };
  if (known.code?.startsWith('commander.')) process.exitCode = known.exitCode === 0 ? 0 : couldNotRun;
  else {
    const { printError } = await import('./printError.ts');
    printError(error);
    process.exitCode = couldNotRun;
  }
}
