/**
 * Rows as comma-separated values (RFC 4180) for spreadsheets: UTF-8 with its mark, every cell quoted. A text that a
 * spreadsheet would take for a formula gets an apostrophe before it; names come from strangers.
 */
export function csv(rows: readonly (readonly (string | number | null)[])[]): string {
  return `\ufeff${rows.map((row) => `${row.map(cell).join(',')}\r\n`).join('')}`;
}

function cell(value: string | number | null): string {
  if (typeof value === 'number') return String(value);
  const text = value ?? '';
  // Also after blanks and marks that a spreadsheet skips, and the wide forms of the same signs.
  const safe = /^[\s\p{C}]*[=+\-@＝＋－＠|%]|^[\t\r\n]/u.test(text) ? `'${text}` : text;
  return `"${safe.replaceAll('"', '""')}"`;
}
