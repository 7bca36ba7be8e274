/** What the page is told of the plates of one revision, and how a group of their tiles is written. */
export interface PlateList {
  /** Changes when the revision is checked again: put it behind the address of a tile, as in "…/tiles/0/3/5?VERSION". */
  readonly version: string;
  readonly tileSidePx: number;
  readonly plates: readonly PlateOfList[];
}

export interface PlateOfList {
  readonly plateId: string;
  readonly inkName: string;
  readonly displayHex: string;
  readonly widthPx: number;
  readonly heightPx: number;
  readonly pitchXMm: number;
  readonly pitchYMm: number;
  /** Bits a pixel at level 0: packed bits, or one byte of tone. Reduced levels have one byte of cover a pixel. */
  readonly depth: 1 | 8;
  /** Level n is smaller by 2^n; the last fits one tile. */
  readonly levels: number;
}

/**
 * A group holds the tile of every plate at one place, in the order of the list: four bytes of length, lowest first, and
 * that many bytes of raw deflate (RFC 1951). Instead of a length: a tile that is clear or solid all over, or beyond its plate.
 */
export const clearTileLength = 0;
export const solidTileLength = 0xffffffff;

/** Bytes of a tile of a plate before packing. */
export function tileBytes(plate: Pick<PlateOfList, 'depth'>, level: number, tileSidePx: number): number {
  return level === 0 && plate.depth === 1 ? (tileSidePx * tileSidePx) / 8 : tileSidePx * tileSidePx;
}
