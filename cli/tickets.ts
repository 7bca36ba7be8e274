import { readFile } from 'node:fs/promises';
import { basename } from 'node:path';
import { resolveTicket } from '../src/ticket/resolveTicket.ts';
import type { ResolvedTicket } from '../src/ticket/ticket.ts';
import { UsageError } from './usageError.ts';

const shopFileHere = 'shop.yaml';

/** The ticket and the shop's defaults, resolved. A `shop.yaml` in the working folder is used when none is named. */
export async function loadTicket(
  ticketFile: string | undefined,
  shopFile: string | undefined,
): Promise<ResolvedTicket> {
  return resolveTicket({
    ticket: ticketFile === undefined ? undefined : { fileName: basename(ticketFile), text: await textOf(ticketFile) },
    shop: await shopText(shopFile),
  });
}

async function shopText(shopFile: string | undefined): Promise<{ fileName: string; text: string } | undefined> {
  if (shopFile !== undefined) return { fileName: basename(shopFile), text: await textOf(shopFile) };
  try {
    return { fileName: shopFileHere, text: await readFile(shopFileHere, 'utf8') };
  } catch {
    return undefined;
  }
}

async function textOf(path: string): Promise<string> {
  try {
    return await readFile(path, 'utf8');
  } catch {
    throw new UsageError(`${path} is not there, or may not be read. Check the name.`);
  }
}
