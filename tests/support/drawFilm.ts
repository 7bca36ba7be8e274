import type { ReadFilm } from '../../src/artwork/film.ts';
import { drawPass } from '../../src/plates/drawPass.ts';
import type { DrawnPlate } from '../../src/plates/plateBuilder.ts';
import { bitAt } from '../../src/raster/bitPlane.ts';
import type { PixelGrid } from '../../src/raster/pixelGrid.ts';
import { toneAt } from '../../src/raster/tonePlane.ts';
import { pitchMmFromDpi } from '../../src/units/lengths.ts';
import type { GreyPlate } from './tiffsep.ts';

/** The grid of a film at a resolution, or its own when it is a bitmap. */
export function gridAt(film: ReadFilm, dpi: number): PixelGrid {
  const pitchMm = pitchMmFromDpi(dpi);
  return (
    film.drawing.nativeGrid ?? {
      widthPx: Math.round(film.widthMm / pitchMm),
      heightPx: Math.round(film.heightMm / pitchMm),
      pitchXMm: pitchMm,
      pitchYMm: pitchMm,
    }
  );
}

/** Draws inks of a film in the thread of the test, by key. */
export async function drawFilm(
  film: ReadFilm,
  keys: readonly string[],
  grid: PixelGrid,
): Promise<Map<string, DrawnPlate>> {
  const plates = new Map<string, DrawnPlate>();
  for (const pass of await film.drawing.plan(keys, grid)) {
    for (const [index, plate] of (await drawPass(pass)).entries()) plates.set(pass.keys[index], plate);
  }
  return plates;
}

/** The plate averaged over squares of `factor` pixels; rows and columns past the last whole square are left out. */
export function averaged(plate: DrawnPlate, factor: number, widthPx: number, heightPx: number): GreyPlate {
  const tones = new Uint8Array(widthPx * heightPx);
  for (let row = 0; row < heightPx; row++) {
    for (let column = 0; column < widthPx; column++) {
      let sum = 0;
      for (let y = row * factor; y < (row + 1) * factor; y++) {
        for (let x = column * factor; x < (column + 1) * factor; x++) {
          sum += plate.tone === null ? 255 * bitAt(plate.bits, x, y) : toneAt(plate.tone, x, y);
        }
      }
      tones[row * widthPx + column] = Math.round(sum / factor ** 2);
    }
  }
  return { widthPx, heightPx, tones };
}

/** The plate pixel for pixel. */
export function ownPixels(plate: DrawnPlate): GreyPlate {
  return averaged(plate, 1, plate.bits.widthPx, plate.bits.heightPx);
}
