import type { BitPlane } from '../raster/bitPlane.ts';
import { axesOf } from '../raster/component.ts';
import { visitComponents } from '../raster/components.ts';
import { discOfRadius } from '../raster/disc.ts';
import { erodedByDisc } from '../raster/morphology.ts';
import type { TileEdges } from './detailTileEdges.ts';
import { connectTiles, leastToneMm2, type Tiles, tileOfPixel, toneSpotMm } from './detailTiles.ts';

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
  for (const inverted of [false, true]) {
    // Beyond the open tiles lies nothing to take pieces from, whichever way round.
    const part = onlyTiles(plane, tiles, open, inverted);
    for (const offMm of takenOffMm) {
      const disc = discOfRadius(offMm / pitchXMm, rowPitch);
      const pieces = erodedByDisc(part, disc, inverted ? 'opaque' : 'clear', inverted);
      const counts = countPieces(pieces, tiles);
      for (let index = 0; index < found.length; index++) {
        if (counts[index] >= piecesPerMm2 * tiles.areaMm2) found[index] = 1;
      }
    }
  }
  return found;
}

/** How many pieces as compact as the middle of a dot each tile holds: lines that break up leave thin or long ones. */
function countPieces(pieces: BitPlane, tiles: Tiles): Uint32Array {
  const { perRow, rows, grid } = tiles;
  const counts = new Uint32Array(perRow * rows);
  visitComponents(pieces, { inverted: false, connectivity: 8 }, (part) => {
    if ((part.right - part.left) * grid.pitchXMm > toneSpotMm) return;
    if ((part.bottom - part.top) * grid.pitchYMm > toneSpotMm) return;
    const { longPx, shortPx } = axesOf(part);
    if (shortPx < leastPiecePx || longPx > mostPieceAspect * shortPx) return;
    counts[tileOfPixel(tiles, (part.left + part.right) >> 1, (part.top + part.bottom) >> 1)]++;
  });
  return counts;
}

function onlyTiles(plane: BitPlane, tiles: Tiles, chosen: Uint8Array, restOpaque: boolean): BitPlane {
  const words = new Uint32Array(plane.words.length);
  const wordsPerTile = tiles.sidePx / 32;
  const rest = restOpaque ? 0xffffffff : 0;
  for (let row = 0; row < plane.heightPx; row++) {
    const tileRow = Math.floor(row / tiles.sidePx) * tiles.perRow;
    const base = row * plane.wordsPerRow;
    for (let index = 0; index < plane.wordsPerRow; index++) {
      const isChosen = chosen[tileRow + Math.floor(index / wordsPerTile)] === 1;
      words[base + index] = isChosen ? plane.words[base + index] : rest;
    }
  }
  return { ...plane, words };
}
