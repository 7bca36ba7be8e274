import type { BoxMm } from '../geometry/box.ts';
import { tilePx } from '../raster/edgeTiles.ts';
import type { Stretch, StripReadings } from '../raster/facedOutline.ts';
import type { GriddedPlane } from '../raster/griddedPlane.ts';
import type { PixelGrid } from '../raster/pixelGrid.ts';
import type { PlanePair } from '../raster/planePair.ts';
import { coverOf } from './overlapCovers.ts';
import { KnockOuts } from './overlapKnockOuts.ts';

export interface BoundaryOptions {
  readonly reachMm: number;
  /** Where no boundary is measured. */
  readonly ignoreBoxes: readonly BoxMm[];
  /** Planes whose ink fills a gap between the two. */
  readonly covers: readonly GriddedPlane[];
  /** The clear film of the second plane takes the part of its ink. */
  readonly invertOther: boolean;
  /** Look also for strips of the first plane that lie wholly on the other. */
  readonly seekStrips: boolean;
}

export interface Boundary {
  readonly stretches: readonly Stretch[];
  readonly knockOuts: KnockOuts;
  /** Tiles (32 × 32 px, a word wide) in which outlines of the first plane have an edge of the second near. */
  readonly nearTiles: Uint8Array;
}

/** The common boundary of two planes, found along the outlines of the first, in its film space. */
export function walkBoundary(
  pair: PlanePair,
  options: BoundaryOptions,
  takeStrips: (strips: StripReadings) => void = () => {},
): Boundary {
  const { grid, bits } = pair.own;
  // Strips may lie anywhere on the other plane.
  const nearTiles = options.seekStrips ? pair.edgeTiles() : pair.nearTiles(options.reachMm);
  const tiles = nearTiles.slice();
  dropIgnoredTiles(tiles, bits.wordsPerRow, grid, options.ignoreBoxes);
  const stretches: Stretch[] = [];
  const knockOuts = new KnockOuts();
  pair.visitOutlines({ ...options, tiles, cover: coverOf(options.covers) }, (outline) => {
    for (const stretch of outline.stretches) stretches.push(stretch);
    knockOuts.take(outline);
    if (outline.strips !== null) takeStrips(outline.strips);
  });
  return { stretches, knockOuts, nearTiles };
}

function dropIgnoredTiles(marked: Uint8Array, tilesPerRow: number, grid: PixelGrid, boxes: readonly BoxMm[]): void {
  const tileRows = marked.length / tilesPerRow;
  for (const box of boxes) {
    const left = Math.max(0, Math.ceil(box.xMm / grid.pitchXMm / tilePx));
    const top = Math.max(0, Math.ceil(box.yMm / grid.pitchYMm / tilePx));
    const right = Math.min(tilesPerRow, Math.floor((box.xMm + box.widthMm) / grid.pitchXMm / tilePx));
    const bottom = Math.min(tileRows, Math.floor((box.yMm + box.heightMm) / grid.pitchYMm / tilePx));
    for (let row = top; row < bottom; row++) {
      if (left < right) marked.fill(0, row * tilesPerRow + left, row * tilesPerRow + right);
    }
  }
}
