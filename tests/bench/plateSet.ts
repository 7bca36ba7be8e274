import { existsSync, mkdirSync } from 'node:fs';
import { join } from 'node:path';
import sharp from 'sharp';
import type { BitPlane } from '../../src/raster/bitPlane.ts';
import { disc, drawShapes, ring, type Shape, star, strip } from '../support/analyticShapes.ts';
import { drawHalftone } from '../support/halftone.ts';
import { seededRandom } from '../support/seededRandom.ts';

export interface PlateSet {
  readonly widthPx: number;
  readonly heightPx: number;
  readonly dpi: number;
}

/** Strokes of 1 to 30 px, many of them short as in letters, rings, stars and solids, as many as the area asks for. */
export function drawLineArt({ widthPx, heightPx }: PlateSet, seed: number): BitPlane {
  const random = seededRandom(seed);
  const place = () => [widthPx * random(), heightPx * random()] as const;
  const shapes: Shape[] = [];
  const count = Math.round((widthPx * heightPx) / 30_000);
  for (let k = 0; k < count; k++) {
    const [x, y] = place();
    const length = k % 4 === 0 ? 20 + 500 * random() ** 3 : 15 + 60 * random();
    shapes.push(strip(x, y, length, 1 + 29 * random() ** 2, 180 * random()));
  }
  for (let k = 0; k < count / 8; k++) {
    const [x, y] = place();
    const size = 10 + 500 * random() ** 3;
    shapes.push(
      [disc(x, y, size), ring(x, y, size, 2 + 20 * random()), star(x, y, 7, size / 2, size / 4, 360 * random())][k % 3],
    );
  }
  return drawShapes(widthPx, heightPx, shapes);
}

/** Discs of one ink, and the same discs a few pixels larger or smaller for another. */
function drawTraps({ widthPx, heightPx }: PlateSet, grownBy: number): BitPlane {
  const random = seededRandom(91);
  const shapes: Shape[] = [];
  for (let k = 0; k < 80; k++) {
    const size = 200 + 500 * random();
    const trap = -6 + 14.5 * random();
    shapes.push(disc(widthPx * random(), heightPx * random(), size + grownBy * trap));
  }
  const drawn = drawShapes(widthPx, heightPx, shapes);
  if (grownBy === 0) for (let index = 0; index < drawn.words.length; index++) drawn.words[index] = ~drawn.words[index];
  return drawn;
}

function drawTone(set: PlateSet, angleDeg: number): BitPlane {
  const plane = drawShapes(set.widthPx, set.heightPx, []);
  const bounds = [0, 0, set.widthPx, set.heightPx] as const;
  drawHalftone(plane, set.dpi, { rulingLpi: 55, angleDeg, shape: 'euclid', toneAt: (across) => across, bounds });
  return plane;
}

/** Writes a plate of line art as 1-bit G4 TIFF if it is not there yet. */
export async function writeLineArt(file: string, set: PlateSet): Promise<void> {
  if (!existsSync(file)) await writeG4(file, drawLineArt(set, 13), set.dpi);
}

/** Writes six plates as 1-bit G4 TIFF into a folder, those that are not there yet: line art, halftones and a trap pair. */
export async function writePlateSet(folder: string, set: PlateSet): Promise<string[]> {
  mkdirSync(folder, { recursive: true });
  const plates: readonly (readonly [string, () => BitPlane])[] = [
    ['Night', () => drawLineArt(set, 11)],
    ['Moss', () => drawTone(set, 22.5)],
    ['Clay', () => drawTraps(set, 0)],
    ['Honey', () => drawTraps(set, 2)],
    ['Lagoon', () => drawLineArt(set, 12)],
    ['Coral', () => drawTone(set, 52.5)],
  ];
  const files: string[] = [];
  for (const [ink, draw] of plates) {
    const file = join(folder, `set-${ink}.tif`);
    files.push(file);
    if (!existsSync(file)) await writeG4(file, draw(), set.dpi);
  }
  return files;
}

async function writeG4(file: string, { widthPx, heightPx, wordsPerRow, words }: BitPlane, dpi: number): Promise<void> {
  const grey = Buffer.alloc(widthPx * heightPx, 255);
  for (let row = 0; row < heightPx; row++) {
    for (let column = 0; column < widthPx; column++) {
      if ((words[row * wordsPerRow + (column >> 5)] >>> (column & 31)) & 1) grey[row * widthPx + column] = 0;
    }
  }
  await sharp(grey, { raw: { width: widthPx, height: heightPx, channels: 1 }, limitInputPixels: false })
    .toColourspace('b-w')
    .tiff({ compression: 'ccittfax4', bitdepth: 1, xres: dpi / 25.4, yres: dpi / 25.4 })
    .toFile(file);
}
