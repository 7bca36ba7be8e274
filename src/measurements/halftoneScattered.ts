import type { BoxMm } from '../geometry/box.ts';
import type { Plate } from '../plates/plate.ts';
import { coarsePitchMm } from '../raster/pixelGrid.ts';
import type { HalftoneRegion, TintMap, TonePlace } from './halftone.ts';
import { softEdgePercentOf } from './halftoneSoftEdges.ts';
import { type Texture, textureAt } from './halftoneTexture.ts';
import type { HalftoneTiles, ToneLevels } from './halftoneTiles.ts';
import { SquareSums } from './tintMap.ts';

export const textureSidePx = 128;
const leastGrain = 0.8;
/** Dots of several pixels lie on a grid of their own. */
const leastGridShare = 0.5;
/** Lattices of no more dots than that along a cell are what a threshold matrix leaves at one tone. */
const fewDots = 4.01;
/** Square dots along the pixels look like those of a matrix; where they are larger than that they are dots of a screen. */
const mostOrderedPx = 3.5;
/** Of a dispersing matrix every tone that is a lattice has twice, four times, eight times as many places as dots. */
const evenDoublings = 0.1;
/** A chequer of fields as large is dots, not the dither of half tone. */
const mostChequerPx = 2.5;
const leastAgreement = 0.7;
/** Coarser dots than 70 an inch are no tone. */
const mostDotMm = 25.4 / 70;
/** Changes of a tile by those of dots of the same side set at random. */
const grainFrom = 0.5;
const grainTo = 2.4;
const fewestTiles = 9;
const leastAreaMm2 = 20;
const mostWindows = 9;
const placesKept = 3;

/** Whether a window is made of small dots scattered over it, or set by a threshold matrix. */
export function isScattered(texture: Texture, pitchMm: number): boolean {
  if (texture.tone <= 0.005 || texture.tone >= 0.995) return false;
  const { mostGrain, leastDotPx } = texture.bounds;
  if (mostGrain < leastGrain || leastDotPx * pitchMm > mostDotMm) return false;
  return texture.grain >= leastGrain && texture.gridShare >= leastGridShare && texture.dotPx * pitchMm <= mostDotMm;
}

/** Whether dots are so large that those on a lattice are a screen's, not a matrix's. */
export function isTooLargeForMatrix({ dotPx }: Texture): boolean {
  return dotPx > mostOrderedPx;
}

/**
 * Whether a lattice may be that of a threshold matrix or of scattered dots that happen to lie even: few dots of the
 * finest grain to a cell, repeating along rows and columns.
 */
export function mayBeOrdered(texture: Texture, cellPx: number): boolean {
  // To find the dots' pitch takes longer than to see that no pitch would do.
  if (cellPx > fewDots * mostOrderedPx) return false;
  const { dotPx } = texture;
  if (isTooLargeForMatrix(texture) || cellPx > fewDots * dotPx || texture.gridShare < 0.9) return false;
  const doublings = 2 * Math.log2(cellPx / dotPx);
  if (Math.abs(doublings - Math.round(doublings)) > evenDoublings || texture.periodPx === null) return false;
  return !isChequer(texture) || texture.dotPx < mostChequerPx;
}

/** At half tone dots set by any rule may lie like the fields of a draughtboard. */
function isChequer({ tone, periodPx, dotPx }: Texture): boolean {
  return Math.abs(tone - 0.5) < 0.04 && periodPx !== null && Math.abs(periodPx - 2 * dotPx) < 0.5;
}

/** Tiles around one that are of the same grain, connected. */
export function growScattered(
  tiles: HalftoneTiles,
  start: number,
  dotPx: number,
  isTaken: (tile: number) => boolean,
): Int32Array {
  const { perRow, rows } = tiles;
  const seen = new Uint8Array(perRow * rows);
  const pending = [start];
  seen[start] = 1;
  for (let k = 0; k < pending.length; k++) {
    const column = pending[k] % perRow;
    const row = (pending[k] - column) / perRow;
    for (let r = Math.max(0, row - 1); r <= Math.min(rows - 1, row + 1); r++) {
      for (let c = Math.max(0, column - 1); c <= Math.min(perRow - 1, column + 1); c++) {
        const next = r * perRow + c;
        if (seen[next] === 1) continue;
        seen[next] = 1;
        if (!isTaken(next) && isGrain(tiles, next, dotPx)) pending.push(next);
      }
    }
  }
  return Int32Array.from(pending).sort();
}

function isGrain({ tones, across, down }: HalftoneTiles, tile: number, dotPx: number): boolean {
  const chance = 2 * tones[tile] * (1 - tones[tile]);
  if (chance < 0.002) return false;
  const grain = (Math.min(across[tile], down[tile]) * dotPx) / chance;
  return grain >= grainFrom && grain <= grainTo;
}

/** The part as a region; null where it is too small, or its windows do not agree. */
export function scatteredRegion(
  plate: Plate,
  tiles: HalftoneTiles,
  part: Int32Array,
  levels: ToneLevels,
): HalftoneRegion | null {
  const { sidePx, perRow, grid, tones } = tiles;
  const tileMm2 = sidePx * sidePx * grid.pitchXMm * grid.pitchYMm;
  if (part.length < fewestTiles || part.length * tileMm2 < leastAreaMm2) return null;
  const belongs = new Uint8Array(tones.length);
  for (const tile of part) belongs[tile] = 1;
  const around = (tile: number) => {
    const list: number[] = [];
    for (const step of [-perRow - 1, -perRow, -perRow + 1, -1, 1, perRow - 1, perRow, perRow + 1]) {
      const column = (tile % perRow) + (((step + perRow + 1) % perRow) - 1);
      if (column >= 0 && column < perRow && belongs[tile + step] === 1) list.push(tile + step);
    }
    return list;
  };
  const whole = part.filter((tile) => around(tile).length === 8);
  const votes = voteOn(plate, tiles, whole.length > 0 ? whole : part, levels);
  if (votes.agreed === 0 || votes.agreed < leastAgreement * votes.windows) return null;
  const smoothed = new Float32Array(tones.length);
  for (const tile of whole) {
    let sum = tones[tile];
    const near = around(tile).filter((next) => around(next).length === 8);
    for (const next of near) sum += tones[next];
    smoothed[tile] = sum / (near.length + 1);
  }
  const ordered = Int32Array.from(whole).sort((a, b) => smoothed[a] - smoothed[b] || a - b);
  const areaMm2 = part.length * tileMm2;
  const areaByToneMm2 = new Array<number>(101).fill(0);
  for (const tile of whole) areaByToneMm2[Math.round(100 * smoothed[tile])] += areaMm2 / whole.length;
  const percentile = (share: number) =>
    ordered.length === 0
      ? null
      : 100 * smoothed[ordered[Math.min(ordered.length - 1, Math.floor(share * ordered.length))]];
  const boxOf = (from: number, to: number, top: number, bottom: number) => ({
    xMm: from * sidePx * grid.pitchXMm,
    yMm: top * sidePx * grid.pitchYMm,
    widthMm: (Math.min(grid.widthPx, to * sidePx) - from * sidePx) * grid.pitchXMm,
    heightMm: (Math.min(grid.heightPx, bottom * sidePx) - top * sidePx) * grid.pitchYMm,
  });
  const columns = [...part].map((tile) => tile % perRow);
  const rows = [...part].map((tile) => Math.floor(tile / perRow));
  const most = (values: readonly number[]) => values.reduce((a, b) => Math.max(a, b), 0);
  const least = (values: readonly number[]) => values.reduce((a, b) => Math.min(a, b), Infinity);
  const places = (list: Int32Array): TonePlace[] =>
    [...list.subarray(Math.floor(0.01 * list.length), Math.floor(0.01 * list.length) + placesKept)].map((tile) => ({
      boxMm: boxOf(tile % perRow, (tile % perRow) + 1, Math.floor(tile / perRow), Math.floor(tile / perRow) + 1),
      tonePercent: 100 * smoothed[tile],
    }));
  const boxMm = boxOf(least(columns), most(columns) + 1, least(rows), most(rows) + 1);
  const isOrdered = votes.periodPx !== null;
  const pitchMm = coarsePitchMm(grid);
  return {
    kind: isOrdered ? 'ordered' : 'fm',
    boxMm,
    areaMm2,
    rulingLpi: isOrdered ? 25.4 / (votes.periodPx! * pitchMm) : null,
    rulingPlusMinusLpi: isOrdered ? 0 : null,
    angleDeg: isOrdered ? 0 : null,
    anglePlusMinusDeg: isOrdered ? 0 : null,
    dotShape: 'unknown',
    dotShapeClass: 'unknown',
    dotPitchMm: votes.dotPx * pitchMm,
    toneMinPercent: percentile(0.01),
    toneMaxPercent: percentile(0.99),
    tonePlusMinusPercent: 0.5,
    areaByToneMm2,
    tintMap: tintMapOfTiles(tiles, whole, smoothed, boxMm),
    lightest: places(ordered),
    darkest: places(Int32Array.from(ordered).reverse()),
    pixelsPerCell: isOrdered ? votes.periodPx : null,
    greyLevels: isOrdered ? Math.round((votes.periodPx! / votes.dotPx) ** 2) + 1 : null,
    softEdgePercent: plate.tone === null ? null : softEdgePercentOf(plate.tone, middlesOf(tiles, part), levels),
    windows: votes.windows,
    windowsAgreed: votes.agreed,
  };
}

function tintMapOfTiles(
  { perRow, sidePx, grid }: HalftoneTiles,
  whole: Int32Array,
  smoothed: Float32Array,
  boxMm: BoxMm,
): TintMap {
  const [wideMm, highMm] = [sidePx * grid.pitchXMm, sidePx * grid.pitchYMm];
  const sums = new SquareSums(boxMm, Math.max(wideMm, highMm));
  for (const tile of whole) {
    sums.add(((tile % perRow) + 0.5) * wideMm, (Math.floor(tile / perRow) + 0.5) * highMm, smoothed[tile]);
  }
  return sums.map();
}

function middlesOf({ perRow, sidePx }: HalftoneTiles, part: Int32Array): { column: number; row: number }[] {
  return [...part].map((tile) => ({
    column: ((tile % perRow) + 0.5) * sidePx,
    row: (Math.floor(tile / perRow) + 0.5) * sidePx,
  }));
}

interface Votes {
  readonly windows: number;
  readonly agreed: number;
  readonly dotPx: number;
  /** The period most windows have; null where most have none. */
  readonly periodPx: number | null;
}

function voteOn(plate: Plate, tiles: HalftoneTiles, part: Int32Array, levels: ToneLevels): Votes {
  const pitchMm = coarsePitchMm(plate.grid);
  const step = Math.max(1, part.length / mostWindows);
  const dots: number[] = [];
  const periods: number[] = [];
  let windows = 0;
  let telling = 0;
  for (let k = 0.5; k * step < part.length && windows < mostWindows; k++) {
    const tile = part[Math.floor(k * step)];
    const column = (tile % tiles.perRow) * tiles.sidePx + (tiles.sidePx >> 1);
    const row = Math.floor(tile / tiles.perRow) * tiles.sidePx + (tiles.sidePx >> 1);
    const side = Math.min(textureSidePx, 3 * tiles.sidePx);
    const texture = textureAt(plate, column - (side >> 1), row - (side >> 1), side, levels);
    windows++;
    if (!isScattered(texture, pitchMm)) continue;
    dots.push(texture.dotPx);
    if (isChequer(texture)) continue;
    telling++;
    if (texture.periodPx !== null) periods.push(texture.periodPx);
  }
  const isOrdered = telling > 0 && periods.length >= 0.6 * telling;
  return {
    windows,
    agreed: dots.length,
    dotPx: dots.sort((a, b) => a - b)[dots.length >> 1] ?? 0,
    periodPx: isOrdered ? Math.max(...periods) : null,
  };
}
