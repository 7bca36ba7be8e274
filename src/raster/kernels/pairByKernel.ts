import { cellsWithinReach } from '../cellGrid.ts';
import { mapEdgeTiles, tileRowsOf, tilesOfBoxes, tilesWithinReach } from '../edgeTiles.ts';
import type { FacedOutline } from '../facedOutline.ts';
import { type EdgedPlane, isSameGrid } from '../griddedPlane.ts';
import type { OutlineSearch, PlanePair, SpanCounts } from '../planePair.ts';
import { resampledPlane } from '../resampledPlane.ts';
import { Layout } from './kernelModule.ts';
import { type OutlineKernels, setCover } from './outlineModule.ts';
import { headerNumbers, OutlineTeller } from './outlineTeller.ts';

/** Two planes in the kernels' memory. */
export class PairByKernel implements PlanePair {
  readonly own: EdgedPlane;
  readonly other: EdgedPlane;
  private readonly kernels: OutlineKernels;
  private readonly layout: Layout;
  private readonly ownAt: number;
  private readonly otherAt: number;
  private readonly ownCells: number;
  private readonly otherCells: number;

  constructor(kernels: OutlineKernels, own: EdgedPlane, other: EdgedPlane) {
    this.kernels = kernels;
    this.layout = new Layout(kernels);
    this.own = own;
    this.other = other;
    this.ownAt = this.put(own.bits.words);
    this.otherAt = this.put(other.bits.words);
    this.ownCells = this.put(own.cells.words);
    this.otherCells = this.put(other.cells.words);
  }

  sharedAreaMm2(): number {
    const { grid, bits } = this.own;
    const otherAt = this.otherOnOwnGrid();
    return this.kernels.sharedPixels(this.ownAt, otherAt, bits.words.length) * grid.pitchXMm * grid.pitchYMm;
  }

  countSpans(tiles: Uint8Array, spans: (span: (row: number, from: number, end: number) => void) => void): SpanCounts {
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

  edgeTiles(): Uint8Array {
    return this.tilesAt(this.flagTiles(this.own, this.ownCells));
  }

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
      tilesWithinReach(reachMm, grid.pitchXMm),
      tilesWithinReach(reachMm, grid.pitchYMm),
      this.layout.take(tileRows * bits.wordsPerRow),
    );
    return this.tilesAt(near);
  }

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
    const boxTiles = this.put(tilesOfBoxes(ignoreBoxes, own.grid, own.bits.wordsPerRow));
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
    const wide = this.layout.take(4 * cells.words.length);
    const scratch = this.layout.take(4 * cells.words.length);
    const reach = cellsWithinReach(reachMm, this.own.grid, grid);
    this.kernels.widenCells(this.otherCells, cells.wordsPerRow, cells.heightPx, reach, wide, scratch);
    return wide;
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
