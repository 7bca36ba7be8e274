import { customerUrl, newCustomerLink } from '../../src/jobs/customerToken.ts';
import { customerPageSettings } from '../customerPageSettings.ts';
import { withStore } from '../jobs/openStore.ts';
import { minuteOf } from '../jobs/words.ts';
import { languageOf } from '../noteWish.ts';
import { plainText } from '../plainText.ts';
import { UsageError } from '../usageError.ts';
import type { NewLinkChoice } from './addLinkCommands.ts';

const dayMs = 86_400_000;

/** The address alone goes to standard output, for other programs. */
export async function makeLink(name: string, options: NewLinkChoice): Promise<number> {
  const settings = await customerPageSettings(options.shop);
  const address = addressOf(options.address) ?? settings.address;
  if (address === null)
    throw new UsageError(
      'Say where customers reach the page: --address https://films.shop.example, or customerPage.address in the shop’s file.',
    );
  const language = options.language === undefined ? null : languageOf(options.language);
  const validForMs = (options.days ?? settings.validDays) * dayMs;
  return withStore(options, 'records', async ({ jobs }) => {
    const job = await jobs.job(name);
    if (job === null)
      throw new UsageError(`There is no job "${name}". plateglass jobs list --name finds parts of a name.`);
    const wish = { jobId: job.jobId, by: options.by, validForMs, language, units: options.units ?? null };
    const { link, token } = await newCustomerLink(jobs, wish);
    process.stdout.write(`${customerUrl(address, token)}\n`);
    process.stderr.write(
      `${plainText(`Link ${link.id} to "${job.jobName}", valid until ${minuteOf(link.expiresAt)}. Whoever has it may see the job and answer.`)}\n`,
    );
    return 0;
  });
}

function addressOf(text: string | undefined): string | null {
  if (text === undefined) return null;
  if (!URL.canParse(text) || !/^https?:$/.test(new URL(text).protocol) || /[?#]/.test(text))
    throw new UsageError(`--address takes an address such as https://films.shop.example, not ${text}.`);
  return text;
}
