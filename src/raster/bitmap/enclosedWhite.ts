import type { SplitBand } from './splitBands.ts';

/**
 * Tells white inside the art from white outside it. White that reaches the picture's edge is ground; every other white
 * area is enclosed. Areas are runs of pixels joined over shared sides (4-connected), found while the rows pass by.
 */
export class WhiteAreas {
  readonly #widthPx: number;
  readonly #heightPx: number;
  readonly #white: number;
  #parent = new Int32Array(1024);
  #outside = new Uint8Array(1024);
  #area = new Float64Array(1024);
  #labels = 0;
  #row = 0;
  #previous: number[] = [];
  readonly #runs: number[][] | null;

  /** `white` is the colour's number in the split. With `keepRuns` every row's runs are kept for `fillRow`. */
  constructor(widthPx: number, heightPx: number, white: number, keepRuns: boolean) {
    this.#widthPx = widthPx;
    this.#heightPx = heightPx;
    this.#white = white;
    this.#runs = keepRuns ? [] : null;
  }

  add(band: SplitBand): void {
    for (let row = 0; row < band.rows; row++) this.#addRow(band.colourOf, row * this.#widthPx);
  }

  /** Pixels of white that no way leads from to the edge. */
  enclosedPx(): number {
    let sum = 0;
    for (let label = 0; label < this.#labels; label++) {
      if (this.#parent[label] === label && this.#outside[label] === 0) sum += this.#area[label];
    }
    return sum;
  }

  /** Sets the enclosed white pixels of a row to 255. */
  fillRow(row: number, tones: Uint8Array, offset: number): void {
    const runs = this.#runs?.[row] ?? [];
    for (let i = 0; i < runs.length; i += 3) {
      if (this.#outside[this.#find(runs[i + 2])] === 0) tones.fill(255, offset + runs[i], offset + runs[i + 1]);
    }
  }

  #addRow(colourOf: Uint8Array, offset: number): void {
    const width = this.#widthPx;
    const runs: number[] = [];
    const atEdge = this.#row === 0 || this.#row === this.#heightPx - 1;
    let above = 0;
    const previous = this.#previous;
    let column = 0;
    while (column < width) {
      if (colourOf[offset + column] !== this.#white) {
        column++;
        continue;
      }
      const start = column;
      while (column < width && colourOf[offset + column] === this.#white) column++;
      while (above < previous.length && previous[above + 1] <= start) above += 3;
      let label = -1;
      for (let i = above; i < previous.length && previous[i] < column; i += 3) {
        label = label < 0 ? this.#find(previous[i + 2]) : this.#join(label, previous[i + 2]);
      }
      if (label < 0) label = this.#newLabel();
      this.#area[label] += column - start;
      if (atEdge || start === 0 || column === width) this.#outside[label] = 1;
      runs.push(start, column, label);
    }
    this.#previous = runs;
    this.#runs?.push(runs);
    this.#row++;
  }

  #newLabel(): number {
    const label = this.#labels++;
    if (label === this.#parent.length) {
      this.#parent = grown(this.#parent, Int32Array);
      this.#outside = grown(this.#outside, Uint8Array);
      this.#area = grown(this.#area, Float64Array);
    }
    this.#parent[label] = label;
    return label;
  }

  #find(label: number): number {
    let root = label;
    while (this.#parent[root] !== root) {
      this.#parent[root] = this.#parent[this.#parent[root]];
      root = this.#parent[root];
    }
    return root;
  }

  #join(a: number, b: number): number {
    const one = this.#find(a);
    const other = this.#find(b);
    if (one === other) return one;
    this.#parent[other] = one;
    this.#area[one] += this.#area[other];
    this.#outside[one] |= this.#outside[other];
    return one;
  }
}

function grown<T extends { length: number; set(from: T): void }>(array: T, make: new (length: number) => T): T {
  const larger = new make(array.length * 2);
  larger.set(array);
  return larger;
}
