import type { Plate } from '../plates/plate.ts';
import { opaqueBox } from '../raster/opaqueBox.ts';
import { boxOfPixels, type PixelGrid } from '../raster/pixelGrid.ts';
import type { Opacity } from './opacity.ts';
import { findSemiOpaque, type SemiOpaqueCell, type SemiOpaquePixels } from './opacityCells.ts';

/** Areas listed at most; their share of the film counts in full. */
const mostAreas = 200;

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
  const semiOpaque = tone === null ? null : findSemiOpaque(tone);
  const hasMiddle = semiOpaque !== null && semiOpaque.maxTone >= 0;
  const inked = opaqueBox(bits);
  return {
    coveragePercent: percentOfTone(toneSum) / total,
    semiOpaquePercent: semiOpaque === null ? 0 : (100 * semiOpaque.pixels) / total,
    maxInkPercent: percentOfTone(strongest),
    toneMinPercent: hasMiddle ? percentOfTone(semiOpaque.minTone) : null,
    toneMaxPercent: hasMiddle ? percentOfTone(semiOpaque.maxTone) : null,
    semiOpaqueAreas: semiOpaque === null ? [] : groupCells(semiOpaque, grid),
    inkedBoxMm: inked === null ? null : boxOfPixels(grid, inked.left, inked.top, inked.right, inked.bottom),
  };
}

/** Puts touching cells together to areas, largest first. */
function groupCells(found: SemiOpaquePixels, grid: PixelGrid): Opacity['semiOpaqueAreas'] {
  const { cells, cellsPerRow } = found;
  const seen = new Set<number>();
  const groups: SemiOpaqueCell[] = [];
  for (const start of cells.keys()) {
    if (seen.has(start)) continue;
    seen.add(start);
    const pending = [start];
    const group = { ...cells.get(start)!, pixels: 0, toneSum: 0 };
    for (let index = pending.pop(); index !== undefined; index = pending.pop()) {
      const cell = cells.get(index)!;
      group.pixels += cell.pixels;
      group.toneSum += cell.toneSum;
      group.left = Math.min(group.left, cell.left);
      group.top = Math.min(group.top, cell.top);
      group.right = Math.max(group.right, cell.right);
      group.bottom = Math.max(group.bottom, cell.bottom);
      const column = index % cellsPerRow;
      for (let down = -1; down <= 1; down++) {
        for (let across = -1; across <= 1; across++) {
          if (column + across < 0 || column + across >= cellsPerRow) continue;
          const next = index + down * cellsPerRow + across;
          if (seen.has(next) || !cells.has(next)) continue;
          seen.add(next);
          pending.push(next);
        }
      }
    }
    groups.push(group);
  }
  groups.sort((a, b) => b.pixels - a.pixels || a.top - b.top || a.left - b.left);
  return groups.slice(0, mostAreas).map((group) => ({
    boxMm: boxOfPixels(grid, group.left, group.top, group.right, group.bottom),
    areaMm2: group.pixels * grid.pitchXMm * grid.pitchYMm,
    meanTonePercent: (100 * group.toneSum) / (255 * group.pixels),
  }));
}
