import type { DrawPass } from '../artwork/drawing.ts';
import { createBitPlane } from '../raster/bitPlane.ts';
import type { PixelGrid } from '../raster/pixelGrid.ts';
import type { TonePlane } from '../raster/tonePlane.ts';
import { tileSidePx } from '../raster/tonePlane.ts';
import { bandRows } from './bandRows.ts';
import type { DrawnPlate } from './plateBuilder.ts';
import { tonesOfBits } from './toneTiles.ts';

/**
 * The pass in up to `parts` pieces of its rows that can be drawn at the same time. Pieces begin where bands begin
 * anyway, so the plates are the same however many they are. Only PDF pages are cut; other engines read from the top.
 */
export function splitPass(pass: DrawPass, parts: number): readonly DrawPass[] {
  if (pass.job.engine !== 'pdf' || parts < 2) return [pass];
  const { heightPx } = pass.grid;
  const bands = Math.ceil(heightPx / bandRows);
  const bandsPerPart = Math.ceil(bands / parts);
  const pieces: DrawPass[] = [];
  for (let band = 0; band < bands; band += bandsPerPart) {
    const rows = { top: band * bandRows, bottom: Math.min(heightPx, (band + bandsPerPart) * bandRows) };
    pieces.push({ ...pass, rows });
  }
  return pieces;
}

/** Puts the pieces of one plate together, from the top. */
export function joinDrawnPlates(pieces: readonly DrawnPlate[], grid: PixelGrid): DrawnPlate {
  if (pieces.length === 1) return pieces[0];
  const bits = createBitPlane(grid.widthPx, grid.heightPx);
  const toneHistogram = new Float64Array(256);
  let at = 0;
  for (const piece of pieces) {
    bits.words.set(piece.bits.words, at);
    at += piece.bits.words.length;
    for (let tone = 0; tone < 256; tone++) toneHistogram[tone] += piece.toneHistogram[tone];
  }
  const tone = pieces.every((piece) => piece.tone === null) ? null : joinTones(pieces, grid);
  return { bits, tone, toneHistogram };
}

function joinTones(pieces: readonly DrawnPlate[], grid: PixelGrid): TonePlane {
  const tilesPerRow = Math.ceil(grid.widthPx / tileSidePx);
  const tileRows = Math.ceil(grid.heightPx / tileSidePx);
  const flatTones = new Int16Array(tilesPerRow * tileRows);
  const tiles = new Map<number, Uint8Array>();
  let at = 0;
  for (const piece of pieces) {
    const tone = piece.tone ?? tonesOfBits(piece.bits);
    flatTones.set(tone.flatTones, at);
    for (const [index, tile] of tone.tiles) tiles.set(at + index, tile);
    at += tone.flatTones.length;
  }
  return { widthPx: grid.widthPx, heightPx: grid.heightPx, tilesPerRow, tileRows, flatTones, tiles };
}
