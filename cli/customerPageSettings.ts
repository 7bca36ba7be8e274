import { readFile } from 'node:fs/promises';
import { basename, resolve } from 'node:path';
import { parseTicketText } from '../src/ticket/parseTicketText.ts';
import { resolveTicket } from '../src/ticket/resolveTicket.ts';
import { shopSchema } from '../src/ticket/ticketSchema.ts';
import { UsageError } from './usageError.ts';

export const usualValidDays = 14;

export interface CustomerPageSettings {
  /** Where customers reach the page of a link: "https://films.shop.example"; null: the shop has not said. */
  readonly address: string | null;
  readonly validDays: number;
}

/** `customerPage` of the shop's file. */
export async function customerPageSettings(shopFile: string | undefined): Promise<CustomerPageSettings> {
  const path = resolve(shopFile ?? 'shop.yaml');
  const text = await readFile(path, 'utf8').catch(() => null);
  if (text === null && shopFile !== undefined)
    throw new UsageError(`${shopFile} is not there, or may not be read. Check the name.`);
  // Its mistakes are told as those of every shop file.
  if (text !== null) resolveTicket({ ticket: undefined, shop: { fileName: basename(path), text } });
  const given = text === null ? undefined : shopSchema.parse(parseTicketText(text).value ?? {}).customerPage;
  return { address: given?.address ?? null, validDays: given?.validDays ?? usualValidDays };
}
