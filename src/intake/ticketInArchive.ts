import { isFolderTicket } from '../artwork/jobFileNames.ts';
import type { TicketText } from '../ticket/resolveTicket.ts';
import { flatNames } from './dropFiles.ts';
import { archiveLimits, openArchive, readEntry, wantedEntries } from './unpackArchive.ts';

const mostTicketBytes = 1 << 20;

/** The ticket a check finds in an archive of films; null when it has none, or cannot be read. */
export async function ticketInArchive(archive: string): Promise<TicketText | null> {
  const zip = await openArchive(archive).catch(() => null);
  if (zip === null) return null;
  try {
    const entries = await wantedEntries(zip, archiveLimits);
    const names = flatNames(entries.map(({ fileName }) => fileName));
    const at = names.findIndex((name) => isFolderTicket(name));
    if (at === -1 || entries[at].uncompressedSize > mostTicketBytes) return null;
    const pieces: Buffer[] = [];
    for await (const piece of (await readEntry(zip, entries[at])) as AsyncIterable<Buffer>) pieces.push(piece);
    return { fileName: names[at], text: Buffer.concat(pieces).toString('utf8') };
  } catch {
    return null;
  } finally {
    zip.close();
  }
}
