import { fileURLToPath } from 'node:url';
import { checkCommand } from './checkCommand.ts';
import { hire } from './hire.ts';
import { printError } from './printError.ts';

/** The demo jobs and the exit code each is meant to end with. */
const jobs = [
  { name: 'midsummer-tee', exitCode: 0 },
  { name: 'brass-band-films', exitCode: 1 },
  { name: 'choir-order', exitCode: 1 },
];

const fixtures = fileURLToPath(new URL('../../fixtures/jobs/', import.meta.url));

for (const job of jobs) {
  process.stdout.write(`\n$ plateglass check fixtures/jobs/${job.name} --out out/${job.name}.report\n\n`);
  const crew = await hire(undefined);
  try {
    const options = { out: `out/${job.name}.report`, format: 'text' } as const;
    const exitCode = await checkCommand([`${fixtures}${job.name}`], options, crew);
    if (exitCode !== job.exitCode) process.exitCode = 1;
  } catch (error) {
    printError(error);
    process.exitCode = 2;
  } finally {
    await crew.dismiss();
  }
}
