import type { CustomerNote, NoteItem } from './customerNote.ts';
import type { NotePicture } from './notePicture.ts';

const paragraph = 'margin:0 0 12px';
const headingStyle = 'font-size:18px;margin:20px 0 8px';

/**
 * The note as one HTML page without script or style sheet, as mail programs want it. `addressOf` says where a picture
 * is: a data URI, or its Content-ID in a mail.
 */
export function noteHtml(
  note: CustomerNote,
  pictures: ReadonlyMap<number, NotePicture>,
  addressOf: (picture: NotePicture) => string,
): string {
  const item = (one: NoteItem) => itemHtml(one, pictures.get(one.number), addressOf);
  return `<!DOCTYPE html>
<html lang="${note.language}">
<head>
<meta charset="utf-8">
<meta name="viewport" content="width=device-width">
<title>${escaped(note.subject)}</title>
</head>
<body style="margin:0;padding:16px;font:16px/1.45 sans-serif;color:#14161a;background:#ffffff">
<div style="max-width:640px">
${[note.greeting, ...note.opening].map((text) => `<p style="${paragraph}">${escaped(text)}</p>`).join('\n')}
${
  note.settled === null
    ? ''
    : `<h2 style="${headingStyle}">${escaped(note.settled.heading)}</h2>
<ul style="margin:0;padding-left:28px">
${note.settled.lines.map((line) => `<li style="margin:0 0 4px">${escaped(line)}</li>`).join('\n')}
</ul>
`
}${note.sections
  .map(
    ({ heading, items }) => `<h2 style="${headingStyle}">${escaped(heading)}</h2>
<ol start="${items[0].number}" style="margin:0;padding-left:28px">
${items.map(item).join('\n')}
</ol>`,
  )
  .join('\n')}
<div style="margin-top:20px">
${linkHtml(note)}${note.closing.map((text) => `<p style="${paragraph}">${escaped(text)}</p>`).join('\n')}
${note.signature.length === 0 ? '' : `<p style="${paragraph}">${note.signature.map(escaped).join('<br>')}</p>`}
</div>
</div>
</body>
</html>
`;
}

function linkHtml({ link }: CustomerNote): string {
  if (link === undefined) return '';
  const url = escaped(link.url);
  return `<p style="${paragraph}">${escaped(link.words)}<br><a href="${url}" style="color:#14161a">${url}</a></p>\n`;
}

function itemHtml(
  { defect, since, effect, request, offer, places }: NoteItem,
  picture: NotePicture | undefined,
  addressOf: (picture: NotePicture) => string,
): string {
  const said = [since, effect, places].filter(Boolean).map(escaped).join(' ');
  const asked = [request, offer].filter(Boolean).map(escaped).join(' ');
  const image =
    picture === undefined
      ? ''
      : `<br><img src="${escaped(addressOf(picture))}" width="${picture.widthPx}" height="${picture.heightPx}" alt="${escaped(picture.alt)}" style="margin-top:6px;border:1px solid #c8cac6">`;
  return `<li style="margin:0 0 14px"><b>${escaped(defect)}</b> ${said}<br>${asked}${image}</li>`;
}

function escaped(text: string): string {
  return text
    .replace(/&/g, '&amp;')
    .replace(/</g, '&lt;')
    .replace(/>/g, '&gt;')
    .replace(/"/g, '&quot;')
    .replace(/'/g, '&#39;');
}
