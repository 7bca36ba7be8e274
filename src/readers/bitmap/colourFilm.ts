import type { ReadFilm } from '../../artwork/film.ts';
import type { FilmInk } from '../../artwork/ink.ts';
import type { ReadNote } from '../../artwork/readNote.ts';
import type { AlphaSample, BitmapRecipe, BitmapSource, FlatSplit } from '../../raster/bitmap/bitmapRecipe.ts';
import { WhiteAreas } from '../../raster/bitmap/enclosedWhite.ts';
import { orientedSize } from '../../raster/bitmap/readBands.ts';
import { clearPixel } from '../../raster/bitmap/rgbRows.ts';
import { splitBands } from '../../raster/bitmap/splitBands.ts';
import type { ReadOptions } from '../reader.ts';
import { type BitmapFilmParts, bitmapFilm } from './bitmapFilm.ts';
import { type FlatColours, findFlatColours, hexOf } from './findFlatColours.ts';
import { separationFilm, separationKey } from './separationFilm.ts';
import type { SolidSurvey } from './solidColours.ts';
import { withFileName } from './unreadable.ts';

/** Fewer enclosed white pixels than this are chips of an edge. */
const leastWhitePx = 16;

/** A lone grey darker than this is the black of a film and no ink of its own. */
const blackBelow = 40;
/** A scan of a film has hardly any pixels of a colour: dust and the rims of what it lay on. */
const mostColouredRatio = 0.001;

type ColourFilmParts = Omit<BitmapFilmParts, 'form' | 'nature' | 'inks' | 'recipe' | 'colour'> & {
  readonly source: BitmapSource;
  readonly orientation: number;
  readonly alpha: AlphaSample | null;
  readonly lossy: boolean;
  readonly indexed?: boolean;
};

/** A picture in red, green and blue: split into its flat colours, or found to be a photograph and left alone. */
export async function colourFilm(parts: ColourFilmParts, options: ReadOptions): Promise<ReadFilm> {
  const { source, orientation, alpha } = parts;
  const { widthPx, heightPx } = orientedSize(source, orientation);
  const samples = { rgbSamples: [0, 1, 2] as const, alpha };
  const blank: FlatSplit = { colours: [], tolerance: 0, mixtures: false, ...samples };
  const plain: BitmapRecipe = { source, orientation, channels: { kind: 'flat', split: blank } };
  const colour = parts.indexed ? 'indexed' : 'rgb';
  const { flat: found, survey } = await withFileName(parts.file, () =>
    findFlatColours(parts.bytes, plain, samples, widthPx, heightPx, parts.lossy),
  );
  const isGrey =
    found === null
      ? survey.colouredPx <= mostColouredRatio * survey.totalPx
      : survey.tintedPx === 0 && isBlackAlone(found);
  if (isGrey) return greyFilm(parts, options);
  const shared = { ...parts, form: 'composite' as const, separationName: null, colour } as const;
  if (found === null) {
    const note: ReadNote = {
      code: 'photograph-not-split',
      message: 'The picture has shades and more colours than inks; it was not split, so it makes no plate.',
      affects: 'inks',
    };
    return bitmapFilm(
      { ...shared, recipe: plain, nature: 'photograph', inks: [], notes: [...parts.notes, note] },
      options,
    );
  }
  const recipe: BitmapRecipe = { source, orientation, channels: { kind: 'flat', split: found.split } };
  const whiteUsed = await withFileName(parts.file, () => isWhiteUsed(parts.bytes, recipe, found, widthPx, heightPx));
  return bitmapFilm(
    {
      ...shared,
      recipe,
      nature: 'splitBitmap',
      inks: inksOf(found, whiteUsed),
      notes: [...parts.notes, ...splitNotes(found, survey)],
    },
    options,
  );
}

function isBlackAlone(found: FlatColours): boolean {
  const inks = found.split.colours.filter((colour) => colour.key !== null && colour.key !== 'white');
  return inks.length === 1 && inks[0].red < blackBelow;
}

/** Greys stored in red, green and blue, scans among them, are one ink's film; green stands for all three. */
function greyFilm(parts: ColourFilmParts, options: ReadOptions): Promise<ReadFilm> {
  const recipe: BitmapRecipe = {
    source: parts.source,
    orientation: parts.orientation,
    channels: {
      kind: 'tones',
      channels: [{ key: separationKey, sample: 1, invert: true }],
      alpha: parts.alpha,
    },
  };
  const message = 'The picture is stored in colours but holds greys only; it is taken for the film of one ink.';
  const note: ReadNote = { code: 'grey-in-colours', message, affects: 'nothing' };
  return separationFilm({ ...parts, recipe, colour: 'rgb', notes: [...parts.notes, note] }, options);
}

function inksOf(found: FlatColours, whiteUsed: boolean): readonly FilmInk[] {
  const inks: FilmInk[] = [];
  found.split.colours.forEach((colour, index) => {
    if (colour.key === null) return;
    const isWhite = colour.key === 'white';
    if (isWhite && !whiteUsed) return;
    const displayHex = hexOf(colour.red, colour.green, colour.blue);
    inks.push({
      key: colour.key,
      name: isWhite ? 'White' : displayHex,
      kind: 'flat',
      displayHex,
      used: isWhite ? whiteUsed : found.pixelCounts[index] > 0,
    });
  });
  return inks;
}

/** White is an ink where the picture is see-through around it, or where ink encloses it. */
async function isWhiteUsed(
  bytes: Uint8Array,
  recipe: BitmapRecipe,
  found: FlatColours,
  widthPx: number,
  heightPx: number,
): Promise<boolean> {
  const { colours } = found.split;
  const white = colours.findIndex((colour) => colour.key === 'white');
  if (white < 0) return false;
  const ground = colours.findIndex((colour) => colour.key === null && !colour.clear);
  if (ground < 0) return found.pixelCounts[white] > 0;
  const areas = new WhiteAreas(widthPx, heightPx, ground, false);
  for await (const band of splitBands(bytes, recipe, found.split, widthPx)) areas.add(band);
  return areas.enclosedPx() >= leastWhitePx;
}

function splitNotes(found: FlatColours, survey: SolidSurvey): readonly ReadNote[] {
  const notes: ReadNote[] = [];
  const count = found.split.colours.filter((colour) => colour.key !== null && colour.key !== 'white').length;
  notes.push({
    code: 'split-by-colour',
    message: `The picture was split into its ${count} flat colour${count === 1 ? '' : 's'}; each pixel belongs to one.`,
    affects: 'nothing',
  });
  if (found.noisy) {
    const message = 'The picture is noisy, as JPEG pictures are: its colours are means and its edges are rough.';
    notes.push({ code: 'noisy-picture', message, affects: 'plate' });
  }
  const { border, halfClearPx, totalPx, clearPx } = survey;
  const white = border.pixel === 0xffffff || border.pixel === clearPixel;
  if (!white && border.ratio > 0.9) {
    const hex = hexOf(border.pixel >> 16, (border.pixel >> 8) & 255, border.pixel & 255);
    const message = `${hex} reaches the edge all round; it counts as an ink, though it may stand for the garment.`;
    notes.push({ code: 'coloured-ground', message, affects: 'inks' });
  }
  if (halfClearPx > 0.02 * Math.max(1, totalPx - clearPx)) {
    const message = 'A good part of the picture is half see-through; it counts as solid from one half on.';
    notes.push({ code: 'half-clear', message, affects: 'plate' });
  } else if (clearPx > 0) {
    const message = 'See-through parts of the picture are not printed.';
    notes.push({ code: 'alpha-on-white', message, affects: 'nothing' });
  }
  return notes;
}
