import { resolveTicket } from '../../src/ticket/resolveTicket.ts';
import { WrongTicketError } from '../../src/ticket/ticket.ts';
import { WrongValues } from './refused.ts';
import type { ShopFile } from './shopFile.ts';

/** The ticket as text, when it is one that can be used with the shop's values of now. */
export async function soundTicket(values: Readonly<Record<string, unknown>>, shop: ShopFile): Promise<string> {
  const text = `${JSON.stringify(values, null, 2)}\n`;
  try {
    resolveTicket({ ticket: { fileName: 'ticket.json', text }, shop: (await shop.textFile()) ?? undefined });
  } catch (error) {
    if (error instanceof WrongTicketError)
      throw new WrongValues(error.fileName === 'ticket.json' ? 'The ticket' : 'The shop’s file', error.problems);
    throw error;
  }
  return text;
}
