import { bitCount } from '../raster/bitCount.ts';
import type { BitPlane } from '../raster/bitPlane.ts';
import { createBitPlane } from '../raster/bitPlane.ts';
import type { PixelGrid } from '../raster/pixelGrid.ts';
import type { TonePlane } from '../raster/tonePlane.ts';
import { tileSidePx } from '../raster/tonePlane.ts';
import { fillTileFromBits, TilePool } from './toneTiles.ts';

/** The drawn part of a plate, before it is known whose it is. */
export interface DrawnPlate {
  readonly bits: BitPlane;
  readonly tone: TonePlane | null;
  readonly toneHistogram: Float64Array;
}

/** A tile that holds clear and opaque pixels and nothing between: its pixels stand in the bits already. */
const onlyClearAndOpaque = -2;
const ownPixels = -1;
const opaque = 0xffffffff;
const wordsPerTile = tileSidePx / 32;
/** A tile with more edge tones than an outline can have is a picture. */
const mostEdgesPerTile = 2000;

/** Takes the rows of one plate from the top and packs them as they come, so that no full-size byte image is held. */
export class PlateBuilder {
  readonly #grid: PixelGrid;
  readonly #hardEdges: boolean;
  #bits: BitPlane;
  readonly #histogram = new Float64Array(256);
  readonly #ownBand: Uint8Array;
  #band: Uint8Array;
  #bandWords: Uint32Array;
  readonly #bandStridePx: number;
  readonly #tilesPerRow: number;
  readonly #flatTones: Int16Array;
  readonly #tiles = new Map<number, Uint8Array>();
  readonly #pool = new TilePool();
  #rowsTaken = 0;

  /**
   * @param hardEdges for art that is drawn without antialiasing: a tone between clear and opaque that touches both is
   * the renderer's own soft edge of a clip, and becomes whichever it is nearer to.
   */
  constructor(grid: PixelGrid, hardEdges = false) {
    this.#hardEdges = hardEdges;
    this.#grid = grid;
    this.#bits = createBitPlane(grid.widthPx, grid.heightPx);
    this.#bandStridePx = this.#bits.wordsPerRow * 32;
    this.#ownBand = new Uint8Array(this.#bandStridePx * tileSidePx);
    this.#band = this.#ownBand;
    this.#bandWords = new Uint32Array(this.#band.buffer);
    this.#tilesPerRow = Math.ceil(grid.widthPx / tileSidePx);
    this.#flatTones = new Int16Array(this.#tilesPerRow * Math.ceil(grid.heightPx / tileSidePx));
  }

  /** Adds rows of tones that begin `stridePx` bytes after each other; bytes past the width must be 0. */
  addTones(tones: Uint8Array, rows: number, stridePx: number = this.#grid.widthPx): void {
    const fits = stridePx === this.#bandStridePx && this.#rowsTaken % tileSidePx === 0 && tones.byteOffset % 4 === 0;
    if (fits) this.#addInPlace(tones, rows);
    else this.#addByCopy(tones, rows, stridePx);
  }

  /** Rows that lie as a band does are packed where they are. */
  #addInPlace(tones: Uint8Array, rows: number): void {
    for (let top = 0; top < rows; top += tileSidePx) {
      const rowsHere = Math.min(tileSidePx, rows - top);
      this.#useBand(tones.subarray(top * this.#bandStridePx, (top + rowsHere) * this.#bandStridePx));
      for (let row = 0; row < rowsHere; row++) this.#packRow(row, this.#rowsTaken++);
      if (rowsHere === tileSidePx || this.#rowsTaken === this.#grid.heightPx) this.#closeBand();
      else this.#ownBand.set(this.#band);
    }
    this.#useBand(this.#ownBand);
  }

  #addByCopy(tones: Uint8Array, rows: number, stridePx: number): void {
    const { widthPx } = this.#grid;
    for (let row = 0; row < rows; row++) {
      const inBand = this.#rowsTaken % tileSidePx;
      this.#band.set(tones.subarray(row * stridePx, row * stridePx + widthPx), inBand * this.#bandStridePx);
      this.#packRow(inBand, this.#rowsTaken);
      this.#rowsTaken++;
      if (this.#rowsTaken % tileSidePx === 0 || this.#rowsTaken === this.#grid.heightPx) this.#closeBand();
    }
  }

  #useBand(band: Uint8Array): void {
    this.#band = band;
    this.#bandWords = new Uint32Array(band.buffer, band.byteOffset, band.length >> 2);
  }

  /** Adds rows that are packed already, in the layout of `BitPlane`; a whole plate in shared memory is taken as it is. */
  addBits(words: Uint32Array, rows: number): void {
    const { wordsPerRow } = this.#bits;
    const isPlate = words.buffer instanceof SharedArrayBuffer && words.length === this.#bits.words.length;
    if (isPlate) this.#bits = { ...this.#bits, words };
    else this.#bits.words.set(words.subarray(0, rows * wordsPerRow), this.#rowsTaken * wordsPerRow);
    const count = bitCount(words.subarray(0, rows * wordsPerRow));
    this.#histogram[255] += count;
    this.#histogram[0] += rows * this.#grid.widthPx - count;
    const first = Math.floor(this.#rowsTaken / tileSidePx);
    this.#rowsTaken += rows;
    const last = Math.ceil(this.#rowsTaken / tileSidePx);
    this.#flatTones.fill(onlyClearAndOpaque, first * this.#tilesPerRow, last * this.#tilesPerRow);
  }

  finish(): DrawnPlate {
    if (this.#rowsTaken !== this.#grid.heightPx) {
      throw new Error(`A plate of ${this.#grid.heightPx} rows was given ${this.#rowsTaken}.`);
    }
    return { bits: this.#bits, tone: this.#tonePlane(), toneHistogram: this.#histogram };
  }

  #packRow(inBand: number, row: number): void {
    const { wordsPerRow, words } = this.#bits;
    const source = this.#bandWords;
    const histogram = this.#histogram;
    const band = this.#band;
    let at = (inBand * this.#bandStridePx) >> 2;
    let clear = 0;
    let solid = 0;
    for (let word = 0; word < wordsPerRow; word++, at += 8) {
      const all =
        source[at] &
        source[at + 1] &
        source[at + 2] &
        source[at + 3] &
        source[at + 4] &
        source[at + 5] &
        source[at + 6] &
        source[at + 7];
      if (all >>> 0 === opaque) {
        words[row * wordsPerRow + word] = opaque;
        solid += 32;
        continue;
      }
      const any =
        source[at] |
        source[at + 1] |
        source[at + 2] |
        source[at + 3] |
        source[at + 4] |
        source[at + 5] |
        source[at + 6] |
        source[at + 7];
      if (any === 0) {
        clear += 32;
        continue;
      }
      let packed = 0;
      const from = at << 2;
      for (let bit = 0; bit < 32; bit++) {
        const tone = band[from + bit];
        histogram[tone]++;
        if (tone >= 128) packed |= 1 << bit;
      }
      words[row * wordsPerRow + word] = packed;
    }
    histogram[0] += clear - (this.#bandStridePx - this.#grid.widthPx);
    histogram[255] += solid;
  }

  #closeBand(): void {
    const rowsInBand = ((this.#rowsTaken - 1) % tileSidePx) + 1;
    const tileRow = Math.floor((this.#rowsTaken - 1) / tileSidePx);
    for (let tileColumn = 0; tileColumn < this.#tilesPerRow; tileColumn++) {
      const index = tileRow * this.#tilesPerRow + tileColumn;
      let kind = this.#tileKind(tileColumn, rowsInBand);
      if (kind === ownPixels && this.#hardEdges && this.#hardenEdges(tileColumn, rowsInBand)) kind = onlyClearAndOpaque;
      this.#flatTones[index] = kind;
      if (kind === ownPixels) this.#tiles.set(index, this.#copyTile(tileColumn, rowsInBand));
    }
  }

  #tileKind(tileColumn: number, rowsInBand: number): number {
    const left = tileColumn * tileSidePx;
    const widthPx = Math.min(tileSidePx, this.#grid.widthPx - left);
    const first = this.#band[left];
    let flat = true;
    for (let row = 0; row < rowsInBand; row++) {
      const from = row * this.#bandStridePx + left;
      for (let column = 0; column < widthPx; column++) {
        if (column % 4 === 0 && column + 4 <= widthPx) {
          const word = this.#bandWords[(from + column) >> 2];
          if (word === 0 || word === opaque) {
            if ((word & 0xff) !== first) flat = false;
            column += 3;
            continue;
          }
        }
        const tone = this.#band[from + column];
        if (tone !== first) flat = false;
        if (!flat && tone !== 0 && tone !== 255) return ownPixels;
      }
    }
    if (flat) return first;
    return first === 0 || first === 255 ? onlyClearAndOpaque : ownPixels;
  }

  /** Whether the tile's tones are edges and nothing else; the counts are then put right. The bits are so already. */
  #hardenEdges(tileColumn: number, rowsInBand: number): boolean {
    const left = tileColumn * tileSidePx;
    const right = Math.min(left + tileSidePx, this.#grid.widthPx);
    const edges: number[] = [];
    for (let row = 0; row < rowsInBand; row++) {
      for (let column = left; column < right; column++) {
        const tone = this.#band[row * this.#bandStridePx + column];
        if (tone === 0 || tone === 255) continue;
        if (edges.length === mostEdgesPerTile || !this.#isEdge(column, row, rowsInBand)) return false;
        edges.push(tone);
      }
    }
    for (const tone of edges) {
      this.#histogram[tone]--;
      this.#histogram[tone >= 128 ? 255 : 0]++;
    }
    return true;
  }

  #isEdge(column: number, row: number, rowsInBand: number): boolean {
    let clear = false;
    let solid = false;
    for (let r = Math.max(0, row - 1); r <= Math.min(rowsInBand - 1, row + 1); r++) {
      for (let c = Math.max(0, column - 1); c <= Math.min(this.#grid.widthPx - 1, column + 1); c++) {
        const tone = this.#band[r * this.#bandStridePx + c];
        if (tone === 0) clear = true;
        else if (tone === 255) solid = true;
      }
    }
    return clear && solid;
  }

  #copyTile(tileColumn: number, rowsInBand: number): Uint8Array {
    const tile = this.#pool.take();
    for (let row = 0; row < rowsInBand; row++) {
      const from = row * this.#bandStridePx + tileColumn * tileSidePx;
      tile.set(
        this.#band.subarray(from, Math.min(from + tileSidePx, (row + 1) * this.#bandStridePx)),
        row * tileSidePx,
      );
    }
    return tile;
  }

  #tonePlane(): TonePlane | null {
    const { widthPx, heightPx } = this.#grid;
    if (this.#tiles.size === 0 && !this.#flatTones.some((tone) => tone > 0 && tone < 255)) return null;
    const tileRows = Math.ceil(heightPx / tileSidePx);
    for (let index = 0; index < this.#flatTones.length; index++) {
      if (this.#flatTones[index] !== onlyClearAndOpaque) continue;
      const flat = this.#flatToneOfBits(index);
      this.#flatTones[index] = flat ?? ownPixels;
      if (flat !== null) continue;
      this.#tiles.set(index, fillTileFromBits(this.#pool.take(), this.#bits, index, this.#tilesPerRow));
    }
    return {
      widthPx,
      heightPx,
      tilesPerRow: this.#tilesPerRow,
      tileRows,
      flatTones: this.#flatTones,
      tiles: this.#tiles,
    };
  }
  /** 0 or 255 when a tile is clear or opaque throughout, else null. */
  #flatToneOfBits(index: number): 0 | 255 | null {
    const { widthPx, heightPx } = this.#grid;
    const { wordsPerRow, words } = this.#bits;
    const tileColumn = index % this.#tilesPerRow;
    const top = ((index - tileColumn) / this.#tilesPerRow) * tileSidePx;
    let any = 0;
    let all = -1;
    for (let row = top; row < Math.min(heightPx, top + tileSidePx); row++) {
      const lastWord = Math.min(wordsPerRow, (tileColumn + 1) * wordsPerTile);
      for (let word = tileColumn * wordsPerTile; word < lastWord; word++) {
        const value = words[row * wordsPerRow + word];
        const columns = Math.min(32, Math.max(0, widthPx - 32 * word));
        any |= value;
        all &= columns === 32 ? value : value | (-1 << columns);
      }
      if (any !== 0 && all !== -1) return null;
    }
    return any === 0 ? 0 : 255;
  }
}
