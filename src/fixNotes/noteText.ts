import type { CustomerNote, NoteItem } from './customerNote.ts';

const widthChars = 76;
const indent = '   ';

/** The note as plain text of at most 76 characters a line, but for words that are longer. */
export function noteText(note: CustomerNote): string {
  const blocks = [
    note.greeting,
    ...note.opening,
    ...(note.settled === null ? [] : [note.settled.heading, note.settled.lines.map((line) => `- ${line}`).join('\n')]),
    ...note.sections.flatMap(({ heading, items }) => [heading, ...items.map(itemText)]),
    note.link === undefined ? '' : `${note.link.words}\n${note.link.url}`,
    ...note.closing,
    note.signature.join('\n'),
  ];
  return `${blocks
    .filter((block) => block !== '')
    .map(wrapped)
    .join('\n\n')}\n`;
}

function itemText({ number, defect, since, effect, request, offer, places }: NoteItem): string {
  return [
    `${number}. ${[defect, since, effect, places].filter(Boolean).join(' ')}`,
    [request, offer].filter(Boolean).join(' '),
  ]
    .filter(Boolean)
    .join(`\n${indent}`);
}

/** Lines broken at spaces; what goes on a further line of an item keeps its indent. */
function wrapped(block: string): string {
  return block.split('\n').map(wrapLine).join('\n');
}

function wrapLine(line: string): string {
  const hanging = /^(?:\d+\. | {3})/.test(line) ? indent : '';
  const lines: string[] = [];
  let current = '';
  for (const word of line.trimStart().split(' ')) {
    const start = lines.length === 0 ? (line.startsWith(indent) ? indent : '') : hanging;
    if (current === '') current = start + word;
    else if (current.length + 1 + word.length <= widthChars) current += ` ${word}`;
    else {
      lines.push(current);
      current = hanging + word;
    }
  }
  return [...lines, current].join('\n');
}
