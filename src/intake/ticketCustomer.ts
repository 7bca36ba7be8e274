import { maxTicketChars, parseTicketText } from '../ticket/parseTicketText.ts';
import type { Disk } from './disk.ts';

const mostChars = 200;

/** The customer a ticket names, or null; what is wrong with a ticket is for its check to say. */
export async function customerOn(disk: Disk, ticketPath: string): Promise<string | null> {
  const file = await disk.openToRead(ticketPath);
  try {
    const { size } = await file.stat();
    if (size > 4 * maxTicketChars) return null;
    const { value } = parseTicketText(await file.readFile('utf8'));
    const customer = (value as { readonly customer?: unknown } | null)?.customer;
    return typeof customer === 'string' && customer.trim() !== '' ? customer.trim().slice(0, mostChars) : null;
  } finally {
    await file.close();
  }
}
