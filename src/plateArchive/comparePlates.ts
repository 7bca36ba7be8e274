import { type BitPlane, createBitPlane, setBit } from '../raster/bitPlane.ts';
import { archiveTilePx, firstKeptLevel } from './archiveFormat.ts';
import { type CommonGrid, type ComparedPlates, isOnGrid, tileDifference } from './compareTiles.ts';
import type { PlateArchive } from './openArchive.ts';

/** Changes nearer to each other than about this many pixels are one place. */
const cellPx = 16;

/** Where an ink changed, in mm of the film; `mm2` are areas of film. */
export interface ChangedPlace {
  readonly xMm: number;
  readonly yMm: number;
  readonly widthMm: number;
  readonly heightMm: number;
  readonly goneMm2: number;
  readonly addedMm2: number;
}

/** All that changed of one ink. */
export interface PlateChange {
  /** Largest first. */
  readonly places: readonly ChangedPlace[];
  readonly goneMm2: number;
  readonly addedMm2: number;
  /** What either plate prints. */
  readonly eitherMm2: number;
  /** What is narrower was left out, as the plates were drawn at two resolutions; 0: every pixel was compared. */
  readonly leastChangeMm: number;
  /** Where anything at all is gone or added, reduced to the first kept level of the archive. */
  readonly gone: BitPlane;
  readonly added: BitPlane;
}

/** Compares two plates over the whole of their common grid. */
export async function comparePlates(plates: ComparedPlates, grid: CommonGrid): Promise<PlateChange> {
  const columns = Math.ceil(grid.widthPx / archiveTilePx);
  const rows = Math.ceil(grid.heightPx / archiveTilePx);
  const cells = new ChangedCells(grid);
  const factor = 2 ** firstKeptLevel;
  const reduced = () => createBitPlane(Math.ceil(grid.widthPx / factor), Math.ceil(grid.heightPx / factor));
  const [gone, added] = [reduced(), reduced()];
  for (let row = 0; row < rows; row++) {
    for (let column = 0; column < columns; column++) {
      const difference = await tileDifference(plates, grid, column, row);
      if (difference === null) continue;
      const see = (bits: Uint8Array, isGone: boolean, plane: BitPlane) =>
        eachSet(bits, (x, y) => {
          const [xPx, yPx] = [column * archiveTilePx + x, row * archiveTilePx + y];
          if (xPx >= grid.widthPx || yPx >= grid.heightPx) return;
          cells.add(xPx, yPx, isGone);
          setBit(plane, xPx >> firstKeptLevel, yPx >> firstKeptLevel);
        });
      see(difference.gone, true, gone);
      see(difference.added, false, added);
    }
  }
  const places = cells.places(grid);
  const sum = (of: (place: ChangedPlace) => number) => places.reduce((total, place) => total + of(place), 0);
  const [goneMm2, addedMm2] = [sum((place) => place.goneMm2), sum((place) => place.addedMm2)];
  const isExact = isOnGrid(plates.before, grid) && isOnGrid(plates.after, grid);
  const coarsestMm = Math.max(grid.pitchXMm, plates.before?.facts.pitchXMm ?? 0, plates.after?.facts.pitchXMm ?? 0);
  return {
    places,
    goneMm2,
    addedMm2,
    eitherMm2: plates.after === null ? goneMm2 : (await printedMm2(plates.after)) + goneMm2,
    leastChangeMm: isExact ? 0 : 3 * coarsestMm,
    gone,
    added,
  };
}

/** What a plate prints, of the smallest level that is kept, each tone by its share. */
async function printedMm2(plate: PlateArchive): Promise<number> {
  const { levels, pitchXMm, pitchYMm } = plate.facts;
  const cover = await plate.coverTile(levels - 1, 0, 0);
  const sum = cover.reduce((total, value) => total + value, 0);
  return (sum / 255) * 4 ** (levels - 1) * pitchXMm * pitchYMm;
}

function eachSet(bits: Uint8Array, see: (column: number, row: number) => void): void {
  for (let byte = 0; byte < bits.length; byte++) {
    if (bits[byte] === 0) continue;
    for (let bit = 0; bit < 8; bit++)
      if ((bits[byte] >> bit) & 1) see((8 * byte + bit) % archiveTilePx, Math.floor((8 * byte) / archiveTilePx));
  }
}

/** Changed pixels of a grid counted in cells, with how far they reach within each. */
export class ChangedCells {
  private readonly columns: number;
  private readonly rows: number;
  private readonly gone: Uint16Array;
  private readonly added: Uint16Array;
  /** First and last changed column and row within each cell. */
  private readonly reach: Uint8Array;

  constructor({ widthPx, heightPx }: Pick<CommonGrid, 'widthPx' | 'heightPx'>) {
    const columns = Math.ceil(widthPx / cellPx);
    const rows = Math.ceil(heightPx / cellPx);
    this.columns = columns;
    this.rows = rows;
    this.gone = new Uint16Array(columns * rows);
    this.added = new Uint16Array(columns * rows);
    this.reach = new Uint8Array(4 * columns * rows);
  }

  add(xPx: number, yPx: number, isGone: boolean): void {
    const cell = Math.floor(yPx / cellPx) * this.columns + Math.floor(xPx / cellPx);
    const [x, y] = [xPx % cellPx, yPx % cellPx];
    const { reach } = this;
    const at = 4 * cell;
    const isFirst = this.gone[cell] + this.added[cell] === 0;
    (isGone ? this.gone : this.added)[cell]++;
    reach[at] = isFirst ? x : Math.min(reach[at], x);
    reach[at + 1] = isFirst ? y : Math.min(reach[at + 1], y);
    reach[at + 2] = isFirst ? x : Math.max(reach[at + 2], x);
    reach[at + 3] = isFirst ? y : Math.max(reach[at + 3], y);
  }

  /** Cells that touch, corners too, are one place. */
  places({ pitchXMm, pitchYMm }: CommonGrid): ChangedPlace[] {
    const places: ChangedPlace[] = [];
    const seen = new Uint8Array(this.gone.length);
    const pixelMm2 = pitchXMm * pitchYMm;
    for (let start = 0; start < seen.length; start++) {
      if (seen[start] === 1 || !this.isChanged(start)) continue;
      let [left, top, right, bottom, gone, added] = [Number.POSITIVE_INFINITY, Number.POSITIVE_INFINITY, 0, 0, 0, 0];
      seen[start] = 1;
      const open = [start];
      for (let cell = open.pop(); cell !== undefined; cell = open.pop()) {
        const [column, row] = [cell % this.columns, Math.floor(cell / this.columns)];
        const [x, y] = [column * cellPx, row * cellPx];
        left = Math.min(left, x + this.reach[4 * cell]);
        top = Math.min(top, y + this.reach[4 * cell + 1]);
        right = Math.max(right, x + this.reach[4 * cell + 2] + 1);
        bottom = Math.max(bottom, y + this.reach[4 * cell + 3] + 1);
        gone += this.gone[cell];
        added += this.added[cell];
        for (let r = Math.max(0, row - 1); r <= Math.min(this.rows - 1, row + 1); r++) {
          for (let c = Math.max(0, column - 1); c <= Math.min(this.columns - 1, column + 1); c++) {
            const next = r * this.columns + c;
            if (seen[next] === 1 || !this.isChanged(next)) continue;
            seen[next] = 1;
            open.push(next);
          }
        }
      }
      places.push({
        xMm: left * pitchXMm,
        yMm: top * pitchYMm,
        widthMm: (right - left) * pitchXMm,
        heightMm: (bottom - top) * pitchYMm,
        goneMm2: gone * pixelMm2,
        addedMm2: added * pixelMm2,
      });
    }
    const sizeOf = ({ goneMm2, addedMm2 }: ChangedPlace) => goneMm2 + addedMm2;
    return places.sort((a, b) => sizeOf(b) - sizeOf(a) || a.yMm - b.yMm || a.xMm - b.xMm);
  }

  private isChanged(cell: number): boolean {
    return this.gone[cell] > 0 || this.added[cell] > 0;
  }
}
