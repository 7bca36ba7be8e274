import { figure, paragraph } from '../report/pdf/blocks.ts';
import { type Block, contentWidth, Flow, gap, kept } from '../report/pdf/flow.ts';
import { openDocument } from '../report/pdf/openDocument.ts';
import { body, claim, section } from '../report/pdf/styles.ts';
import { Typesetter } from '../report/pdf/typeset.ts';
import type { ReportJson } from '../report/reportJson.ts';
import type { CustomerNote, NoteItem } from './customerNote.ts';
import { filmOfComposite, type NotePicture } from './notePicture.ts';
import { wordsIn } from './words/wordsIn.ts';

const mostArtHeight = 300;
const pointsPerPx = 0.47;
const ringRadius = 9;

/**
 * The note as a PDF on A4: the art with a numbered ring at the place of each question, then the questions. `compositePng`
 * is the picture that lies beside the report, null where there is none.
 */
export async function renderNotePdf(
  report: ReportJson,
  note: CustomerNote,
  pictures: ReadonlyMap<number, NotePicture>,
  compositePng: Uint8Array | null,
): Promise<Uint8Array> {
  const { doc, finished } = openDocument(note.subject, note.language, report.version);
  const type = new Typesetter(doc);
  const flow = new Flow(type);
  const text = (words: string) => [paragraph(type, [{ text: words }], body), gap(7)];
  flow.place([
    kept(paragraph(type, [{ text: note.subject, strong: true }], section, contentWidth, 'H1')),
    gap(10),
    ...[note.greeting, ...note.opening].flatMap(text),
  ]);
  const film = filmOfComposite(report);
  const items = note.sections.flatMap((part) => part.items);
  if (compositePng !== null && film !== null && items.some(({ spot }) => spot !== null))
    flow.place([markedArt(type, note, items, film, compositePng), gap(12)]);
  if (note.settled !== null)
    flow.place([
      kept(paragraph(type, [{ text: note.settled.heading, strong: true }], claim, contentWidth, 'H2')),
      gap(5),
      ...note.settled.lines.map((line) => paragraph(type, [{ text: `– ${line}` }], body)),
      gap(10),
    ]);
  for (const { heading, items: asked } of note.sections)
    flow.place([
      kept(paragraph(type, [{ text: heading, strong: true }], claim, contentWidth, 'H2')),
      gap(5),
      ...asked.flatMap((item) => itemBlocks(type, item, pictures.get(item.number))),
    ]);
  flow.place([
    gap(6),
    ...(note.link === undefined ? [] : [...text(note.link.words), ...text(note.link.url)]),
    ...note.closing.flatMap(text),
    ...note.signature.map((line) => paragraph(type, [{ text: line }], body)),
  ]);
  type.structure.finish();
  doc.end();
  return finished;
}

function itemBlocks(type: Typesetter, item: NoteItem, picture: NotePicture | undefined): Block[] {
  const { number, defect, since, effect, request, offer, places } = item;
  const said = paragraph(
    type,
    [
      { text: `${number}. ${defect} `, strong: true },
      { text: [since, effect, places, request, offer].filter(Boolean).join(' ') },
    ],
    body,
  );
  if (picture === undefined) return [said, gap(9)];
  const size = { width: picture.widthPx * pointsPerPx, height: picture.heightPx * pointsPerPx };
  const shown = figure(type, size, picture.alt, (x, y) => {
    type.doc.image(Buffer.from(picture.png), x, y, size);
  });
  return [kept(said), gap(4), shown, gap(10)];
}

/** The whole of the art, small, with a ring and its number at every place that is asked about. */
function markedArt(
  type: Typesetter,
  note: CustomerNote,
  items: readonly NoteItem[],
  film: { readonly widthMm: number; readonly heightMm: number },
  compositePng: Uint8Array,
): Block {
  const scale = Math.min(contentWidth / film.widthMm, mostArtHeight / film.heightMm);
  const size = { width: film.widthMm * scale, height: film.heightMm * scale };
  const numbers = items.filter(({ spot }) => spot !== null).map(({ number }) => String(number));
  const alt = `${note.subject}: ${wordsIn(note.language).list(numbers)}`;
  return figure(type, size, alt, (x, y) => {
    const { doc } = type;
    doc.image(Buffer.from(compositePng), x, y, size);
    for (const { number, spot } of items) {
      if (spot === null) continue;
      const [atX, atY] = [x + spot.xMm * scale, y + spot.yMm * scale];
      doc.lineWidth(1.2).circle(atX, atY, ringRadius).stroke('#14161a');
      doc
        .lineWidth(1.2)
        .circle(atX, atY, ringRadius + 1.2)
        .stroke('#ffffff');
      // The number on a light ground of its own, beside the ring.
      const [labelX, labelY] = [atX + ringRadius + 3, atY - 6];
      doc.rect(labelX, labelY, number > 9 ? 14 : 9, 12).fill('#ffffff');
      type.drawLabel(String(number), labelX + 2, labelY + 9, 9, true, 'text', 'start');
    }
  });
}
