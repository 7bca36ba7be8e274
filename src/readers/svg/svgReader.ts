import { type ByteSource, readAll } from '../../artwork/byteSource.ts';
import type { ReadFilm } from '../../artwork/film.ts';
import type { ReadNote } from '../../artwork/readNote.ts';
import { UnreadableFilmError } from '../../artwork/unreadableFilmError.ts';
import { grownBox, intersectionOfBoxes, unionOfBoxes } from '../../geometry/box.ts';
import { isSvg } from '../firstBytes.ts';
import type { Reader } from '../reader.ts';
import { decodeSvgText } from './decodeText.ts';
import type { Leaf } from './displayList.ts';
import { decideInks, type InkTable } from './inks.ts';
import { maxSourceBytes } from './limits.ts';
import { inkShares, listObjects } from './objects.ts';
import { parseXml } from './parseXml.ts';
import { findFonts } from './resolveFonts.ts';
import { type ResolvedSvg, resolveSvg } from './resolveRoot.ts';
import { type PendingNote, quoted } from './resolveState.ts';
import { drawingOf } from './svgDrawing.ts';
import { findVisible, type Visibility } from './visibility.ts';

/** Reads SVG 1.1 and the parts of SVG 2 in use, plain or gzip, in any encoding XML knows. */
export const svgReader: Reader = {
  formats: ['svg'],
  recognises: isSvg,
  read: async (source) => [await readSvgFilm(source)],
};

async function readSvgFilm(source: ByteSource): Promise<ReadFilm> {
  if (source.sizeBytes > maxSourceBytes) {
    throw new UnreadableFilmError(
      'too-large',
      source.name,
      'The file is larger than 200 MB.',
      'Export it without embedded pictures.',
    );
  }
  const { text, guessedEncoding } = decodeSvgText(source.name, await readAll(source));
  const resolved = await resolveSvg(source.name, parseXml(source.name, text));
  const page = { xMm: 0, yMm: 0, widthMm: resolved.widthMm, heightMm: resolved.heightMm };
  const visibility = await findVisible(resolved.items, resolved.leaves, page);
  const inks = decideInks(resolved.leaves, visibility.hidden);
  const families = new Set(resolved.leaves.map((leaf) => leaf.font?.family).filter((family) => family !== undefined));
  const isResolved = await findFonts(families);
  return {
    file: source.name,
    page: 1,
    pageCount: 1,
    format: 'svg',
    form: 'composite',
    separationName: null,
    widthMm: resolved.widthMm,
    heightMm: resolved.heightMm,
    scaleKnown: resolved.scaleKnown,
    inks: inks.inks,
    objects: listObjects(resolved.items, resolved.leaves, visibility, inks, isResolved),
    notes: [
      ...notesOf(resolved, visibility, inks, guessedEncoding),
      ...notesOfTexts(resolved, visibility, inks, isResolved),
    ],
    drawing: drawingOf(resolved.items, inks),
    nature: 'vector',
  };
}

/** The notes with the inks they concern; what touches hidden objects only concerns nothing. */
function notesOf(
  resolved: ResolvedSvg,
  visibility: Visibility,
  inks: InkTable,
  guessedEncoding: string | null,
): ReadNote[] {
  const notes = resolved.notes.map((note) => inkedNote(note, resolved, visibility, inks));
  if (guessedEncoding !== null) {
    notes.unshift({
      code: 'encoding-guessed',
      message: `The characters of the file are not coded as it says; ${guessedEncoding} is assumed.`,
      affects: 'nothing',
    });
  }
  return notes;
}

/** Notes on effects concern the inks painted with and those of what lies where the effect is. */
function inkedNote(
  { leaves, reachMm, ...note }: PendingNote,
  resolved: ResolvedSvg,
  visibility: Visibility,
  inks: InkTable,
): ReadNote {
  if (leaves === null) return note;
  const isSeen = (leaf: Leaf) => inks.hidden[leaf.index] === null;
  const own = resolved.leaves.slice(...leaves).filter(isSeen);
  if (own.length === 0) return { ...note, affects: 'nothing' };
  const boxOf = (leaf: Leaf) => leaf.boxMm ?? visibility.drawnBoxes.get(leaf.index) ?? null;
  const boxes = own.map(boxOf).filter((box) => box !== null);
  const place = boxes.length === 0 ? null : boxes.reduce(unionOfBoxes);
  const concerned = resolved.leaves.filter((leaf) => {
    if (!isSeen(leaf)) return false;
    const box = boxOf(leaf);
    return (
      (leaf.index >= leaves[0] && leaf.index < leaves[1]) ||
      (place !== null && box !== null && intersectionOfBoxes(grownBox(place, reachMm ?? 0), box) !== null)
    );
  });
  const inkKeys = [...new Set(concerned.flatMap((leaf) => inkShares(leaf, inks).map(({ key }) => key)))];
  return { ...note, ...(place === null ? {} : { boxMm: place }), inkKeys };
}

/** Every text set in a font that is not known to be there is drawn in another. */
function notesOfTexts(
  resolved: ResolvedSvg,
  visibility: Visibility,
  inks: InkTable,
  isFound: (family: string) => boolean,
): ReadNote[] {
  return resolved.leaves
    .filter((leaf) => leaf.font !== null && inks.hidden[leaf.index] === null && !isFound(leaf.font.family))
    .map((leaf) => ({
      code: 'font-not-found',
      message: `The text ${quoted(leaf.font!.excerpt)} is live and its font ${quoted(leaf.font!.family || 'none named')} is not known to be here; it may be drawn in another.`,
      affects: 'plate',
      inkKeys: inkShares(leaf, inks).map(({ key }) => key),
      objectId: leaf.objectId,
      boxMm: visibility.drawnBoxes.get(leaf.index),
    }));
}
