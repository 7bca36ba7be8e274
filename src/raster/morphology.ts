import type { BitPlane } from './bitPlane.ts';
import { type Disc, mirroredDisc } from './disc.ts';
import { erodePlain } from './erodePlain.ts';
import { erodeByKernel } from './kernels/erodeByKernel.ts';
import { kernels } from './kernels/kernelModule.ts';

/** What lies beyond the plane's edges. */
export type Outside = 'clear' | 'opaque';

/**
 * The pixels at which the disc, laid with its anchor on them, covers only opaque pixels. With `inverted` the plane's
 * clear pixels take the place of the opaque ones; `outside` then still says what the plane as it is has beyond its edges.
 * The answer's words are those of `into` if given, which has at least as many as the plane. Exact for every disc (Serra, Image Analysis and Mathematical Morphology, 1982, for the terms).
 */
export function erodedByDisc(
  plane: BitPlane,
  disc: Disc,
  outside: Outside = 'clear',
  inverted = false,
  into?: Uint32Array,
): BitPlane {
  return erode(plane, disc, (outside === 'opaque') !== inverted, inverted, false, into);
}

/** The pixels covered by a disc laid with its anchor on any opaque pixel. */
export function dilatedByDisc(plane: BitPlane, disc: Disc, outside: Outside = 'clear', inverted = false): BitPlane {
  return erode(plane, mirroredDisc(disc), (outside === 'opaque') === inverted, !inverted, true);
}

/** The pixels covered by any disc that fits wholly into the opaque part: erosion, then dilation by the same disc. */
export function openedByDisc(plane: BitPlane, disc: Disc, outside: Outside = 'clear', inverted = false): BitPlane {
  const effective = (outside === 'opaque') !== inverted;
  return dilatedByDisc(erodedByDisc(plane, disc, outside, inverted), disc, effective ? 'opaque' : 'clear');
}

/** The plane with clear and opaque exchanged. */
export function invertedPlane(plane: BitPlane): BitPlane {
  const words = new Uint32Array(plane.words.length);
  for (let index = 0; index < words.length; index++) words[index] = ~plane.words[index];
  clearTails({ ...plane, words });
  return { ...plane, words };
}

/** Sets the bits past the last column to 0. */
export function clearTails(plane: BitPlane): void {
  const { widthPx, heightPx, wordsPerRow, words } = plane;
  const first = widthPx >> 5;
  for (let row = 0; row < heightPx; row++) {
    const base = row * wordsPerRow;
    for (let word = first; word < wordsPerRow; word++) {
      words[base + word] &= word === first ? (1 << (widthPx & 31)) - 1 : 0;
    }
  }
}

function erode(
  plane: BitPlane,
  disc: Disc,
  outsideBit: boolean,
  invertIn: boolean,
  invertOut: boolean,
  into: Uint32Array = new Uint32Array(plane.words.length),
): BitPlane {
  const loaded = kernels();
  if (loaded !== null) return erodeByKernel(loaded, plane, disc, outsideBit, invertIn, invertOut, into);
  const eroded = erodePlain(plane, disc, outsideBit, invertIn, invertOut);
  into.set(eroded.words);
  return { ...eroded, words: into.subarray(0, eroded.words.length) };
}
