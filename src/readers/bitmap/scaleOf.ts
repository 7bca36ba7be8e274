import type { ReadNote } from '../../artwork/readNote.ts';
import { mmPerInch, pitchMmFromDpi } from '../../units/lengths.ts';
import type { ReadOptions } from '../reader.ts';

/** Resolution as a file states it, in pixels per inch; null when it does not. */
export interface StatedResolution {
  readonly ppiX: number;
  readonly ppiY: number;
}

export interface BitmapScale {
  readonly pitchXMm: number;
  readonly pitchYMm: number;
  readonly scaleKnown: boolean;
  readonly notes: readonly ReadNote[];
}

const leastPpi = 20;
const mostPpi = 12_000;
/** No film of the trade is longer; a stated resolution that makes one is taken for a mistake. */
const longestFilmMm = 3_000;
export const assumedPpi = 300;

/** Pixel pitch of a bitmap: as stated if that makes sense, else as the user gave it, else assumed and said so. */
export function scaleOf(
  stated: StatedResolution | null,
  widthPx: number,
  heightPx: number,
  options: ReadOptions,
): BitmapScale {
  if (stated !== null && makesSense(stated, widthPx, heightPx)) {
    return {
      pitchXMm: pitchMmFromDpi(stated.ppiX),
      pitchYMm: pitchMmFromDpi(stated.ppiY),
      scaleKnown: true,
      notes: stated.ppiX === stated.ppiY ? [] : [unequalNote(stated)],
    };
  }
  const said =
    stated === null || !(stated.ppiX > 0 && stated.ppiY > 0)
      ? 'The file does not state its resolution'
      : `The file states a resolution of ${shown(stated.ppiX)} × ${shown(stated.ppiY)} ppi, which cannot be right`;
  const ppi = options.dpi ?? assumedPpi;
  const given = options.dpi !== undefined;
  const note: ReadNote = given
    ? { code: 'resolution-given', message: `${said}; ${shown(ppi)} ppi was given for it.`, affects: 'nothing' }
    : {
        code: 'resolution-missing',
        message: `${said}; ${assumedPpi} ppi is assumed, so every size in mm may be wrong. Give the true one with --dpi.`,
        affects: 'size',
      };
  return { pitchXMm: pitchMmFromDpi(ppi), pitchYMm: pitchMmFromDpi(ppi), scaleKnown: given, notes: [note] };
}

function makesSense(stated: StatedResolution, widthPx: number, heightPx: number): boolean {
  const within = (ppi: number) => ppi >= leastPpi && ppi <= mostPpi;
  return (
    within(stated.ppiX) &&
    within(stated.ppiY) &&
    (widthPx / stated.ppiX) * mmPerInch <= longestFilmMm &&
    (heightPx / stated.ppiY) * mmPerInch <= longestFilmMm
  );
}

function unequalNote(stated: StatedResolution): ReadNote {
  return {
    code: 'unequal-resolution',
    message: `The pixels are not square: ${shown(stated.ppiX)} ppi across, ${shown(stated.ppiY)} ppi down.`,
    affects: 'nothing',
  };
}

function shown(ppi: number): string {
  return String(Math.round(ppi * 100) / 100);
}
