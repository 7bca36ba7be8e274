/**
 * A plate kept for looking at: tiles of 512 px, each by itself, so that a view of a plate of any size reads only what it
 * shows. Level 0 is the plate itself, one bit a pixel (or one byte when the plate has tones). Level n is smaller by
 * 2^n and holds how much of each pixel is covered, 0 to 255: never 0 where any of it is opaque and never 255 where any
 * of it is clear, so that thin lines can be told from nothing at every level. Levels 1 and 2 are not kept; they are
 * made of level 0 when asked for.
 */
export const archiveTilePx = 512;
/** The first reduced level that is kept. */
export const firstKeptLevel = 3;

/** What must be known of a plate to read its archive; plain data, kept beside it. */
export interface ArchivedPlate {
  readonly widthPx: number;
  readonly heightPx: number;
  /** Bits a pixel of level 0. */
  readonly depth: 1 | 8;
  /** Number of levels; the last fits one tile. */
  readonly levels: number;
  readonly pitchXMm: number;
  readonly pitchYMm: number;
}

export interface LevelSize {
  readonly widthPx: number;
  readonly heightPx: number;
  readonly columns: number;
  readonly rows: number;
}

type PlateSize = Pick<ArchivedPlate, 'widthPx' | 'heightPx'>;

export function levelSize(plate: PlateSize, level: number): LevelSize {
  const widthPx = Math.ceil(plate.widthPx / 2 ** level);
  const heightPx = Math.ceil(plate.heightPx / 2 ** level);
  return {
    widthPx,
    heightPx,
    columns: Math.ceil(widthPx / archiveTilePx),
    rows: Math.ceil(heightPx / archiveTilePx),
  };
}

/** Levels down to one that fits a tile, at least the first that is kept. */
export function levelCount(widthPx: number, heightPx: number): number {
  const halvings = Math.ceil(Math.log2(Math.max(widthPx, heightPx, 1) / archiveTilePx));
  return Math.max(firstKeptLevel, halvings) + 1;
}

export function isKept(level: number): boolean {
  return level === 0 || level >= firstKeptLevel;
}

/** In place of a length in the index. */
export const clearTile = 0;
export const solidTile = 0xffffffff;

/** Number of the tile in the index: level 0 row by row, then the other kept levels. */
export function tileNumber(plate: PlateSize, level: number, column: number, row: number): number {
  let number = 0;
  for (let before = 0; before < level; before++) {
    if (!isKept(before)) continue;
    const { columns, rows } = levelSize(plate, before);
    number += columns * rows;
  }
  return number + row * levelSize(plate, level).columns + column;
}

/** Number of tiles of all kept levels: the index at the end of the file has two 32-bit numbers for each. */
export function tileCount(plate: PlateSize & Pick<ArchivedPlate, 'levels'>): number {
  return tileNumber(plate, plate.levels, 0, 0);
}
