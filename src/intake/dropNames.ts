import { baseNameOf, isArtName, mayBeTicket } from '../artwork/jobFileNames.ts';

/** The folder of intake's own files inside the watched one. */
export const ownFolder = '.plateglass';
/** A file `festival.pdf.done` says that `festival.pdf` is all there. */
const markerEnding = '.done';

const temporary =
  /^[.~#]|~$|^_\.|\.(?:tmp|temp|part|partial|crdownload|filepart|download|opdownload|swp|lock|!ut|!qb)$/i;

/** Names that copiers and browsers give to what is not all there yet, and hidden ones. */
export function isTemporaryName(name: string): boolean {
  return temporary.test(name);
}

/** What lies in the watched folder under one name. */
export interface DropName {
  readonly name: string;
  readonly isFolder: boolean;
}

/** Names that belong together: art, its ticket, its marker. */
export interface Drop {
  /** The art's file or folder; null where a ticket came by itself. */
  readonly art: DropName | null;
  readonly ticketName: string | null;
  readonly markerName: string | null;
  /** The job it answers to, as whoever dropped it calls it; null: the drop itself has the name of its job. */
  readonly answerTo: string | null;
}

/**
 * Sorts the names of the watched folder into drops. A ticket belongs to the art of its own base name
 * (`festival.yaml` or `festival.pdf.yaml` to `festival.pdf`), and without such art stands by itself. Temporary names,
 * notes and those in `reserved` are nobody's.
 */
export function sortDrops(names: readonly DropName[], reserved: ReadonlySet<string>): Drop[] {
  const kept = names.filter(({ name }) => !isTemporaryName(name) && !reserved.has(name));
  const files = new Set(kept.filter(({ isFolder }) => !isFolder).map(({ name }) => name));
  const tickets = [...files].filter(mayBeTicket).sort();
  const ticketsOf = new Map<string, string>();
  for (const ticket of tickets) {
    const base = baseNameOf(ticket);
    if (!ticketsOf.has(base)) ticketsOf.set(base, ticket);
  }
  const drops: Drop[] = [];
  const used = new Set<string>();
  for (const entry of kept) {
    const { name, isFolder } = entry;
    if (!isFolder && (!isArtName(name) || name.endsWith(markerEnding))) continue;
    const ticketName = [name, baseNameOf(name)]
      .map((base) => ticketsOf.get(base))
      .find((ticket) => ticket && !used.has(ticket));
    if (ticketName !== undefined) used.add(ticketName);
    const marker = name + markerEnding;
    drops.push({
      art: entry,
      ticketName: ticketName ?? null,
      markerName: files.has(marker) ? marker : null,
      answerTo: null,
    });
  }
  for (const ticket of tickets) {
    if (used.has(ticket)) continue;
    const marker = ticket + markerEnding;
    drops.push({ art: null, ticketName: ticket, markerName: files.has(marker) ? marker : null, answerTo: null });
  }
  return drops;
}

/** The folders of jobs that answers came for: each is one drop, with its path within the watched folder as its name. */
export function answerDrops(folder: string, names: readonly DropName[]): Drop[] {
  const files = new Set(names.filter(({ isFolder }) => !isFolder).map(({ name }) => name));
  return names
    .filter(({ name, isFolder }) => isFolder && !isTemporaryName(name))
    .map(({ name }) => ({
      art: { name: `${folder}/${name}`, isFolder: true },
      ticketName: null,
      markerName: files.has(name + markerEnding) ? `${folder}/${name}${markerEnding}` : null,
      answerTo: name,
    }));
}

/** The name a job keeps over its revisions: an archive may come again as a folder, and a folder as an archive. */
export function jobKeyOf(art: DropName): string {
  return !art.isFolder && /\.zip$/i.test(art.name) ? baseNameOf(art.name) : art.name;
}

/** Whether a ticket that came by itself is meant for a job. */
export function ticketIsFor(ticketName: string, jobKey: string): boolean {
  const base = baseNameOf(ticketName);
  return base === jobKey || base === baseNameOf(jobKey);
}
