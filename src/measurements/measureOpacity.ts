import type { Plate } from '../plates/plate.ts';
import { opaqueBox } from '../raster/opaqueBox.ts';
import { boxOfPixels } from '../raster/pixelGrid.ts';
import type { Opacity } from './opacity.ts';
import { greyAreas } from './opacityAreas.ts';
import { findGreyCells } from './opacityCells.ts';

/** How opaque a plate is as drawn: its coverage, and where it is neither clear nor opaque. */
export function measureOpacity(plate: Plate): Opacity {
  const { grid, bits, tone, toneHistogram } = plate;
  const total = grid.widthPx * grid.heightPx;
  const percentOfTone = (value: number) => (100 * value) / 255;
  let toneSum = 0;
  let strongest = 0;
  for (let value = 0; value < 256; value++) {
    toneSum += value * toneHistogram[value];
    if (toneHistogram[value] > 0) strongest = value;
  }
  const grey = tone === null ? null : greyAreas(findGreyCells(tone, grid), grid);
  const minTone = grey?.minTone ?? null;
  const maxTone = grey?.maxTone ?? null;
  const inked = opaqueBox(bits);
  return {
    coveragePercent: percentOfTone(toneSum) / total,
    semiOpaquePercent: (100 * (grey?.semiOpaquePx ?? 0)) / total,
    maxInkPercent: percentOfTone(strongest),
    toneMinPercent: minTone === null ? null : percentOfTone(minTone),
    toneMaxPercent: maxTone === null ? null : percentOfTone(maxTone),
    semiOpaqueAreas: grey?.semiOpaqueAreas ?? [],
    softScreenedPercent: (100 * (grey?.softScreenedPx ?? 0)) / total,
    softScreenedAreas: grey?.softScreenedAreas ?? [],
    inkedBoxMm: inked === null ? null : boxOfPixels(grid, inked.left, inked.top, inked.right, inked.bottom),
  };
}
