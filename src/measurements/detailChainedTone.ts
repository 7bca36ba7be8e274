import { type BitPlane, wordsPerRowFor } from '../raster/bitPlane.ts';
import { axesOf } from '../raster/component.ts';
import { visitComponents } from '../raster/components.ts';
import { discOfRadius } from '../raster/disc.ts';
import { erodedByDisc } from '../raster/morphology.ts';
import { plateWords } from './detailMemory.ts';
import type { TileEdges } from './detailTileEdges.ts';
import { connectTiles, leastToneMm2, type TileRegion, type Tiles, tileOfPixel, toneSpotMm } from './detailTiles.ts';

/**
 * Edges a tile of halftone has along its rows and its columns together, a millimetre: 35 lpi has 3.6 in chains along one
 * of them, 5 else; and the least in either direction.
 */
const busyPerMm = 3;
const leastBusyPerMm = 0.7;
/**
 * Dots that touch come apart again when this much is taken off them all round: about 0.15 of the cell at 55 to 65 lpi
 * and at 35 to 45 lpi. Necks between dots are thinner than that until the holes between them are, and then these part.
 */
const takenOffMm = [0.065, 0.11, 0.16];
/** 35 lpi has 1.9 cells a mm²; stricter than for whole spots, as small letters fall into pieces too. */
const piecesPerMm2 = 1.6;
const leastPiecePx = 1.9;
const mostPieceAspect = 3;

/**
 * Tiles of tone whose dots, or the film between them, hang together in chains: busy ones in which many small pieces
 * appear when a little is taken off the black, or off the clear. Answers 1 for each such tile.
 * @param isKnown tiles that are tone already and need no look
 */
export function findChainedTone(
  plane: BitPlane,
  tiles: Tiles,
  edges: TileEdges,
  isKnown: (index: number) => boolean,
): Uint8Array {
  const found = new Uint8Array(tiles.perRow * tiles.rows);
  const open = found.map((_, index) => {
    const isBusy = edges.perMm[index] >= busyPerMm && edges.leastPerMm[index] >= leastBusyPerMm;
    return isBusy && !isKnown(index) ? 1 : 0;
  });
  // Busy tiles too few to be a tone even with what is known of one need no look.
  for (const region of connectTiles(tiles, (index) => open[index] === 1 || isKnown(index))) {
    if (region.tiles.length * tiles.areaMm2 >= leastToneMm2) continue;
    for (const index of region.tiles) open[index] = 0;
  }
  if (!open.includes(1)) return found;
  const { pitchXMm, pitchYMm } = tiles.grid;
  const rowPitch = pitchYMm / pitchXMm;
  const parts = partsOf(tiles, open);
  const mostWords = Math.max(...parts.map((part) => sizeOf(part, tiles).words));
  const words = plateWords.take(mostWords);
  const eroded = new Uint32Array(mostWords);
  for (const part of parts) {
    for (const inverted of [false, true]) {
      // Beyond the open tiles lies nothing to take pieces from, whichever way round.
      const only = onlyTiles(plane, tiles, part, inverted, words);
      for (const offMm of takenOffMm) {
        const disc = discOfRadius(offMm / pitchXMm, rowPitch);
        const pieces = erodedByDisc(only, disc, inverted ? 'opaque' : 'clear', inverted, eroded);
        const counts = countPieces(pieces, tiles, part);
        for (let index = 0; index < found.length; index++) {
          if (counts[index] >= piecesPerMm2 * tiles.areaMm2) found[index] = 1;
        }
      }
    }
  }
  return found;
}

/** Some tiles, and the columns and rows of tiles around them. */
type TilePart = Omit<TileRegion, 'tiles'> & { readonly chosen: Uint8Array };

/** The chosen tiles by connected parts, which have no piece in common; all in one when their boxes lie over each other. */
function partsOf(tiles: Tiles, chosen: Uint8Array): TilePart[] {
  const regions = connectTiles(tiles, (index) => chosen[index] === 1);
  const boxTiles = regions.reduce((sum, { left, top, right, bottom }) => sum + (right - left) * (bottom - top), 0);
  if (boxTiles > chosen.length) return [{ chosen, left: 0, top: 0, right: tiles.perRow, bottom: tiles.rows }];
  return regions.map(({ tiles: own, ...box }) => {
    const only = new Uint8Array(chosen.length);
    for (const index of own) only[index] = 1;
    return { ...box, chosen: only };
  });
}

/** Columns and rows of pixels of a part, and the words they take. */
function sizeOf({ left, top, right, bottom }: TilePart, { sidePx, grid }: Tiles) {
  const widthPx = Math.min(grid.widthPx, right * sidePx) - left * sidePx;
  const heightPx = Math.min(grid.heightPx, bottom * sidePx) - top * sidePx;
  const wordsPerRow = wordsPerRowFor(widthPx);
  return { widthPx, heightPx, wordsPerRow, words: wordsPerRow * heightPx };
}

/** How many pieces as compact as the middle of a dot each tile holds: lines that break up leave thin or long ones. */
function countPieces(pieces: BitPlane, tiles: Tiles, { left, top }: TilePart): Uint32Array {
  const { perRow, rows, grid, sidePx } = tiles;
  const counts = new Uint32Array(perRow * rows);
  visitComponents(pieces, { inverted: false, connectivity: 8 }, (part) => {
    if ((part.right - part.left) * grid.pitchXMm > toneSpotMm) return;
    if ((part.bottom - part.top) * grid.pitchYMm > toneSpotMm) return;
    const { longPx, shortPx } = axesOf(part);
    if (shortPx < leastPiecePx || longPx > mostPieceAspect * shortPx) return;
    const column = left * sidePx + ((part.left + part.right) >> 1);
    counts[tileOfPixel(tiles, column, top * sidePx + ((part.top + part.bottom) >> 1))]++;
  });
  return counts;
}

/** The part alone, in words that are there; around its tiles all is opaque or clear. */
function onlyTiles(plane: BitPlane, tiles: Tiles, part: TilePart, restOpaque: boolean, into: Uint32Array): BitPlane {
  const { words: length, ...size } = sizeOf(part, tiles);
  const words = into.subarray(0, length);
  const wordsPerTile = tiles.sidePx / 32;
  words.fill(restOpaque ? 0xffffffff : 0);
  for (let row = 0; row < size.heightPx; row++) {
    const tileRow = (part.top + Math.floor(row / tiles.sidePx)) * tiles.perRow;
    const source = (part.top * tiles.sidePx + row) * plane.wordsPerRow;
    for (let tile = part.left; tile < part.right; tile++) {
      if (part.chosen[tileRow + tile] !== 1) continue;
      const first = (tile - part.left) * wordsPerTile;
      const end = first + Math.min(wordsPerTile, plane.wordsPerRow - tile * wordsPerTile);
      const from = source + tile * wordsPerTile;
      for (let word = first; word < end; word++)
        words[row * size.wordsPerRow + word] = plane.words[from + word - first];
    }
  }
  return { ...size, words };
}
