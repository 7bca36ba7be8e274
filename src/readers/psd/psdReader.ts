import { type ByteSource, readAll } from '../../artwork/byteSource.ts';
import type { ReadFilm } from '../../artwork/film.ts';
import type { ReadNote } from '../../artwork/readNote.ts';
import { UnreadableFilmError } from '../../artwork/unreadableFilmError.ts';
import { colourFilm } from '../bitmap/colourFilm.ts';
import { type InkChannel, inksFilm } from '../bitmap/inksFilm.ts';
import { separationFilm, separationRecipe } from '../bitmap/separationFilm.ts';
import { sharedBytes } from '../bitmap/sharedBytes.ts';
import { tooLarge, withFileName } from '../bitmap/unreadable.ts';
import { isPsd } from '../firstBytes.ts';
import type { Reader, ReadOptions } from '../reader.ts';
import { processInks } from '../tiff/inkChannelsOf.ts';
import { type ExtraChannel, extraChannels, hasMergedPicture, psdResolution } from './psdChannels.ts';
import { type PsdFile, psdModes, readPsdFile, UnusablePsd } from './psdFile.ts';

/** Reads the merged picture of PSD and PSB files, spot channels included; layers only give their names. */
export const psdReader: Reader = {
  formats: ['psd'],
  recognises: isPsd,
  read: async (source, options) => {
    const bytes = sharedBytes(await readAll(source));
    return [await withFileName(source.name, () => readPsd(source, bytes, options))];
  },
};

const coloursOfMode = new Map<number, number>([
  [psdModes.bitmap, 1],
  [psdModes.grey, 1],
  [psdModes.duotone, 1],
  [psdModes.indexed, 1],
  [psdModes.rgb, 3],
  [psdModes.cmyk, 4],
  [psdModes.multichannel, 0],
]);

async function readPsd(source: ByteSource, bytes: Uint8Array, options: ReadOptions): Promise<ReadFilm> {
  const file = opened(source.name, bytes);
  const colours = coloursOfMode.get(file.mode);
  if (colours === undefined) throw unusable(source.name, 'its colours are not grey, RGB, CMYK or separate channels');
  const { layout } = file;
  const extras = extraChannels(file.resources, Math.max(0, layout.channelCount - colours));
  const base = {
    file: source.name,
    page: 1,
    pageCount: 1,
    format: 'psd' as const,
    bytes,
    stated: psdResolution(file.resources),
    separationName: null,
    bitsPerComponent: layout.bitsPerSample,
    notes: [...fileNotes(file), ...alphaNotes(file, extras, colours)],
  };
  const spots = spotChannels(file, extras, colours);
  if (file.mode === psdModes.cmyk || file.mode === psdModes.multichannel) {
    return inksFilm(
      { ...base, source: layout, orientation: 1, channels: [...processChannels(file), ...spots] },
      options,
    );
  }
  const isGrey = file.mode !== psdModes.rgb && file.mode !== psdModes.indexed;
  if (spots.length > 0) {
    const black = { key: 's0', name: 'Black', kind: 'spot' as const, displayHex: '#1a1a1a', sample: 0, invert: true };
    const notes = isGrey ? base.notes : [...base.notes, colourPartNote()];
    return inksFilm(
      { ...base, notes, source: layout, orientation: 1, channels: isGrey ? [black, ...spots] : spots },
      options,
    );
  }
  if (isGrey) {
    const oneBit = file.mode === psdModes.bitmap && layout.bitsPerSample === 1;
    // In bitmap mode 1 is black, in grey 0 is.
    const recipe = separationRecipe(layout, 1, oneBit, file.mode !== psdModes.bitmap);
    return separationFilm({ ...base, recipe, colour: oneBit ? 'bilevel' : 'grey' }, options);
  }
  const indexed = file.mode === psdModes.indexed;
  const alpha = file.hasTransparency && !indexed && extras.length > 0 ? { sample: 3, premultiplied: false } : null;
  return colourFilm({ ...base, source: layout, orientation: 1, alpha, lossy: false, indexed }, options);
}

function opened(name: string, bytes: Uint8Array): PsdFile {
  try {
    return readPsdFile(bytes);
  } catch (error) {
    if (error instanceof UnusablePsd) {
      throw error.code === 'too-large' ? tooLarge(name, error.message, error) : unusable(name, error.message, error);
    }
    throw error;
  }
}

function unusable(name: string, why: string, cause?: unknown): UnreadableFilmError {
  const problem = `The file cannot be used: ${why}.`;
  return new UnreadableFilmError('unknown-format', name, problem, 'Save it as TIFF, or as 8-bit RGB or CMYK.', cause);
}

/** Samples of inks are stored with 0 as full ink. */
function processChannels(file: PsdFile): readonly InkChannel[] {
  if (file.mode !== psdModes.cmyk) return [];
  return processInks.map(([name, displayHex], sample) => ({
    key: `s${sample}`,
    name,
    kind: 'process',
    displayHex,
    sample,
    invert: true,
  }));
}

function spotChannels(file: PsdFile, extras: readonly ExtraChannel[], colours: number): readonly InkChannel[] {
  const channels: InkChannel[] = [];
  extras.forEach(({ name, role }, i) => {
    const isInk = file.mode === psdModes.multichannel ? true : role === 'spot';
    if (!isInk) return;
    const sample = colours + i;
    const kind = name === null ? 'flat' : 'spot';
    channels.push({
      key: `s${sample}`,
      name: name ?? `Channel ${sample + 1}`,
      kind,
      displayHex: null,
      sample,
      invert: true,
    });
  });
  return channels;
}

function fileNotes(file: PsdFile): readonly ReadNote[] {
  const notes: ReadNote[] = [];
  if (!hasMergedPicture(file.resources)) {
    const message =
      'The file was saved without its merged picture; what is read may be blank. Save it with maximum compatibility.';
    notes.push({ code: 'no-merged-picture', message, affects: 'plate' });
  }
  const hidden = file.layers.filter((layer) => layer.hidden).map((layer) => `“${layer.name}”`);
  if (hidden.length > 0) {
    const some = hidden.slice(0, 5).join(', ');
    const message = `${hidden.length} hidden layer${hidden.length === 1 ? ' is' : 's are'} not in the picture: ${some}${hidden.length > 5 ? ' and more' : ''}.`;
    notes.push({ code: 'hidden-layers', message, affects: 'nothing' });
  }
  return notes;
}

function alphaNotes(file: PsdFile, extras: readonly ExtraChannel[], colours: number): readonly ReadNote[] {
  if (file.mode === psdModes.multichannel) return [];
  const notes: ReadNote[] = [];
  extras.forEach(({ name, role }, i) => {
    if (role === 'spot' || (i === 0 && file.hasTransparency)) return;
    const shown = name === null ? `Channel ${colours + i + 1}` : `Channel “${name}”`;
    const doubtful = role === 'unknown';
    const why = doubtful ? 'is not marked as a spot ink and is left out' : 'is a selection (alpha) and no ink';
    notes.push({ code: 'alpha-left-out', message: `${shown} ${why}.`, affects: doubtful ? 'inks' : 'nothing' });
  });
  return notes;
}

function colourPartNote(): ReadNote {
  const message =
    'The file has spot channels beside a picture in colours; the spot channels are its inks, the picture is left out.';
  return { code: 'colours-beside-spots', message, affects: 'inks' };
}
