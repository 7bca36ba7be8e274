import { type Command, Option } from 'commander';
import { usualStoreLocation } from './jobs/storeLocation.ts';
import { portNumber, positiveNumber, serviceOptions } from './serviceFlags.ts';

/** `plateglass serve` and the accounts of those who sign in there. */
export function addServeCommands(program: Command, endWith: (exitCode: number) => void): void {
  const serve = program
    .command('serve')
    .description('open the review in the browser; it also checks what is dropped there or in a watched folder')
    .option('--watch <dir>', 'watch this folder too, as the command watch does')
    .option('--port <port>', 'port: 4180', portNumber)
    .option('--host <address>', 'listen on this address of the machine; beyond 127.0.0.1 with accounts and https only')
    .option('--name <host...>', 'a name it is reached by, besides its address')
    .option('--tls-cert <file>', 'certificate for https, PEM')
    .option('--tls-key <file>', 'its key, PEM')
    .option('--behind-proxy <host>', 'a proxy on this machine serves it by https under this name')
    .option('--customer-address <address:port>', 'serve the page of links for customers here, and nothing else')
    .option('--customer-url <url>', 'where customers reach it; without it customerPage.address of the shop’s file')
    .option('--customer-tls-cert <file>', 'its certificate, PEM; without it that of the review')
    .option('--customer-tls-key <file>', 'the key of that, PEM')
    .option('--with-accounts', 'ask for an account on this machine too')
    .option('--settle <seconds>', 'with --watch: a file must lie still for so long', positiveNumber)
    .option('--sweep <seconds>', 'with --watch: time between looks', positiveNumber)
    .option('--markers-only', 'with --watch: take NAME only when NAME.done is there')
    .option('--take-over', 'with --watch: watch the folder instead of another machine that is gone');
  serviceOptions(serve).action(async (options) => {
    const { serveCommand } = await import('./serveCommand.ts');
    endWith(await serveCommand(options));
  });

  const accounts = program.command('accounts').description('who may sign in to the review');
  const onStore = (command: Command) =>
    command.option('--store <place>', 'the job store the review is served from', usualStoreLocation());
  onStore(accounts.command('add').description('add an account, or give one another role and passphrase'))
    .argument('<name>', 'name, as it will stand beside decisions')
    .addOption(
      new Option('--role <role>', 'what it may do').choices(['look', 'decide', 'administer']).default('decide'),
    )
    .action(async (name: string, options) => {
      const { addAccount } = await import('./accountsCommand.ts');
      process.exitCode = await addAccount(name, options);
    });
  onStore(accounts.command('remove').description('take an account away'))
    .argument('<name>', 'name of the account')
    .action(async (name: string, options) => {
      const { removeAccount } = await import('./accountsCommand.ts');
      process.exitCode = await removeAccount(name, options);
    });
  onStore(accounts.command('list').description('list the accounts')).action(async (options) => {
    const { listAccounts } = await import('./accountsCommand.ts');
    process.exitCode = await listAccounts(options);
  });
}
