import { type BitPlane, createBitPlane, setBit } from './bitPlane.ts';
import { coarseCellsByKernel } from './kernels/coarseCellsByKernel.ts';
import { kernels } from './kernels/kernelModule.ts';

/** Cells of a plane, each of several pixels, as pixels of planes of their own. */
export interface CoarseCells {
  /** Those with any opaque pixel. */
  readonly opaque: BitPlane;
  /** Those with any clear one. */
  readonly clear: BitPlane;
  /** Runs of 32 cells of a row in which some have no clear pixel. */
  readonly blackRuns: number;
}

/** What cells of `factorX` by `factorY` pixels hold; those at the right and lower edge may be smaller. */
export function coarseCells(plane: BitPlane, factorX: number, factorY: number): CoarseCells {
  const loaded = kernels();
  return loaded === null
    ? coarseCellsPlain(plane, factorX, factorY)
    : coarseCellsByKernel(loaded, plane, factorX, factorY);
}

/** `coarseCells` pixel by pixel. */
export function coarseCellsPlain(
  { widthPx, heightPx, wordsPerRow, words }: BitPlane,
  factorX: number,
  factorY: number,
): CoarseCells {
  const opaque = createBitPlane(Math.ceil(widthPx / factorX), Math.ceil(heightPx / factorY));
  const clear = createBitPlane(opaque.widthPx, opaque.heightPx);
  for (let row = 0; row < heightPx; row++) {
    for (let column = 0; column < widthPx; column++) {
      const bit = (words[row * wordsPerRow + (column >> 5)] >>> (column & 31)) & 1;
      setBit(bit === 1 ? opaque : clear, Math.floor(column / factorX), Math.floor(row / factorY));
    }
  }
  let blackRuns = 0;
  for (let at = 0; at < opaque.words.length; at++) if ((opaque.words[at] & ~clear.words[at]) !== 0) blackRuns++;
  return { opaque, clear, blackRuns };
}
