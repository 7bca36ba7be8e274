import type { Plate } from '../../src/plates/plate.ts';
import { createBitPlane, setBit } from '../../src/raster/bitPlane.ts';
import { type TonePlane, tileSidePx } from '../../src/raster/tonePlane.ts';
import { plateOf } from './analyticShapes.ts';

/** A plate with the tones a function gives, pixel by pixel: 0 clear … 255 opaque. */
export function platePainted(
  widthPx: number,
  heightPx: number,
  dpi: number,
  toneOf: (column: number, row: number) => number,
): Plate {
  const bits = createBitPlane(widthPx, heightPx);
  const toneHistogram = new Float64Array(256);
  const tilesPerRow = Math.ceil(widthPx / tileSidePx);
  const tileRows = Math.ceil(heightPx / tileSidePx);
  const flatTones = new Int16Array(tilesPerRow * tileRows);
  const tiles = new Map<number, Uint8Array>();
  for (let index = 0; index < flatTones.length; index++) {
    const tile = new Uint8Array(tileSidePx * tileSidePx);
    const left = (index % tilesPerRow) * tileSidePx;
    const top = Math.floor(index / tilesPerRow) * tileSidePx;
    let [least, most] = [255, 0];
    for (let row = top; row < Math.min(heightPx, top + tileSidePx); row++) {
      for (let column = left; column < Math.min(widthPx, left + tileSidePx); column++) {
        const tone = toneOf(column, row);
        toneHistogram[tone]++;
        if (tone >= 128) setBit(bits, column, row);
        tile[(row - top) * tileSidePx + column - left] = tone;
        least = Math.min(least, tone);
        most = Math.max(most, tone);
      }
    }
    flatTones[index] = least === most ? least : -1;
    if (least !== most) tiles.set(index, tile);
  }
  const tone: TonePlane = { widthPx, heightPx, tilesPerRow, tileRows, flatTones, tiles };
  return { ...plateOf(bits, dpi), bits, tone, toneHistogram };
}

/** The normal distribution's integral, to 1.2e-7 (Abramowitz and Stegun 7.1.26 refined: Numerical Recipes' erfc). */
export function erf(x: number): number {
  const z = Math.abs(x);
  const t = 1 / (1 + 0.5 * z);
  const tail =
    t *
    Math.exp(
      -z * z -
        1.26551223 +
        t *
          (1.00002368 +
            t *
              (0.37409196 +
                t *
                  (0.09678418 +
                    t *
                      (-0.18628806 +
                        t *
                          (0.27886807 + t * (-1.13520398 + t * (1.48851587 + t * (-0.82215223 + t * 0.17087277)))))))),
    );
  return x >= 0 ? 1 - tail : tail - 1;
}
