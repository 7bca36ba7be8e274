import type { BoxMm } from '../geometry/box.ts';
import type { ReportJson, ReportPlacement } from '../report/reportJson.ts';
import { lengthIn, type NoteUnits } from './noteQuantities.ts';
import type { NoteWords } from './words/wordsIn.ts';

/** The art within the films, all of one size; all of the film where nothing tells. */
export function artOnFilm({ films }: ReportJson): BoxMm | null {
  const boxes = films.map(({ artMm }) => artMm);
  if (boxes.length === 0 || boxes.some((box) => box === null || box === undefined)) return null;
  const known = boxes as BoxMm[];
  const left = Math.min(...known.map(({ xMm }) => xMm));
  const top = Math.min(...known.map(({ yMm }) => yMm));
  return {
    xMm: left,
    yMm: top,
    widthMm: Math.max(...known.map(({ xMm, widthMm }) => xMm + widthMm)) - left,
    heightMm: Math.max(...known.map(({ yMm, heightMm }) => yMm + heightMm)) - top,
  };
}

/**
 * The art on the garment, in mm from the garment's centre line to the right and, where that is known, from the collar
 * seam down. Null for what the ticket does not tell.
 */
export interface ArtPlace {
  readonly widthMm: number;
  readonly heightMm: number;
  /** Left edge of the art; null when its place across is not given. */
  readonly leftMm: number | null;
  /** Upper edge of the art; null when its place down is not given. */
  readonly topMm: number | null;
  readonly centreMm: number | null;
  readonly collarMm: number | null;
  readonly hemMm: number | null;
  readonly leftSeamMm: number | null;
  readonly rightSeamMm: number | null;
  /** Whether the art lies within the garment, as far as its measures are known. */
  readonly isWithin: boolean;
}

/**
 * Where the ticket puts the art. What is measured from is where it is in one frame with the art: a seam without its
 * distance to the centre has no centre line to go with it.
 */
export function artPlaceOf(placement: ReportPlacement, art: BoxMm): ArtPlace {
  const across = placedAcross(placement, art.widthMm);
  const down = placedDown(placement, art.heightMm);
  const right = across.leftMm === null ? null : across.leftMm + art.widthMm;
  const bottom = down.topMm === null ? null : down.topMm + art.heightMm;
  const isWithin =
    isOver(across.leftMm, across.leftSeamMm) &&
    isOver(across.rightSeamMm, right) &&
    isOver(down.topMm, down.collarMm) &&
    isOver(down.hemMm, bottom);
  return { widthMm: art.widthMm, heightMm: art.heightMm, ...across, ...down, isWithin };
}

function placedAcross({ fromCentreMm, fromSideSeamMm, side, garmentWidthMm }: ReportPlacement, widthMm: number) {
  const sign = side === 'left' ? -1 : 1;
  const half = garmentWidthMm === undefined ? null : garmentWidthMm / 2;
  const seams = { leftSeamMm: half === null ? null : -half, rightSeamMm: half };
  if (fromCentreMm !== undefined) return { leftMm: sign * fromCentreMm - widthMm / 2, centreMm: 0, ...seams };
  if (fromSideSeamMm === undefined) return { leftMm: null, centreMm: null, leftSeamMm: null, rightSeamMm: null };
  const seam = sign * (half ?? 0);
  const leftMm = side === 'left' ? seam + fromSideSeamMm : seam - fromSideSeamMm - widthMm;
  if (half !== null) return { leftMm, centreMm: 0, ...seams };
  return { leftMm, centreMm: null, leftSeamMm: side === 'left' ? 0 : null, rightSeamMm: side === 'left' ? null : 0 };
}

function placedDown({ belowCollarMm, aboveHemMm, garmentHeightMm }: ReportPlacement, heightMm: number) {
  if (belowCollarMm !== undefined) return { topMm: belowCollarMm, collarMm: 0, hemMm: garmentHeightMm ?? null };
  if (aboveHemMm === undefined) return { topMm: null, collarMm: null, hemMm: null };
  const hemMm = garmentHeightMm ?? aboveHemMm + heightMm;
  return { topMm: hemMm - aboveHemMm - heightMm, collarMm: garmentHeightMm === undefined ? null : 0, hemMm };
}

function isOver(value: number | null, least: number | null): boolean {
  return value === null || least === null || value >= least - 1e-6;
}

/** The place in words, "75 mm below the collar seam, centred"; null when the ticket gives none. */
export function placeInWords(
  placement: ReportPlacement | null | undefined,
  words: NoteWords,
  units: NoteUnits,
): string | null {
  if (placement === null || placement === undefined) return null;
  const { belowCollarMm, aboveHemMm, fromCentreMm, fromSideSeamMm, side = 'right' } = placement;
  const length = (mm: number) => lengthIn(words, units, mm);
  const said = [
    belowCollarMm === undefined ? '' : words.proof('belowCollar', { value: length(belowCollarMm) }),
    aboveHemMm === undefined ? '' : words.proof('aboveHem', { value: length(aboveHemMm) }),
    fromCentreMm === 0 ? words.proof('centred') : '',
    fromCentreMm === undefined || fromCentreMm === 0
      ? ''
      : words.proof('offCentre', { value: length(fromCentreMm), side }),
    fromSideSeamMm === undefined ? '' : words.proof('fromSeam', { value: length(fromSideSeamMm), side }),
  ].filter((part) => part !== '');
  return said.length === 0 ? null : said.join(', ');
}
