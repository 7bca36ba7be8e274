import type { PlateList } from '../../../shared/plates.ts';
import { type InkLook, type InkOfLook, type Rgb, rgbOf } from './inkLook.ts';

export type Way = 'shirt' | 'films' | 'edges' | 'fine' | 'light' | 'threads';
export const ways: readonly Way[] = ['shirt', 'films', 'edges', 'fine', 'light', 'threads'];

/** One film of the rack, in the order they lie on the table: the first printed lies lowest. */
export interface RackFilm {
  /** Number of the plate in the list. */
  readonly plate: number;
  readonly isOn: boolean;
  readonly opacity: number;
}

const lightTable: Rgb = [0xf7, 0xf6, 0xf1];
const filmBlack: Rgb = [0x14, 0x19, 0x1f];
const paleArt: Rgb = [0xc9, 0xcc, 0xc9];
/** Two films on each other are told from one. */
const filmOpacity = 0.78;

/** How the tiles are painted for one way of seeing; `alone` shows that plate only. */
export function lookOf(
  way: Way,
  list: PlateList,
  rack: readonly RackFilm[],
  alone: number | null,
  shirtHex: string,
): InkLook {
  const seen = rack.map((film) => ({
    ...film,
    opacity: (alone === null ? film.isOn : film.plate === alone) ? film.opacity : 0,
  }));
  const inked = (colourOf: (plate: number) => Rgb, most: number): InkOfLook[] =>
    seen.map(({ plate, opacity }) => ({ plate, colour: colourOf(plate), opacity: opacity * most }));
  const own = (plate: number) => rgbOf(list.plates[plate].displayHex);
  if (way === 'shirt' || way === 'threads')
    return { way: 'shirt', ground: rgbOf(shirtHex), inks: inked(own, 1), keepsHairlines: false };
  if (way === 'edges') return { way: 'edges', ground: lightTable, inks: inked(own, 1), keepsHairlines: false };
  if (way === 'fine') return { way: 'films', ground: lightTable, inks: inked(() => paleArt, 1), keepsHairlines: true };
  const most = way === 'light' ? 1 : filmOpacity;
  return { way: 'films', ground: lightTable, inks: inked(() => filmBlack, most), keepsHairlines: false };
}

const gone: Rgb = [0x7f, 0x8a, 0x93];

/** What changed between two revisions, of three plates: what is there now, what is gone, what was added. */
export const differenceLook: InkLook = {
  way: 'films',
  ground: lightTable,
  inks: [paleArt, gone, filmBlack].map((colour, plate) => ({ plate, colour, opacity: 1 })),
  keepsHairlines: true,
};
