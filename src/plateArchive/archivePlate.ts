import { deflateRawSync } from 'node:zlib';
import type { Plate } from '../plates/plate.ts';
import { cellCounts } from '../raster/cellCounts.ts';
import { readToneWindow } from '../raster/toneWindow.ts';
import {
  type ArchivedPlate,
  archiveTilePx,
  clearTile,
  firstKeptLevel,
  levelCount,
  levelSize,
  solidTile,
} from './archiveFormat.ts';
import { type Cover, coverOf, halvedCover } from './coverLevels.ts';

/** Quick: fuller packing takes three times as long for a sixth less. */
const packing = { level: 3 };

export interface PackedPlate {
  readonly facts: ArchivedPlate;
  /** The file: its tiles, then the index, two 32-bit numbers a tile, lowest byte first: place and length. */
  readonly bytes: Uint8Array;
}

/** Packs a plate into an archive; see `archiveFormat.ts`. */
export function archivePlate(plate: Plate): PackedPlate {
  const { widthPx, heightPx, pitchXMm, pitchYMm } = plate.grid;
  const facts: ArchivedPlate = {
    widthPx,
    heightPx,
    depth: plate.tone === null ? 1 : 8,
    levels: levelCount(widthPx, heightPx),
    pitchXMm,
    pitchYMm,
  };
  const pieces: Uint8Array[] = [];
  const index: number[] = [];
  let offset = 0;
  const add = (tile: Uint8Array) => {
    const flat = flatValue(tile);
    if (flat !== null) {
      index.push(0, flat === 0 ? clearTile : solidTile);
      return;
    }
    const packed = deflateRawSync(tile, packing);
    pieces.push(packed);
    index.push(offset, packed.length);
    offset += packed.length;
  };
  const tile = new Uint8Array((archiveTilePx * archiveTilePx * facts.depth) / 8);
  const { columns, rows } = levelSize(facts, 0);
  for (let row = 0; row < rows; row++) {
    for (let column = 0; column < columns; column++) {
      readPlateTile(plate, column, row, tile);
      add(tile);
    }
  }
  let cover = firstKeptCover(plate);
  for (let level = firstKeptLevel; level < facts.levels; level++) {
    if (level > firstKeptLevel) cover = halvedCover(cover);
    for (const coverTile of tilesOfCover(cover)) add(coverTile);
  }
  pieces.push(new Uint8Array(Uint32Array.from(index).buffer));
  return { facts, bytes: joined(pieces) };
}

/** 0 or 255 when all bytes are that, else null. */
function flatValue(bytes: Uint8Array): 0 | 255 | null {
  const words = new Uint32Array(bytes.buffer, bytes.byteOffset, bytes.length / 4);
  const first = words[0];
  if (first !== 0 && first !== 0xffffffff) return null;
  return words.every((word) => word === first) ? (first === 0 ? 0 : 255) : null;
}

/** A tile of level 0 as it is packed: bits, or tones. */
function readPlateTile({ bits, tone }: Plate, column: number, row: number, into: Uint8Array): void {
  const top = row * archiveTilePx;
  if (tone !== null) {
    readToneWindow(tone, column * archiveTilePx, top, archiveTilePx, archiveTilePx, into);
    return;
  }
  const words = new Uint32Array(into.buffer, into.byteOffset, into.length / 4);
  words.fill(0);
  const wordsPerTile = archiveTilePx / 32;
  const from = column * wordsPerTile;
  const to = Math.min(bits.wordsPerRow, from + wordsPerTile);
  for (let line = top; line < Math.min(bits.heightPx, top + archiveTilePx); line++) {
    const start = line * bits.wordsPerRow;
    words.set(bits.words.subarray(start + from, start + to), (line - top) * wordsPerTile);
  }
}

function firstKeptCover(plate: Plate): Cover {
  const factor = 2 ** firstKeptLevel;
  const widthPx = Math.ceil(plate.grid.widthPx / factor);
  const heightPx = Math.ceil(plate.grid.heightPx / factor);
  if (plate.tone === null) {
    const whole = factor * factor;
    return {
      widthPx,
      heightPx,
      values: Uint8Array.from(cellCounts(plate.bits, factor), (count) => coverOf(count, whole)),
    };
  }
  // A band of one row of cells at a time, so that no plate is spread out whole.
  const values = new Uint8Array(widthPx * heightPx);
  const band = new Uint8Array(widthPx * factor * factor);
  for (let row = 0; row < heightPx; row++) {
    readToneWindow(plate.tone, 0, row * factor, widthPx * factor, factor, band);
    let cover: Cover = { widthPx: widthPx * factor, heightPx: factor, values: band };
    for (let level = 0; level < firstKeptLevel; level++) cover = halvedCover(cover);
    values.set(cover.values, row * widthPx);
  }
  return { widthPx, heightPx, values };
}

function* tilesOfCover({ widthPx, heightPx, values }: Cover): Generator<Uint8Array> {
  for (let top = 0; top < heightPx; top += archiveTilePx) {
    for (let left = 0; left < widthPx; left += archiveTilePx) {
      const tile = new Uint8Array(archiveTilePx * archiveTilePx);
      const right = Math.min(widthPx, left + archiveTilePx);
      for (let row = top; row < Math.min(heightPx, top + archiveTilePx); row++)
        tile.set(values.subarray(row * widthPx + left, row * widthPx + right), (row - top) * archiveTilePx);
      yield tile;
    }
  }
}

function joined(pieces: readonly Uint8Array[]): Uint8Array {
  const bytes = new Uint8Array(pieces.reduce((sum, { length }) => sum + length, 0));
  let at = 0;
  for (const piece of pieces) {
    bytes.set(piece, at);
    at += piece.length;
  }
  return bytes;
}
