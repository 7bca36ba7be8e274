import { readFileSync } from 'node:fs';

/** What `assembly/` exports. Pointers are byte addresses in `memory`, flags 0 or 1; see there for the meanings. */
export interface Kernels {
  readonly memory: WebAssembly.Memory;
  firstFreeByte(): number;
  erosionScratchBytes(widthPx: number, reach: number, rows: number, runs: number): number;
  beginErosion(
    wordsPerRow: number,
    widthPx: number,
    heightPx: number,
    flipIn: number,
    outside: number,
    flipOut: number,
    topRow: number,
    rows: number,
    steps: number,
    stepCount: number,
    runOfRow: number,
    runCount: number,
    reach: number,
    scratch: number,
  ): void;
  erodeRows(from: number, to: number, source: number, target: number): number;
  thinningStride(widthPx: number): number;
  thinningScratchBytes(widthPx: number, heightPx: number): number;
  beginThinning(
    widthPx: number,
    heightPx: number,
    flip: number,
    beyond: number,
    shape: number,
    peelable: number,
    scratch: number,
  ): void;
  loadThinningRows(from: number, to: number, plane: number, kept: number, wordsPerRow: number): void;
  widenPinholes(): void;
  peelRows(from: number, to: number, turn: number): number;
  emitLines(from: number, to: number, target: number, room: number): number;
  emittedWords(): number;
  componentsScratchBytes(widthPx: number): number;
  beginComponents(
    wordsPerRow: number,
    widthPx: number,
    heightPx: number,
    flip: number,
    cornersJoin: number,
    mostColumns: number,
    mostRows: number,
    mostAreaPx: number,
    moments: number,
    scratch: number,
    found: number,
    foundRoom: number,
  ): void;
  joinRuns(from: number, to: number, source: number): number;
  foundParts(): number;
  faxScratchBytes(widthPx: number): number;
  beginFax(
    data: number,
    length: number,
    widthPx: number,
    coding: number,
    twoDimensional: number,
    tables: number,
    scratch: number,
  ): void;
  faxIsAtEnd(): number;
  faxRows(rows: number, target: number, rowBytes: number): number;
  countEdges(row: number, above: number, words: number, wordsPerTile: number, across: number, down: number): void;
  halveRows(upper: number, lower: number, words: number, target: number): void;
  countBits(at: number, bytes: number): number;
  countCells(row: number, rows: number, rowBytes: number, widthPx: number, columns: number, counts: number): void;
  tileShares(
    rows: number,
    isFirst: number,
    rowCount: number,
    rowBytes: number,
    words: number,
    wordsPerTile: number,
    tones: number,
    across: number,
    down: number,
  ): void;
  joinTiles(values: number, perRow: number, rows: number, factor: number, joinedPerRow: number, target: number): void;
  rankBlocks(
    across: number,
    down: number,
    tones: number,
    perRow: number,
    rows: number,
    least: number,
    within: number,
    middle: number,
    ranks: number,
    counts: number,
  ): void;
  blockKeys(
    ranks: number,
    perRow: number,
    rows: number,
    rank: number,
    sidePx: number,
    taken: number,
    factor: number,
    takenPerRow: number,
    takenRows: number,
    onlyLeast: number,
    keys: number,
  ): number;
  tilesOnCells(
    turns: number,
    left: number,
    top: number,
    columns: number,
    rows: number,
    flags: number,
    perRow: number,
    tileRows: number,
    places: number,
    placeCount: number,
    found: number,
  ): void;
  boxSums(
    values: number,
    columns: number,
    rows: number,
    reach: number,
    kept: number,
    lines: number,
    sums: number,
  ): void;
  cellRow(
    rows: number,
    rowCount: number,
    rowBytes: number,
    widthPx: number,
    columns: number,
    scratch: number,
    opaque: number,
    clear: number,
  ): number;
  squareTones(rows: number, rowBytes: number, words: number, side: number, target: number): void;
  addTurned(
    samples: number,
    strideBytes: number,
    wide: number,
    high: number,
    firstU: number,
    firstV: number,
    acrossU: number,
    acrossV: number,
    downU: number,
    downV: number,
    columns: number,
    turns: number,
    cells: number,
  ): void;
  addToMap(
    cells: number,
    left: number,
    top: number,
    columns: number,
    rows: number,
    join: number,
    mapLeft: number,
    mapTop: number,
    mapColumns: number,
    map: number,
    planeBytes: number,
  ): void;
  squareShares(
    rows: number,
    rowBytes: number,
    rowCount: number,
    firstBit: number,
    squarePx: number,
    share: number,
    target: number,
    lines: number,
  ): void;
  spectrumScratchBytes(): number;
  windowPower(samples: number, weights: number, turns: number, scratch: number, power: number): void;
  ringPower(power: number, rings: number, sums: number): void;
  strongestPeaks(power: number, most: number, leastTurns: number, target: number): number;
  peakNear(power: number, column: number, row: number, found: number): number;
  latticePower(
    power: number,
    fx: number,
    fy: number,
    turnsX: number,
    turnsY: number,
    order: number,
    across: number,
    stamps: number,
    sum: number,
  ): number;
  beginWidths(
    plane: number,
    wordsPerRow: number,
    widthPx: number,
    heightPx: number,
    inverted: number,
    rowPitch: number,
  ): void;
  widthsAcross(columns: number, rows: number, count: number, scale: number, limitPx: number, widths: number): void;
  packPixels(
    source: number,
    strideBytes: number,
    widthPx: number,
    rows: number,
    colour: number,
    target: number,
    wordsPerRow: number,
    channelBytes: number,
    scratch: number,
  ): number;
}

let compiled: WebAssembly.Module | null | undefined;
let loaded: Kernels | null | undefined;
const idle: Kernels[] = [];

/** The kernels, loaded once a thread; null where WebAssembly or its vectors are missing, and the twins do the work. */
export function kernels(): Kernels | null {
  loaded ??= instantiate();
  return loaded;
}

/** Kernels with memory of their own, for work that goes on between other work; to be given back when it is done. */
export function lendKernels(): Kernels | null {
  return idle.pop() ?? instantiate();
}

/** Their memory is kept for the next work of the kind. */
export function takeBackKernels(lent: Kernels): void {
  idle.push(lent);
}

function instantiate(): Kernels | null {
  compiled ??= compiledModule(readFileSync(new URL('./kernels.wasm', import.meta.url)));
  return compiled === null ? null : (new WebAssembly.Instance(compiled).exports as unknown as Kernels);
}

/** Compiles a module; null where there is no WebAssembly or it lacks what the module needs. */
export function compiledModule(bytes: Uint8Array): WebAssembly.Module | null {
  if (typeof WebAssembly === 'undefined' || !WebAssembly.validate(bytes)) return null;
  return new WebAssembly.Module(bytes);
}

/** Rows handed to a kernel at once: few enough to stay in the near caches, and for the compiler to catch up early. */
export const bandRows = 64;

/** Lays parts of the kernels' memory out one after another, 16 bytes apart and on whole 16 bytes, growing it as needed. */
export class Layout {
  private readonly kernels: Pick<Kernels, 'memory' | 'firstFreeByte'>;
  private next: number;

  constructor(used: Pick<Kernels, 'memory' | 'firstFreeByte'>) {
    this.kernels = used;
    this.next = used.firstFreeByte();
  }

  /** Address of so many bytes. Views made before may be cut off from the memory: make them after the last `take`. */
  take(bytes: number): number {
    const at = this.next;
    this.next = (at + bytes + 31) & ~15;
    const { memory } = this.kernels;
    const missing = this.next - memory.buffer.byteLength;
    if (missing > 0) memory.grow(Math.ceil(missing / 65536));
    return at;
  }
}
