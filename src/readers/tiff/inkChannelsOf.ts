import type { ReadNote } from '../../artwork/readNote.ts';
import type { InkChannel } from '../bitmap/inksFilm.ts';
import type { TiffImage } from './layoutOf.ts';
import { photometrics, tiffTags } from './tags.ts';

export const processInks: readonly (readonly [string, string])[] = [
  ['Cyan', '#00a0c6'],
  ['Magenta', '#c8147a'],
  ['Yellow', '#f5d800'],
  ['Black', '#1a1a1a'],
];

/**
 * The inks of a separated image: InkSet 1 is cyan, magenta, yellow and black in this order; any other takes its names
 * from InkNames. Extra samples of no stated kind are taken for spot inks, alpha is none (TIFF 6.0, sections 16 and 18).
 */
export function inkChannelsOf(image: TiffImage): { channels: readonly InkChannel[]; notes: readonly ReadNote[] } {
  const { directory, layout, photometric } = image;
  const extra = directory.numbers(tiffTags.extraSamples);
  const count = layout.samplesPerPixel;
  const colours = Math.max(1, count - extra.length);
  const names = inkNamesOf(directory.bytes(tiffTags.inkNames));
  const inkSet = directory.numbers(tiffTags.inkSet)[0] ?? 1;
  const separated = photometric === photometrics.separated;
  const isProcess = separated && inkSet === 1 && colours >= 4;
  // Where 0 is white film, as in separated images, the highest value is opaque.
  const invert = photometric === photometrics.blackIsZero;
  const channels: InkChannel[] = [];
  const notes: ReadNote[] = [];
  for (let sample = 0; sample < count; sample++) {
    const kindOfExtra = sample >= colours ? extra[sample - colours] : null;
    if (kindOfExtra === 1 || kindOfExtra === 2) {
      const message = `Channel ${sample + 1} is see-through information (alpha) and no ink.`;
      notes.push({ code: 'alpha-left-out', message, affects: 'nothing' });
      continue;
    }
    const process = isProcess && sample < 4 ? processInks[sample] : null;
    const given = process === null ? names[isProcess && names.length <= count - 4 ? sample - 4 : sample] : undefined;
    const name = process?.[0] ?? given ?? (count === 1 ? 'Unnamed' : `Channel ${sample + 1}`);
    channels.push({
      key: `s${sample}`,
      name,
      kind: process !== null ? 'process' : given !== undefined ? 'spot' : 'flat',
      displayHex: process?.[1] ?? null,
      sample,
      invert,
    });
    if (process === null && given === undefined) {
      const message = `Channel ${sample + 1} has no name; it is taken for a spot ink.`;
      notes.push({ code: 'unnamed-channel', message, affects: 'inks', inkKeys: [`s${sample}`] });
    }
  }
  const declared = directory.numbers(tiffTags.numberOfInks)[0];
  if (declared !== undefined && declared !== channels.length) {
    const message = `The file declares ${declared} inks but holds ${channels.length}.`;
    notes.push({ code: 'ink-count-differs', message, affects: 'inks' });
  }
  return { channels, notes };
}

/** Names one after the other, each ended by a NUL. */
function inkNamesOf(bytes: Uint8Array): readonly string[] {
  const text = new TextDecoder().decode(bytes);
  return text
    .split('\0')
    .map((name) => name.trim())
    .filter((name) => name !== '');
}
