import { boxOfPixels, type PixelGrid } from '../raster/pixelGrid.ts';
import type { Opacity } from './opacity.ts';
import type { GreyCell, GreyCells } from './opacityCells.ts';
import { addTexture, emptyTexture, isScreened } from './opacityTexture.ts';

/** Areas listed at most; their share of the film counts in full. */
const mostAreas = 200;
/** Tones that deviate by no more than this are one tone, with what noise and rounding make of it. */
const flatDeviation = 6;

/** The grey parts of a plate, put together from its cells. */
export interface GreyAreas extends Pick<Opacity, 'semiOpaqueAreas' | 'softScreenedAreas'> {
  readonly semiOpaquePx: number;
  readonly softScreenedPx: number;
  readonly minTone: number | null;
  readonly maxTone: number | null;
}

/** Sorts the cells into halftones and greys by the look of them and their neighbours, and puts touching ones together. */
export function greyAreas(found: GreyCells, grid: PixelGrid): GreyAreas {
  const screened = new Set<number>();
  for (const index of found.cells.keys()) if (isScreenedCell(found, index)) screened.add(index);
  const greys = groupCells(found, (index) => !screened.has(index));
  const halftones = groupCells(found, (index) => screened.has(index));
  const pixelMm2 = grid.pitchXMm * grid.pitchYMm;
  const boxOf = ({ left, top, right, bottom }: GreyCell) => boxOfPixels(grid, left, top, right, bottom);
  const middles = greys.filter(({ maxTone }) => maxTone >= 0);
  return {
    semiOpaquePx: greys.reduce((sum, { pixels }) => sum + pixels, 0),
    softScreenedPx: halftones.reduce((sum, { texture }) => sum + texture.pixels, 0),
    minTone: middles.length === 0 ? null : Math.min(...middles.map(({ minTone }) => minTone)),
    maxTone: middles.length === 0 ? null : Math.max(...middles.map(({ maxTone }) => maxTone)),
    semiOpaqueAreas: greys.slice(0, mostAreas).map((area) => ({
      boxMm: boxOf(area),
      areaMm2: area.pixels * pixelMm2,
      meanTonePercent: (100 * area.toneSum) / (255 * area.pixels),
      kind: deviationOf(area) <= flatDeviation ? 'flat' : 'varied',
    })),
    softScreenedAreas: halftones.slice(0, mostAreas).map((area) => ({
      boxMm: boxOf(area),
      areaMm2: area.texture.pixels * pixelMm2,
      meanTonePercent: (100 * area.texture.sum) / (255 * area.texture.pixels),
    })),
  };
}

function deviationOf({ pixels, toneSum, toneSumOfSquares }: GreyCell): number {
  return Math.sqrt(Math.max(0, toneSumOfSquares / pixels - (toneSum / pixels) ** 2));
}

/** A cell may be smaller than a dot: those around it are looked at with it. */
function isScreenedCell(found: GreyCells, index: number): boolean {
  const texture = emptyTexture();
  addTexture(texture, found.cells.get(index)!.texture);
  for (const next of cellsAround(found, index)) addTexture(texture, found.cells.get(next)!.texture);
  return isScreened(texture);
}

/** Touching cells that qualify put together, those with most pixels first. */
function groupCells(found: GreyCells, qualifies: (index: number) => boolean): GreyCell[] {
  const { cells } = found;
  const seen = new Set<number>();
  const groups: GreyCell[] = [];
  for (const start of cells.keys()) {
    if (seen.has(start) || !qualifies(start)) continue;
    seen.add(start);
    const pending = [start];
    const group: GreyCell = {
      ...cells.get(start)!,
      pixels: 0,
      toneSum: 0,
      toneSumOfSquares: 0,
      texture: emptyTexture(),
    };
    for (let index = pending.pop(); index !== undefined; index = pending.pop()) {
      addCell(group, cells.get(index)!);
      for (const next of cellsAround(found, index)) {
        if (seen.has(next) || !qualifies(next)) continue;
        seen.add(next);
        pending.push(next);
      }
    }
    groups.push(group);
  }
  return groups.sort((a, b) => b.pixels - a.pixels || a.top - b.top || a.left - b.left);
}

function addCell(group: GreyCell, cell: GreyCell): void {
  group.pixels += cell.pixels;
  group.toneSum += cell.toneSum;
  group.toneSumOfSquares += cell.toneSumOfSquares;
  group.left = Math.min(group.left, cell.left);
  group.top = Math.min(group.top, cell.top);
  group.right = Math.max(group.right, cell.right);
  group.bottom = Math.max(group.bottom, cell.bottom);
  group.minTone = Math.min(group.minTone, cell.minTone);
  group.maxTone = Math.max(group.maxTone, cell.maxTone);
  addTexture(group.texture, cell.texture);
}

function cellsAround({ cells, perRow }: GreyCells, index: number): number[] {
  const column = index % perRow;
  const around: number[] = [];
  for (let down = -1; down <= 1; down++) {
    for (let across = -1; across <= 1; across++) {
      if ((down === 0 && across === 0) || column + across < 0 || column + across >= perRow) continue;
      const next = index + down * perRow + across;
      if (cells.has(next)) around.push(next);
    }
  }
  return around;
}
