import { type BitPlane, popcount } from '../raster/bitPlane.ts';
import { discOfRadius } from '../raster/disc.ts';
import { erodedByDisc } from '../raster/morphology.ts';
import { collectSpots } from './detailSpots.ts';
import { countSpots, type Tiles, toneSpotMm } from './detailTiles.ts';

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

/**
 * Tiles of tone whose dots, or the film between them, hang together in chains: busy ones in which many small pieces
 * appear when a little is taken off the black, or off the clear. Answers 1 for each such tile.
 * @param isKnown tiles that are tone already and need no look
 */
export function findChainedTone(plane: BitPlane, tiles: Tiles, isKnown: (index: number) => boolean): Uint8Array {
  const found = new Uint8Array(tiles.perRow * tiles.rows);
  const busy = busyTiles(plane, tiles);
  const open = busy.map((value, index) => (value === 1 && !isKnown(index) ? 1 : 0));
  if (!open.includes(1)) return found;
  const { pitchXMm, pitchYMm } = tiles.grid;
  const rowPitch = pitchYMm / pitchXMm;
  for (const inverted of [false, true]) {
    // Beyond the open tiles lies nothing to take pieces from, whichever way round.
    const part = onlyTiles(plane, tiles, open, inverted);
    for (const offMm of takenOffMm) {
      const disc = discOfRadius(offMm / pitchXMm, rowPitch);
      const pieces = erodedByDisc(part, disc, inverted ? 'opaque' : 'clear', inverted);
      const counts = countSpots(tiles, collectSpots(pieces, false, toneSpotMm / pitchXMm, rowPitch));
      for (let index = 0; index < found.length; index++) {
        if (counts[index] >= piecesPerMm2 * tiles.areaMm2) found[index] = 1;
      }
    }
  }
  return found;
}

/** Tiles with as many edges along their rows and along their columns as a halftone has. */
function busyTiles(plane: BitPlane, tiles: Tiles): Uint8Array {
  const { sidePx, perRow, rows, grid } = tiles;
  const across = new Uint32Array(perRow * rows);
  const down = new Uint32Array(perRow * rows);
  const { heightPx, wordsPerRow, words } = plane;
  const usedWords = ((plane.widthPx - 1) >> 5) + 1;
  const wordsPerTile = sidePx / 32;
  for (let row = 0; row < heightPx; row++) {
    const tileRow = Math.floor(row / sidePx) * perRow;
    const base = row * wordsPerRow;
    const before = row === 0 ? base : base - wordsPerRow;
    for (let index = 0; index < usedWords; index++) {
      const word = words[base + index];
      const upper = words[before + index];
      if ((word === 0 || word === 0xffffffff) && word === upper) continue;
      const tile = tileRow + Math.floor(index / wordsPerTile);
      // The change from one word to the next is left out: one place in 32, whatever the picture.
      across[tile] += popcount((word ^ (word >>> 1)) & 0x7fffffff);
      down[tile] += popcount(word ^ upper);
    }
  }
  const pixels = sidePx * sidePx;
  return Uint8Array.from(across, (count, index) => {
    const acrossPerMm = count / (pixels * grid.pitchXMm);
    const downPerMm = down[index] / (pixels * grid.pitchYMm);
    const least = Math.min(acrossPerMm, downPerMm);
    return least >= leastBusyPerMm && acrossPerMm + downPerMm >= busyPerMm ? 1 : 0;
  });
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
