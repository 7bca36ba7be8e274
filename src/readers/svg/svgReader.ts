import { type ByteSource, readAll } from '../../artwork/byteSource.ts';
import type { ReadFilm } from '../../artwork/film.ts';
import type { ReadNote } from '../../artwork/readNote.ts';
import { UnreadableFilmError } from '../../artwork/unreadableFilmError.ts';
import type { Reader } from '../reader.ts';
import { decodeHead, decodeSvgText } from './decodeText.ts';
import { decideInks, type InkTable } from './inks.ts';
import { maxSourceBytes } from './limits.ts';
import { inkShares, listObjects } from './objects.ts';
import { parseXml } from './parseXml.ts';
import { findFonts } from './resolveFonts.ts';
import { type ResolvedSvg, resolveSvg } from './resolveRoot.ts';
import type { PendingNote } from './resolveState.ts';
import { drawingOf } from './svgDrawing.ts';
import { findVisible, type Visibility } from './visibility.ts';

/** Reads SVG 1.1 and the parts of SVG 2 in use, plain or gzip, in any encoding XML knows. */
export const svgReader: Reader = {
  formats: ['svg'],
  recognises: (head) => /<!DOCTYPE\s+svg\b|<(?:[\w.-]+:)?svg[\s>/]/i.test(decodeHead(head)),
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
    objects: listObjects(resolved.leaves, visibility, inks, isResolved),
    notes: notesOf(resolved, visibility, inks, guessedEncoding),
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

function inkedNote(
  { leaves, ...note }: PendingNote,
  resolved: ResolvedSvg,
  visibility: Visibility,
  inks: InkTable,
): ReadNote {
  if (leaves === null) return note;
  const seen = resolved.leaves.slice(...leaves).filter((leaf) => visibility.hidden[leaf.index] === null);
  if (seen.length === 0) return { ...note, affects: 'nothing' };
  return { ...note, inkKeys: [...new Set(seen.flatMap((leaf) => inkShares(leaf, inks).map(({ key }) => key)))] };
}
