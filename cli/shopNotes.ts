import { readFile } from 'node:fs/promises';
import { basename, dirname, resolve } from 'node:path';
import { phraseProblems } from '../src/fixNotes/shopPhrases.ts';
import { catalogues } from '../src/fixNotes/words/wordsIn.ts';
import { parseTicketText } from '../src/ticket/parseTicketText.ts';
import { resolveTicket } from '../src/ticket/resolveTicket.ts';
import type { ShopValues } from '../src/ticket/ticketSchema.ts';
import { shopSchema } from '../src/ticket/ticketSchema.ts';
import { UsageError } from './usageError.ts';

export type NoteSettings = NonNullable<ShopValues['note']>;

/** How the shop writes to its customers: `note` in its file, and the folder of that file, which its paths start from. */
export async function noteSettings(
  shopFile: string | undefined,
): Promise<{ readonly settings: NoteSettings; readonly folder: string }> {
  const path = resolve(shopFile ?? 'shop.yaml');
  let text: string;
  try {
    text = await readFile(path, 'utf8');
  } catch {
    if (shopFile !== undefined) throw new UsageError(`${shopFile} is not there, or may not be read. Check the name.`);
    return { settings: {}, folder: dirname(path) };
  }
  // Its mistakes are told as those of every shop file.
  resolveTicket({ ticket: undefined, shop: { fileName: basename(path), text } });
  const settings = shopSchema.parse(parseTicketText(text).value ?? {}).note ?? {};
  const { greeting, opening, price, turnAround, thanks, signature } = settings;
  const given = Object.entries({ greeting, opening, price, turnAround, thanks, signature });
  const problems = phraseProblems(Object.fromEntries(given.filter(([, phrase]) => phrase !== undefined)));
  for (const id of settings.weFix ?? [])
    if (!(id in catalogues.en.findings)) problems.push(`note.weFix: ${id} is not the id of a check.`);
  if (problems.length > 0) throw new UsageError(`${basename(path)}: ${problems.join('\n')}`);
  return { settings, folder: dirname(path) };
}
