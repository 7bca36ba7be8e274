import { promisify } from 'node:util';
import { inflateRaw } from 'node:zlib';
import type { ByteSource } from '../artwork/byteSource.ts';
import { type BitPlane, createBitPlane, setBit } from '../raster/bitPlane.ts';
import {
  type ArchivedPlate,
  archiveTilePx,
  clearTile,
  firstKeptLevel,
  isKept,
  levelSize,
  solidTile,
  tileCount,
  tileNumber,
} from './archiveFormat.ts';
import { type Cover, halvedBits, halvedCover } from './coverLevels.ts';

const inflate = promisify(inflateRaw);

/** `packed` bytes are raw deflate (RFC 1951) of the tile: bits at level 0 of depth 1, else one byte a pixel. */
export type ArchiveTile =
  | { readonly kind: 'clear' }
  | { readonly kind: 'solid' }
  | { readonly kind: 'packed'; readonly bytes: Uint8Array };

export class DamagedArchiveError extends Error {}

/** Reads tiles of one archived plate; holds its index and nothing else in memory. */
export class PlateArchive {
  readonly facts: ArchivedPlate;
  private readonly source: ByteSource;
  private readonly index: Uint32Array;

  private constructor(facts: ArchivedPlate, source: ByteSource, index: Uint32Array) {
    this.facts = facts;
    this.source = source;
    this.index = index;
  }

  /** @throws DamagedArchiveError when the file is not what its facts say. */
  static async open(facts: ArchivedPlate, source: ByteSource): Promise<PlateArchive> {
    const sizeBytes = 8 * tileCount(facts);
    const offset = source.sizeBytes - sizeBytes;
    const bytes = offset < 0 ? null : await source.read(offset, sizeBytes);
    if (bytes === null || bytes.length !== sizeBytes)
      throw new DamagedArchiveError(`${source.name} is shorter than the index of its plate.`);
    const index = new Uint32Array(Uint8Array.from(bytes).buffer);
    for (let at = 0; at < index.length; at += 2) {
      const length = index[at + 1];
      if (length !== clearTile && length !== solidTile && index[at] + length > offset)
        throw new DamagedArchiveError(`${source.name} has a tile that lies outside the file.`);
    }
    return new PlateArchive(facts, source, index);
  }

  /** A kept tile as it lies in the file; null beyond the plate or at a level that is not kept. */
  async keptTile(level: number, column: number, row: number): Promise<ArchiveTile | null> {
    if (!this.has(level, column, row) || !isKept(level)) return null;
    const at = 2 * tileNumber(this.facts, level, column, row);
    const length = this.index[at + 1];
    if (length === clearTile) return { kind: 'clear' };
    if (length === solidTile) return { kind: 'solid' };
    const bytes = await this.source.read(this.index[at], length);
    if (bytes.length !== length) throw new DamagedArchiveError(`${this.source.name} ends within a tile.`);
    return { kind: 'packed', bytes };
  }

  has(level: number, column: number, row: number): boolean {
    if (!(Number.isInteger(level) && level >= 0 && level < this.facts.levels)) return false;
    const { columns, rows } = levelSize(this.facts, level);
    return (
      Number.isInteger(column) && Number.isInteger(row) && column >= 0 && row >= 0 && column < columns && row < rows
    );
  }

  /** A tile of level 0 spread out: bits in rows of 64 bytes, or tones. */
  async plainTile(column: number, row: number): Promise<Uint8Array> {
    const sizeBytes = (archiveTilePx * archiveTilePx * this.facts.depth) / 8;
    const tile = await this.keptTile(0, column, row);
    if (tile === null || tile.kind === 'clear') return new Uint8Array(sizeBytes);
    if (tile.kind === 'solid') return new Uint8Array(sizeBytes).fill(255);
    return this.spread(tile.bytes, sizeBytes);
  }

  /** Covers of a tile of a reduced level, one byte a pixel; those of levels 1 and 2 are made of level 0. */
  async coverTile(level: number, column: number, row: number): Promise<Uint8Array> {
    const sizeBytes = archiveTilePx * archiveTilePx;
    if (level >= firstKeptLevel) {
      const tile = await this.keptTile(level, column, row);
      if (tile === null || tile.kind === 'clear') return new Uint8Array(sizeBytes);
      return tile.kind === 'solid' ? new Uint8Array(sizeBytes).fill(255) : this.spread(tile.bytes, sizeBytes);
    }
    const made = new Uint8Array(sizeBytes);
    const parts = 2 ** level;
    for (let down = 0; down < parts; down++) {
      for (let across = 0; across < parts; across++) {
        if (!this.has(0, column * parts + across, row * parts + down)) continue;
        let cover = this.firstCover(await this.plainTile(column * parts + across, row * parts + down));
        for (let done = 1; done < level; done++) cover = halvedCover(cover);
        const side = cover.widthPx;
        for (let line = 0; line < side; line++)
          made.set(
            cover.values.subarray(line * side, (line + 1) * side),
            (down * side + line) * archiveTilePx + across * side,
          );
      }
    }
    return made;
  }

  /** A part of the plate as a plane of its own, opaque from half tone; what lies beyond the plate is clear. */
  async readBits(left: number, top: number, widthPx: number, heightPx: number): Promise<BitPlane> {
    const plane = createBitPlane(widthPx, heightPx);
    const first = (px: number) => Math.max(0, Math.floor(px / archiveTilePx));
    for (let row = first(top); row * archiveTilePx < top + heightPx; row++) {
      for (let column = first(left); column * archiveTilePx < left + widthPx; column++) {
        if (!this.has(0, column, row)) continue;
        const tile = await this.plainTile(column, row);
        this.copyBits(tile, plane, column * archiveTilePx - left, row * archiveTilePx - top);
      }
    }
    return plane;
  }

  /** Tones of a part of the plate, 0 to 255, a byte a pixel; what lies beyond the plate is clear. */
  async readTones(left: number, top: number, widthPx: number, heightPx: number): Promise<Uint8Array> {
    const tones = new Uint8Array(widthPx * heightPx);
    const first = (px: number) => Math.max(0, Math.floor(px / archiveTilePx));
    for (let row = first(top); row * archiveTilePx < top + heightPx; row++) {
      for (let column = first(left); column * archiveTilePx < left + widthPx; column++) {
        if (!this.has(0, column, row)) continue;
        const plain = await this.plainTile(column, row);
        const tile = this.facts.depth === 8 ? plain : spreadBits(plain);
        const [toColumn, toRow] = [column * archiveTilePx - left, row * archiveTilePx - top];
        const from = Math.max(0, -toColumn);
        const end = Math.min(archiveTilePx, widthPx - toColumn);
        for (let line = Math.max(0, -toRow); line < Math.min(archiveTilePx, heightPx - toRow); line++)
          tones.set(
            tile.subarray(line * archiveTilePx + from, line * archiveTilePx + end),
            (line + toRow) * widthPx + from + toColumn,
          );
      }
    }
    return tones;
  }

  /** Sets the opaque pixels of a tile of level 0 in a plane, its corner laid there. */
  copyBits(tile: Uint8Array, plane: BitPlane, toColumn: number, toRow: number): void {
    for (let row = Math.max(0, -toRow); row < archiveTilePx && row + toRow < plane.heightPx; row++) {
      for (let column = Math.max(0, -toColumn); column < archiveTilePx && column + toColumn < plane.widthPx; column++) {
        const at = row * archiveTilePx + column;
        const isOpaque = this.facts.depth === 8 ? tile[at] >= 128 : ((tile[at >> 3] >> (at & 7)) & 1) === 1;
        if (isOpaque) setBit(plane, column + toColumn, row + toRow);
      }
    }
  }

  private firstCover(tile: Uint8Array): Cover {
    return this.facts.depth === 1
      ? halvedBits(tile, archiveTilePx)
      : halvedCover({ widthPx: archiveTilePx, heightPx: archiveTilePx, values: tile });
  }

  private async spread(bytes: Uint8Array, sizeBytes: number): Promise<Uint8Array> {
    const spread = await inflate(bytes, { maxOutputLength: sizeBytes });
    if (spread.length !== sizeBytes) throw new DamagedArchiveError(`${this.source.name} has a tile of the wrong size.`);
    return spread;
  }
}

/** Packed bits as a byte each, 0 or 255. */
export function spreadBits(bits: Uint8Array): Uint8Array {
  const bytes = new Uint8Array(8 * bits.length);
  for (let at = 0; at < bits.length; at++) {
    const byte = bits[at];
    if (byte === 0) continue;
    for (let bit = 0; bit < 8; bit++) if ((byte >> bit) & 1) bytes[8 * at + bit] = 255;
  }
  return bytes;
}
