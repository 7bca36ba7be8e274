import sharp from 'sharp';
import type { Plate } from '../../src/plates/plate.ts';
import { filmOf } from './screenedFilms.ts';

/** A one-bit film as libtiff reads it. */
export async function plateOfTiff(tiff: Buffer): Promise<Plate> {
  const image = sharp(tiff, { limitInputPixels: false });
  const { density } = await image.metadata();
  const { data, info } = await image.toColourspace('b-w').raw().toBuffer({ resolveWithObject: true });
  return filmOf(
    info.width,
    info.height,
    density!,
    (column, row) => data[(row * info.width + column) * info.channels] < 128,
  );
}
