/** Endings that say how a colour was printed or stored, not which ink it is. */
const suffix = /\s+(?:coated|uncoated|matte?|solid coated|solid uncoated|c|u|m|copy|spot|ink)$/u;

/**
 * The name two spellings of one ink share: lower case, single spaces, without endings for paper (coated, uncoated,
 * C, U), "copy" and the number a program adds to a duplicate. A name that is only a number, or a colour word and a
 * number of three digits or more, keeps it: that number is the name.
 */
export function normaliseInkName(name: string): string {
  let current = foldInkName(name);
  for (;;) {
    const shorter = current.replace(suffix, '').replace(/(?<=\p{L})\s*[([]?\d{1,2}[)\]]?$/u, '');
    const trimmed = shorter.trim();
    if (trimmed === current || trimmed === '') return current;
    current = trimmed;
  }
}

/** An ink name without what typing varies: case, and the spaces, dashes and dots between words. */
export function foldInkName(name: string): string {
  return name
    .normalize('NFKC')
    .toLowerCase()
    .replace(/[\s_\-–—./]+/gu, ' ')
    .trim();
}
