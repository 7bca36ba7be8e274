import type { Plate } from '../plates/plate.ts';
import { coarsePitchMm } from '../raster/pixelGrid.ts';
import { areaOver } from '../raster/toneArea.ts';
import { readToneWindow } from '../raster/toneWindow.ts';
import type { SpotPlace } from './detail.ts';
import { footTone, fromTone, halfTone, headTone, leftOpenPx, smoothedPx, toTone } from './softTones.ts';

/** A dot or an island at half tone, found between the pixels. */
export interface SoftSpot {
  readonly areaMm2: number;
  readonly equivalentDiameterMm: number;
  readonly plusMinusMm: number;
}

/** So far round a spot nothing else may come. */
const marginPx = 3;

/**
 * The area of a dot or an island from the tones round it. Null where all is clear or opaque already, and where something
 * else comes too near.
 */
export function softSpotOf(plate: Plate, place: SpotPlace, inverted: boolean): SoftSpot | null {
  const { tone, grid } = plate;
  if (tone === null) return null;
  const left = Math.round(place.boxMm.xMm / grid.pitchXMm) - marginPx;
  const top = Math.round(place.boxMm.yMm / grid.pitchYMm) - marginPx;
  const widthPx = Math.round(place.boxMm.widthMm / grid.pitchXMm) + 2 * marginPx;
  const heightPx = Math.round(place.boxMm.heightMm / grid.pitchYMm) + 2 * marginPx;
  const tones = new Uint8Array(widthPx * heightPx);
  readToneWindow(tone, left, top, widthPx, heightPx, tones);
  if (!tones.some((value) => value > 0 && value < 255)) return null;
  if (inverted) for (let k = 0; k < tones.length; k++) tones[k] = 255 - tones[k];
  for (let k = 0; k < tones.length; k++) {
    const column = k % widthPx;
    const isRim = column === 0 || column === widthPx - 1 || k < widthPx || k >= tones.length - widthPx;
    if (isRim && tones[k] >= fromTone) return null;
  }
  const pixelMm2 = grid.pitchXMm * grid.pitchYMm;
  const diameterAt = (level: number) => 2 * Math.sqrt((areaOver(tones, widthPx, heightPx, level) * pixelMm2) / Math.PI);
  // A renderer's smoothing makes a pixel as dark as it is covered: the tones add up to the area.
  const isSmoothed = diameterAt(footTone) - diameterAt(headTone) <= 2 * smoothedPx * coarsePitchMm(grid);
  const areaPx =
    isSmoothed && tones.some((value) => value > headTone)
      ? tones.reduce((sum, value) => sum + value, 0) / 255
      : areaOver(tones, widthPx, heightPx, halfTone);
  const areaMm2 = areaPx * pixelMm2;
  return {
    areaMm2,
    equivalentDiameterMm: 2 * Math.sqrt(areaMm2 / Math.PI),
    plusMinusMm: leftOpenPx * coarsePitchMm(grid) + (diameterAt(fromTone) - diameterAt(toTone)) / 2,
  };
}
