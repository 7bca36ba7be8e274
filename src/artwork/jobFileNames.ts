/** What the name of a file says about its part in a job. Names alone; nothing here looks into a file. */

const folderTicketNames = new Set(['ticket.yaml', 'ticket.yml', 'ticket.json']);
const ticketEndings = new Set(['.yaml', '.yml', '.json']);
/** Endings of files that lie beside art without being art. */
const notArt = new Set(['.txt', '.md', '.yaml', '.yml', '.json', '.html', '.eml', '.db', '.ini', '.log', '.csv']);
const notArtNames = new Set(['thumbs.db', 'desktop.ini', 'readme', 'license']);

/** The ticket of the folder it lies in. */
export function isFolderTicket(name: string): boolean {
  return folderTicketNames.has(name.toLowerCase());
}

/** May be the ticket of the art of the same base name beside it. */
export function mayBeTicket(name: string): boolean {
  return ticketEndings.has(endingOf(name)) && !name.startsWith('.') && !name.startsWith('~');
}

/** Neither hidden, nor one of the files that systems and people leave beside art. */
export function isArtName(name: string): boolean {
  return (
    !name.startsWith('.') &&
    !name.startsWith('~') &&
    !notArtNames.has(name.toLowerCase()) &&
    !notArt.has(endingOf(name))
  );
}

/** Order in which the files of a job are taken: plate 2 before plate 10. */
export function byFileName(a: string, b: string): number {
  return a.localeCompare(b, 'en', { numeric: true });
}

/** The name up to its last dot; all of it where that dot is the first character. */
export function baseNameOf(name: string): string {
  const dot = name.lastIndexOf('.');
  return dot > 0 ? name.slice(0, dot) : name;
}

/** From the last dot on, in small letters; empty without one. */
export function endingOf(name: string): string {
  return name.slice(baseNameOf(name).length).toLowerCase();
}
