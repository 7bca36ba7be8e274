import { readFileSync } from 'node:fs';
import type { Cover } from '../planePair.ts';
import { compiledModule } from './kernelModule.ts';

/** What `assembly/outlines` exports. Pointers are byte addresses in `memory`, flags 0 or 1; see there for the meanings. */
export interface OutlineKernels {
  readonly memory: WebAssembly.Memory;
  firstFreeByte(): number;
  findEdgeCells(
    plane: number,
    wordsPerRow: number,
    heightPx: number,
    fromCellRow: number,
    toCellRow: number,
    cells: number,
    cellWordsPerRow: number,
    scratch: number,
  ): void;
  sharedPixels(a: number, b: number, words: number): number;
  widenCells(cells: number, wordsPerRow: number, rows: number, reach: number, wide: number, scratch: number): void;
  flagTiles(cells: number, cellWordsPerRow: number, cellRows: number, tilesPerRow: number, flags: number): void;
  keepNear(
    own: number,
    other: number,
    tilesPerRow: number,
    tileRows: number,
    across: number,
    down: number,
    scratch: number,
  ): void;
  layOutTiles(flags: number, count: number, slots: number): number;
  setPlane(
    which: 0 | 1,
    words: number,
    wordsPerRow: number,
    widthPx: number,
    heightPx: number,
    pitchXMm: number,
    pitchYMm: number,
    inverted: number,
    cells: number,
    cellWordsPerRow: number,
  ): void;
  beginOutlines(
    tiles: number,
    tileCount: number,
    slots: number,
    walked: number,
    header: number,
    scratch: number,
    boxTiles: number,
    boxes: number,
    boxCount: number,
    reachMm: number,
    seekStrips: number,
    hasCovers: number,
    near: number,
    nearWordsPerRow: number,
  ): void;
  nextOutline(): number;
  beginSpans(own: number, other: number, wordsPerRow: number, tiles: number): void;
  countSpan(row: number, from: number, end: number): void;
  sharedInSpans(): number;
  levelSides(): number;
  uprightSides(): number;
}

let loaded: OutlineKernels | null | undefined;
let cover: Cover = () => false;

/** The kernels, loaded once a thread; null where there is no WebAssembly, and the twins do the work. */
export function outlineKernels(): OutlineKernels | null {
  loaded ??= load();
  return loaded;
}

/** Sets what the kernels ask of gaps. */
export function setCover(ask: Cover): void {
  cover = ask;
}

function load(): OutlineKernels | null {
  const module = compiledModule(readFileSync(new URL('./outlines.wasm', import.meta.url)));
  if (module === null) return null;
  const imports = {
    covers: { cover: (x: number, y: number, acrossX: number, acrossY: number) => cover(x, y, acrossX, acrossY) },
  };
  return new WebAssembly.Instance(module, imports).exports as unknown as OutlineKernels;
}
