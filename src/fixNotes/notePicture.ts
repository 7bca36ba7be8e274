import type { BoxMm } from '../geometry/box.ts';
import type { ReportFilm, ReportJson } from '../report/reportJson.ts';
import { changePicture } from './changePicture.ts';
import type { CustomerNote, NoteSpot } from './customerNote.ts';
import { lengthIn } from './noteQuantities.ts';
import { wordsIn } from './words/wordsIn.ts';

/** Paints a part of the art, no side longer than so many pixels: a PNG. */
export type PaintPart = (boxMm: BoxMm, sidePx: number) => Promise<Uint8Array>;

/** A small picture for one question: part of the art with its place marked. */
export interface NotePicture {
  readonly number: number;
  /** "question-3.png": letters of ASCII alone. */
  readonly fileName: string;
  readonly alt: string;
  /** With twice the pixels a side that it is shown by, so that it prints sharp. */
  readonly png: Uint8Array;
  readonly widthPx: number;
  readonly heightPx: number;
}

const widthPx = 320;
const heightPx = 220;
const dotsPerPx = 2;
const narrowestMm = 24;
const mostPictures = 6;
const sameSizeMm = 0.5;

/**
 * Cuts a picture for each question that has a spot out of the composite that lies beside a report, at most six, and one
 * of before and now for each change. None where films differ in size, as the composite then shows no film as it is.
 * `beforePng`: the composite of the revision before. `paintPart`: paints a part finer than the composite has it.
 */
export async function notePictures(
  report: ReportJson,
  note: CustomerNote,
  compositePng: Uint8Array,
  beforePng: Uint8Array | null = null,
  paintPart: PaintPart | null = null,
): Promise<Map<number, NotePicture>> {
  const { default: sharp } = await import('sharp');
  const words = wordsIn(note.language);
  const pictures = new Map<number, NotePicture>();
  const film = filmOfComposite(report);
  if (film === null) return pictures;
  const { width, height } = await sharp(compositePng).metadata();
  const pxPerMm = width / film.widthMm;
  const fileOf = (number: number) => `question-${number}.png`;
  // What changed without having been asked for is hard to find without a picture, so it has its own number of them.
  let changed = 0;
  for (const { number, spot, change } of note.sections.flatMap(({ items }) => items)) {
    if (spot === null || pictures.size - changed >= mostPictures) continue;
    if (change !== null) {
      if (changed++ >= mostPictures) continue;
      const picture = await changePicture(words, note.units, change, film, { nowPng: compositePng, beforePng });
      if (picture !== null) pictures.set(number, { number, fileName: fileOf(number), ...picture });
      continue;
    }
    const shownMm = Math.min(film.widthMm, Math.max(narrowestMm, 2 * spot.sizeMm));
    const part = partAround(spot, shownMm, pxPerMm, width, height);
    const scale = (dotsPerPx * widthPx) / part.width;
    const ring = ringAt(
      (spot.xMm * pxPerMm - part.left) * scale,
      (spot.yMm * pxPerMm - part.top) * scale,
      Math.max(14 * dotsPerPx, (spot.sizeMm * pxPerMm * scale) / 2 + 8 * dotsPerPx),
    );
    const source =
      paintPart === null
        ? sharp(compositePng).extract(part)
        : sharp(await paintPart(inMm(part, pxPerMm), dotsPerPx * widthPx));
    const cut = await source
      .resize(dotsPerPx * widthPx, dotsPerPx * heightPx, { kernel: 'nearest', fit: 'fill' })
      .toBuffer();
    const png = await sharp(cut)
      .composite([{ input: Buffer.from(ring) }])
      .png({ palette: true })
      .toBuffer();
    const place = { left: lengthIn(words, note.units, spot.xMm), top: lengthIn(words, note.units, spot.yMm) };
    const alt = words.frame('picture', { ...place, width: lengthIn(words, note.units, part.width / pxPerMm) });
    pictures.set(number, { number, fileName: fileOf(number), alt, png, widthPx, heightPx });
  }
  return pictures;
}

/** The film whose measures the composite has; null where films differ in size, so that it shows none as it is. */
export function filmOfComposite({ films: [film, ...others] }: ReportJson): ReportFilm | null {
  return film === undefined || others.some((other) => differ(film, other)) ? null : film;
}

function differ(one: { widthMm: number; heightMm: number }, other: { widthMm: number; heightMm: number }): boolean {
  return Math.abs(one.widthMm - other.widthMm) > sameSizeMm || Math.abs(one.heightMm - other.heightMm) > sameSizeMm;
}

function inMm(part: { left: number; top: number; width: number; height: number }, pxPerMm: number): BoxMm {
  return {
    xMm: part.left / pxPerMm,
    yMm: part.top / pxPerMm,
    widthMm: part.width / pxPerMm,
    heightMm: part.height / pxPerMm,
  };
}

/** Whole pixels of the composite around a spot, moved in from its edges. */
function partAround(spot: NoteSpot, shownMm: number, pxPerMm: number, width: number, height: number) {
  const partWidth = Math.max(
    8,
    Math.min(width, Math.round(shownMm * pxPerMm), Math.floor((height * widthPx) / heightPx)),
  );
  const partHeight = Math.max(8, Math.min(height, Math.round((partWidth * heightPx) / widthPx)));
  const within = (at: number, size: number, whole: number) =>
    Math.max(0, Math.min(whole - size, Math.round(at * pxPerMm - size / 2)));
  return {
    left: within(spot.xMm, partWidth, width),
    top: within(spot.yMm, partHeight, height),
    width: partWidth,
    height: partHeight,
  };
}

/** A dark ring with a light one beside it, which is seen on any ink. */
function ringAt(x: number, y: number, radius: number): string {
  const circle = (r: number, colour: string) =>
    `<circle cx="${x.toFixed(1)}" cy="${y.toFixed(1)}" r="${r.toFixed(1)}" fill="none" stroke="${colour}" stroke-width="${2 * dotsPerPx}"/>`;
  return `<svg xmlns="http://www.w3.org/2000/svg" width="${dotsPerPx * widthPx}" height="${dotsPerPx * heightPx}">${circle(radius, '#14161a')}${circle(radius + 2 * dotsPerPx, '#ffffff')}</svg>`;
}
