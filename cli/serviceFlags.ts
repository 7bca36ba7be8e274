import { type Command, InvalidArgumentError } from 'commander';

/** Options of every command that checks jobs until it is asked to end. */
export function serviceOptions(command: Command): Command {
  return command
    .option('--store <where>', 'the job store: a folder on a disk of this machine, or postgres://…')
    .option('--blobs <dir>', 'where reports and pictures are kept; needed with postgres, and shared by all machines')
    .option('--shop <file>', 'shop defaults; without it shop.yaml in this folder if there is one')
    .option('--outcomes <dir>', 'make the folders of the verdicts here instead of in the watched folder')
    .option('--log <dir>', 'write the log here')
    .option('--hands <number>', 'jobs at once; without it by cores and memory', wholeNumber)
    .option('--memory <megabytes>', 'memory one job may have', positiveNumber)
    .option('--time-limit <seconds>', 'time one job may take: 1200', positiveNumber)
    .option('--lease <seconds>', 'what a worker that is gone was checking is taken over after: 30', positiveNumber)
    .option('--grace <seconds>', 'when asked to end, wait so long for running checks: 30', positiveNumber)
    .option('--metrics-port <port>', 'figures and state at http://127.0.0.1:PORT/metrics and /health', portNumber)
    .option('--notify-command <line>', 'run this with each result as JSON on its standard input')
    .option('--webhook <url>', 'post each result as JSON to this address')
    .option('--webhook-secret <file>', 'sign what is posted with the secret in this file');
}

export function portNumber(text: string): number {
  const value = Number(text);
  if (!Number.isInteger(value) || value < 1 || value > 65_535)
    throw new InvalidArgumentError('It takes a port number from 1 to 65535.');
  return value;
}

export function positiveNumber(text: string): number {
  const value = Number(text);
  if (!(value > 0) || !Number.isFinite(value)) throw new InvalidArgumentError('It takes a number above 0.');
  return value;
}

export function wholeNumber(text: string): number {
  if (!/^\d{1,2}$/.test(text)) throw new InvalidArgumentError('It takes a whole number from 0 to 99.');
  return Number(text);
}
