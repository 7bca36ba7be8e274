import type { BoxMm } from '../geometry/box.ts';
import { cellPx, widenedCells } from './edgeCells.ts';
import { type EdgedPlane, isSameGrid } from './griddedPlane.ts';
import { Layout } from './kernels/kernelModule.ts';
import { type Cover, type OutlineKernels, outlineKernels, setCover } from './kernels/outlineModule.ts';
import { coarsePitchMm, type PixelGrid } from './pixelGrid.ts';
import { resampledPlane } from './resampledPlane.ts';

/** A short piece of common boundary with one reading for all of it. */
export interface Stretch {
  /** Across the edge: positive where the other ink reaches in, negative over a gap. */
  readonly overlapMm: number;
  readonly lengthMm: number;
  /** Middle of the stretch, half way between the two edges. */
  readonly xMm: number;
  readonly yMm: number;
  readonly leftMm: number;
  readonly topMm: number;
  readonly rightMm: number;
  readonly bottomMm: number;
  /** Stretches of one unbroken piece of boundary follow one another and share this number. */
  readonly run: number;
}

/** Readings of strips along an outline, one at every second pixel side. The arrays are used again. */
export interface StripReadings {
  readonly length: number;
  readonly closed: boolean;
  readonly xMm: Float64Array;
  readonly yMm: Float64Array;
  /** Outward normal. */
  readonly normalX: Float64Array;
  readonly normalY: Float64Array;
  readonly stepMm: Float64Array;
  /** Width of the outline's ink where all of it lies on the other, else NaN. */
  readonly stripMm: Float64Array;
}

/** An outline between ink and clear film that the other plane faces. */
export interface FacedOutline {
  /** Its end meets its start. */
  readonly closed: boolean;
  readonly stretches: readonly Stretch[];
  /** How much of it the stretches hold, from 0 to 1. */
  readonly facedShare: number;
  /** Area within a closed outline: positive where the ink lies inside it, negative for an opening in the ink. */
  readonly enclosedMm2: number;
  /** Null when there are none or none were sought. */
  readonly strips: StripReadings | null;
}

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

const tilePx = 32;
/** How far beyond the reach, in pixels of either plane, an edge may lie and yet count for a look. */
const roundingPx = 4;
const headerNumbers = 13;
const stretchNumbers = 9;

/** Two planes in the kernels' memory: only the one made last may be asked. */
export class PlanePair {
  private readonly kernels: OutlineKernels = outlineKernels();
  private readonly layout = new Layout(this.kernels);
  readonly own: EdgedPlane;
  readonly other: EdgedPlane;
  private readonly ownAt: number;
  private readonly otherAt: number;

  constructor(own: EdgedPlane, other: EdgedPlane) {
    this.own = own;
    this.other = other;
    this.ownAt = this.put(own.bits.words);
    this.otherAt = this.put(other.bits.words);
  }

  /** Area where both planes have ink, mm², counted on the first plane's pixels. */
  sharedAreaMm2(): number {
    const { grid, bits } = this.own;
    const otherAt = isSameGrid(grid, this.other.grid)
      ? this.otherAt
      : this.put(resampledPlane(this.other.bits, this.other.grid, grid).words);
    return this.kernels.sharedPixels(this.ownAt, otherAt, bits.words.length) * grid.pitchXMm * grid.pitchYMm;
  }

  /**
   * Visits the outlines of the first plane that the other faces, each once; mere specks are left out. Readings are taken
   * along the outward normal at every second pixel side and gathered in stretches of about 0.75 mm by the mean of their
   * middle half.
   */
  visitOutlines(search: OutlineSearch, visit: (outline: FacedOutline) => void): void {
    const { kernels } = this;
    setCover(search.cover ?? (() => false));
    const header = this.begin(search) >> 3;
    const strips = new CopiedStrips();
    let numbers = new Float64Array(kernels.memory.buffer);
    while (kernels.nextOutline() !== 0) {
      if (numbers.length === 0) numbers = new Float64Array(kernels.memory.buffer);
      const samples = numbers[header];
      visit({
        closed: numbers[header + 2] === 1,
        stretches: stretchesAt(numbers, numbers[header + 6] >> 3, numbers[header + 4]),
        facedShare: numbers[header + 5] / samples,
        enclosedMm2: numbers[header + 3],
        strips: numbers[header + 1] === 0 ? null : strips.copied(numbers, header),
      });
    }
  }

  private begin(search: OutlineSearch): number {
    const { kernels, layout, own, other } = this;
    const { tiles, ignoreBoxes, reachMm } = search;
    const ownCells = this.put(own.cells.words);
    const otherCells = this.put(other.cells.words);
    const near = widenedCells(other.cells, this.reachInCells(reachMm));
    const nearAt = this.put(near.words);
    const slots = new Int32Array(tiles.length).fill(-1);
    let walkedWords = 0;
    for (let tile = 0; tile < tiles.length; tile++) {
      if (tiles[tile] === 0) continue;
      slots[tile] = walkedWords;
      walkedWords += 4 * tilePx;
    }
    const tilesAt = this.put(tiles);
    const slotsAt = this.put(slots);
    const boxTilesAt = this.put(tilesOfBoxes(own.grid, ignoreBoxes, own.bits.wordsPerRow));
    const boxes = ignoreBoxes.flatMap((box) => [box.xMm, box.yMm, box.xMm + box.widthMm, box.yMm + box.heightMm]);
    const boxesAt = this.put(Float64Array.from(boxes));
    const header = layout.take(8 * headerNumbers);
    const walked = layout.take(4 * walkedWords);
    const scratch = layout.take(0);
    new Uint8Array(kernels.memory.buffer, walked, 4 * walkedWords).fill(0);
    this.setPlane(0, this.ownAt, own, false, ownCells);
    this.setPlane(1, this.otherAt, other, search.invertOther, otherCells);
    kernels.beginOutlines(
      tilesAt,
      tiles.length,
      slotsAt,
      walked,
      header,
      scratch,
      boxTilesAt,
      boxesAt,
      ignoreBoxes.length,
      reachMm,
      search.seekStrips ? 1 : 0,
      search.cover === null ? 0 : 1,
      nearAt,
      near.wordsPerRow,
    );
    return header;
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

  /** So many cells of the other plane away an edge of it can still be within reach. */
  private reachInCells(reachMm: number): number {
    const { grid } = this.other;
    const finestMm = Math.min(grid.pitchXMm, grid.pitchYMm);
    const furthestPx = (reachMm + roundingPx * coarsePitchMm(this.own.grid)) / finestMm + roundingPx;
    return Math.ceil(furthestPx / cellPx);
  }

  /** Copies values into the kernels' memory and answers where they lie. */
  private put(values: Uint8Array | Int32Array | Uint32Array | Float64Array): number {
    const at = this.layout.take(values.byteLength);
    const { buffer } = this.kernels.memory;
    new Uint8Array(buffer).set(new Uint8Array(values.buffer, values.byteOffset, values.byteLength), at);
    return at;
  }
}

/** 1: a tile that one of the boxes touches. */
function tilesOfBoxes(grid: PixelGrid, boxes: readonly BoxMm[], tilesPerRow: number): Uint8Array {
  const tileRows = Math.ceil(grid.heightPx / tilePx);
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

function stretchesAt(numbers: Float64Array, at: number, count: number): Stretch[] {
  const stretches: Stretch[] = [];
  for (let k = 0; k < count; k++) {
    const first = at + stretchNumbers * k;
    stretches.push({
      overlapMm: numbers[first],
      lengthMm: numbers[first + 1],
      xMm: numbers[first + 2],
      yMm: numbers[first + 3],
      leftMm: numbers[first + 4],
      topMm: numbers[first + 5],
      rightMm: numbers[first + 6],
      bottomMm: numbers[first + 7],
      run: numbers[first + 8],
    });
  }
  return stretches;
}

class CopiedStrips implements StripReadings {
  length = 0;
  closed = false;
  xMm = new Float64Array(0);
  yMm = new Float64Array(0);
  normalX = new Float64Array(0);
  normalY = new Float64Array(0);
  stepMm = new Float64Array(0);
  stripMm = new Float64Array(0);

  /** Takes over what the kernel found. */
  copied(numbers: Float64Array, header: number): StripReadings {
    this.length = numbers[header];
    this.closed = numbers[header + 2] === 1;
    this.reserve(this.length);
    const [x, y, normalX, normalY, step, strip] = numbers.subarray(header + 7, header + 13).map((at) => at / 8);
    for (let s = 0; s < this.length; s++) {
      this.xMm[s] = numbers[x + 2 * s];
      this.yMm[s] = numbers[y + 2 * s];
      this.normalX[s] = numbers[normalX + s];
      this.normalY[s] = numbers[normalY + s];
      this.stepMm[s] = numbers[step + s];
      this.stripMm[s] = numbers[strip + s];
    }
    return this;
  }

  private reserve(length: number): void {
    if (this.xMm.length >= length) return;
    const room = 2 * length;
    this.xMm = new Float64Array(room);
    this.yMm = new Float64Array(room);
    this.normalX = new Float64Array(room);
    this.normalY = new Float64Array(room);
    this.stepMm = new Float64Array(room);
    this.stripMm = new Float64Array(room);
  }
}
