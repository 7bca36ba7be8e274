import type { CustomerNote, NoteItem } from './customerNote.ts';
import type { NotePicture } from './notePicture.ts';

/** The note as Markdown (CommonMark 0.31); `pictures` are referred to by their file names, by number of the question. */
export function noteMarkdown(note: CustomerNote, pictures: ReadonlyMap<number, NotePicture> = new Map()): string {
  const blocks = [
    `# ${plain(note.subject)}`,
    plain(note.greeting),
    ...note.opening.map(plain),
    ...(note.settled === null
      ? []
      : [`## ${plain(note.settled.heading)}`, note.settled.lines.map((line) => `- ${plain(line)}`).join('\n')]),
    ...note.sections.flatMap(({ heading, items }) => [
      `## ${plain(heading)}`,
      ...items.map((item) => itemMarkdown(item, pictures.get(item.number))),
    ]),
    note.link === undefined ? '' : `${plain(note.link.words)}  \n<${note.link.url}>`,
    ...note.closing.map(plain),
    note.signature.map(plain).join('  \n'),
  ];
  return `${blocks.filter((block) => block !== '').join('\n\n')}\n`;
}

function itemMarkdown(item: NoteItem, picture: NotePicture | undefined): string {
  const { number, defect, since, effect, request, offer, places } = item;
  const lines = [
    `${number}. **${plain(defect)}** ${[since, effect, places].filter(Boolean).map(plain).join(' ')}`.trimEnd(),
    [request, offer].filter(Boolean).map(plain).join(' '),
    picture === undefined ? '' : `![${plain(picture.alt)}](${picture.fileName})`,
  ];
  return lines.filter(Boolean).join('\n\n   ');
}

/** What would be markup is written so that it stands for itself (CommonMark, 2.4). */
function plain(text: string): string {
  return text
    .replace(/[\\`*_{}[\]<>#|~!&]/g, '\\$&')
    .replace(/^(\s*\d+)([.)])/, '$1\\$2')
    .replace(/^(\s*)([-+=])/, '$1\\$2');
}
