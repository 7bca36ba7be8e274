import { readFile } from 'node:fs/promises';
import { dirname, resolve } from 'node:path';
import type { NoticeTargets } from '../src/intake/notices.ts';
import { parseTicketText } from '../src/ticket/parseTicketText.ts';
import type { ShopValues } from '../src/ticket/ticketSchema.ts';
import { shopSchema } from '../src/ticket/ticketSchema.ts';
import { UsageError } from './usageError.ts';

export interface NoticeOptions {
  readonly notifyCommand?: string;
  readonly webhook?: string;
  readonly webhookSecret?: string;
}

/**
 * Whom the shop wants told: the options, else `notify` in its file. The secret is in a file, or in the variable
 * PLATEGLASS_WEBHOOK_SECRET, so that it never stands in a list of processes.
 */
export async function noticeTargets(shopFile: string | undefined, options: NoticeOptions): Promise<NoticeTargets> {
  const notify = shopFile === undefined ? undefined : await notifyOf(shopFile);
  const url = options.webhook ?? notify?.webhook?.url;
  const ofShop = notify?.webhook?.secretFile;
  const secretFile =
    options.webhookSecret ?? (ofShop === undefined ? undefined : resolve(dirname(resolve(shopFile!)), ofShop));
  return {
    command: options.notifyCommand ?? notify?.command ?? null,
    webhook: url === undefined ? null : { url, secret: await secretOf(secretFile) },
  };
}

/** A shop file with mistakes is reported by who loads it as a whole. */
async function notifyOf(shopFile: string): Promise<ShopValues['notify']> {
  const parsed = shopSchema.safeParse(parseTicketText(await readFile(shopFile, 'utf8')).value ?? {});
  return parsed.success ? parsed.data.notify : undefined;
}

async function secretOf(file: string | undefined): Promise<string | null> {
  if (file === undefined) return process.env.PLATEGLASS_WEBHOOK_SECRET || null;
  try {
    return (await readFile(file, 'utf8')).trim();
  } catch {
    throw new UsageError(`The secret ${file} is not there, or may not be read.`);
  }
}
