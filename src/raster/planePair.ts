import type { BoxMm } from '../geometry/box.ts';
import { cellPx } from './edgeCells.ts';
import { mapEdgeTiles, tilePx, tileRowsOf } from './edgeTiles.ts';
import { type FacedOutline, headerNumbers, OutlineTeller } from './facedOutline.ts';
import { type EdgedPlane, isSameGrid } from './griddedPlane.ts';
import { Layout } from './kernels/kernelModule.ts';
import { type Cover, type OutlineKernels, outlineKernels, setCover } from './kernels/outlineModule.ts';
import { coarsePitchMm } from './pixelGrid.ts';
import { resampledPlane } from './resampledPlane.ts';

export interface OutlineSearch {
  readonly reachMm: number;
  /** The clear film of the other plane takes the part of its ink. */
  readonly invertOther: boolean;
  /** Look also for strips of the first plane that lie wholly on the other. */
  readonly seekStrips: boolean;
  /** 1: a 32 × 32 px tile of the first plane whose outlines are followed; those that leave such tiles are cut. */
  readonly tiles: Uint8Array;
  /** Where no readings are taken. */
  readonly ignoreBoxes: readonly BoxMm[];
  /** Tells of gaps over which other plates print, so that they are none; null: there are no such plates. */
  readonly cover: Cover | null;
}

/** How far beyond the reach, in pixels of either plane, an edge may lie and yet count for a look. */
const roundingPx = 4;

/** Two planes in the kernels' memory: only the pair made last may be asked. */
export class PlanePair {
  readonly own: EdgedPlane;
  readonly other: EdgedPlane;
  private readonly kernels: OutlineKernels = outlineKernels();
  private readonly layout = new Layout(this.kernels);
  private readonly ownAt: number;
  private readonly otherAt: number;
  private readonly ownCells: number;
  private readonly otherCells: number;

  constructor(own: EdgedPlane, other: EdgedPlane) {
    this.own = own;
    this.other = other;
    this.ownAt = this.put(own.bits.words);
    this.otherAt = this.put(other.bits.words);
    this.ownCells = this.put(own.cells.words);
    this.otherCells = this.put(other.cells.words);
  }

  /** Area where both planes have ink, mm², counted on the first plane's pixels. */
  sharedAreaMm2(): number {
    const { grid, bits } = this.own;
    const otherAt = this.otherOnOwnGrid();
    return this.kernels.sharedPixels(this.ownAt, otherAt, bits.words.length) * grid.pitchXMm * grid.pitchYMm;
  }

  /**
   * Counts in parts of rows of the first plane, each told to `span` once: pixels where both planes have ink, and the
   * sides of pixels the first plane's outlines run along in the tiles given (32 × 32 px), level and upright ones.
   */
  countSpans(
    tiles: Uint8Array,
    spans: (span: (row: number, from: number, end: number) => void) => void,
  ): { readonly shared: number; readonly levelSides: number; readonly uprightSides: number } {
    const { kernels } = this;
    const otherAt = this.otherOnOwnGrid();
    kernels.beginSpans(this.ownAt, otherAt, this.own.bits.wordsPerRow, this.put(tiles));
    spans(kernels.countSpan);
    return {
      shared: kernels.sharedInSpans(),
      levelSides: kernels.levelSides(),
      uprightSides: kernels.uprightSides(),
    };
  }

  private otherOnOwnGrid(): number {
    if (isSameGrid(this.own.grid, this.other.grid)) return this.otherAt;
    return this.put(resampledPlane(this.other.bits, this.other.grid, this.own.grid).words);
  }

  /** 1: a tile of the first plane, 32 × 32 px, that holds an edge. */
  edgeTiles(): Uint8Array {
    return this.tilesAt(this.flagTiles(this.own, this.ownCells));
  }

  /** The same for tiles with an edge of the other plane no more than the reach away. */
  nearTiles(reachMm: number): Uint8Array {
    const { grid, bits } = this.own;
    const near = this.flagTiles(this.own, this.ownCells);
    let otherTiles = this.flagTiles(this.other, this.otherCells);
    if (!isSameGrid(grid, this.other.grid)) {
      const { wordsPerRow } = this.other.bits;
      const flags = this.tilesAt(otherTiles, this.other);
      otherTiles = this.put(mapEdgeTiles({ tilesPerRow: wordsPerRow, flags }, this.other.grid, grid, bits.wordsPerRow));
    }
    const tileRows = tileRowsOf(grid);
    this.kernels.keepNear(
      near,
      otherTiles,
      bits.wordsPerRow,
      tileRows,
      Math.ceil((reachMm / grid.pitchXMm + 1) / tilePx),
      Math.ceil((reachMm / grid.pitchYMm + 1) / tilePx),
      this.layout.take(tileRows * bits.wordsPerRow),
    );
    return this.tilesAt(near);
  }

  /**
   * Visits the outlines of the first plane that the other faces, each once; mere specks are left out. Readings are taken
   * along the outward normal at every second pixel side and gathered in stretches of about 0.75 mm by the mean of their
   * middle half.
   */
  visitOutlines(search: OutlineSearch, visit: (outline: FacedOutline) => void): void {
    const { kernels } = this;
    setCover(search.cover ?? (() => false));
    const header = this.begin(search);
    const teller = new OutlineTeller();
    let numbers = new Float64Array(kernels.memory.buffer);
    while (kernels.nextOutline() !== 0) {
      if (numbers.length === 0) numbers = new Float64Array(kernels.memory.buffer);
      visit(teller.tell(numbers, header / 8));
    }
  }

  private begin({ tiles, ignoreBoxes, reachMm, invertOther, seekStrips, cover }: OutlineSearch): number {
    const { kernels, layout, own, other } = this;
    const near = this.cellsWithin(reachMm);
    const tilesAt = this.put(tiles);
    const slots = layout.take(4 * tiles.length);
    const boxes = this.put(
      Float64Array.from(
        ignoreBoxes.flatMap((box) => [box.xMm, box.yMm, box.xMm + box.widthMm, box.yMm + box.heightMm]),
      ),
    );
    const boxTiles = this.put(this.tilesOfBoxes(ignoreBoxes));
    const header = layout.take(8 * headerNumbers);
    const walkedBytes = 4 * kernels.layOutTiles(tilesAt, tiles.length, slots);
    const walked = layout.take(walkedBytes);
    const scratch = layout.take(0);
    new Uint8Array(kernels.memory.buffer, walked, walkedBytes).fill(0);
    this.setPlane(0, this.ownAt, own, false, this.ownCells);
    this.setPlane(1, this.otherAt, other, invertOther, this.otherCells);
    kernels.beginOutlines(
      tilesAt,
      tiles.length,
      slots,
      walked,
      header,
      scratch,
      boxTiles,
      boxes,
      ignoreBoxes.length,
      reachMm,
      seekStrips ? 1 : 0,
      cover === null ? 0 : 1,
      near,
      other.cells.wordsPerRow,
    );
    return header;
  }

  /** The cells of the other plane from which an edge of it can be within reach. */
  private cellsWithin(reachMm: number): number {
    const { cells, grid } = this.other;
    const finestMm = Math.min(grid.pitchXMm, grid.pitchYMm);
    const furthestPx = (reachMm + roundingPx * coarsePitchMm(this.own.grid)) / finestMm + roundingPx;
    const wide = this.layout.take(4 * cells.words.length);
    const scratch = this.layout.take(4 * cells.words.length);
    const reach = Math.ceil(furthestPx / cellPx);
    this.kernels.widenCells(this.otherCells, cells.wordsPerRow, cells.heightPx, reach, wide, scratch);
    return wide;
  }

  /** 1: a tile that one of the boxes touches. */
  private tilesOfBoxes(boxes: readonly BoxMm[]): Uint8Array {
    const { grid, bits } = this.own;
    const tilesPerRow = bits.wordsPerRow;
    const tileRows = tileRowsOf(grid);
    const flags = new Uint8Array(tilesPerRow * tileRows);
    for (const { xMm, yMm, widthMm, heightMm } of boxes) {
      const left = Math.max(0, Math.floor(xMm / grid.pitchXMm / tilePx));
      const right = Math.min(tilesPerRow, Math.floor((xMm + widthMm) / grid.pitchXMm / tilePx) + 1);
      const bottom = Math.min(tileRows, Math.floor((yMm + heightMm) / grid.pitchYMm / tilePx) + 1);
      for (let row = Math.max(0, Math.floor(yMm / grid.pitchYMm / tilePx)); row < bottom; row++) {
        if (left < right) flags.fill(1, row * tilesPerRow + left, row * tilesPerRow + right);
      }
    }
    return flags;
  }

  private flagTiles({ bits, grid, cells }: EdgedPlane, cellsAt: number): number {
    const flags = this.layout.take(bits.wordsPerRow * tileRowsOf(grid));
    this.kernels.flagTiles(cellsAt, cells.wordsPerRow, cells.heightPx, bits.wordsPerRow, flags);
    return flags;
  }

  private tilesAt(at: number, { bits, grid }: EdgedPlane = this.own): Uint8Array {
    return new Uint8Array(this.kernels.memory.buffer, at, bits.wordsPerRow * tileRowsOf(grid)).slice();
  }

  private setPlane(which: 0 | 1, at: number, { bits, grid, cells }: EdgedPlane, inverted: boolean, cellsAt: number) {
    this.kernels.setPlane(
      which,
      at,
      bits.wordsPerRow,
      bits.widthPx,
      bits.heightPx,
      grid.pitchXMm,
      grid.pitchYMm,
      inverted ? 1 : 0,
      cellsAt,
      cells.wordsPerRow,
    );
  }

  /** Copies values into the kernels' memory and answers where they lie. */
  private put(values: Uint8Array | Uint32Array | Float64Array): number {
    const at = this.layout.take(values.byteLength);
    const { buffer } = this.kernels.memory;
    new Uint8Array(buffer).set(new Uint8Array(values.buffer, values.byteOffset, values.byteLength), at);
    return at;
  }
}
