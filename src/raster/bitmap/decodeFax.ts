import { wordsPerRowFor } from '../bitPlane.ts';
import { DamagedPixels } from './damagedPixels.ts';
import { blackRuns, horizontalMode, modeBits, modes, passMode, runBits, whiteRuns } from './faxCodes.ts';

/** `plain`: rows of runs on byte boundaries (compression 2). `group3`: with end-of-line codes (3). `group4`: T.6 (4). */
export type FaxKind = 'plain' | 'group3' | 'group4';

/** Rows of coded data, read from the top. */
export interface FaxRows {
  /** Decodes the next rows into `words`, which are 0 there, from word `offset` on. Throws `DamagedPixels`. */
  decodeRows(rows: number, words: Uint32Array, offset: number): void;
}

/**
 * Decodes rows of one strip or tile of T.4 or T.6 data, a few at a time, into words like `BitPlane`'s, 1 = a black run.
 * A row is a list of the columns where its colour changes; the words are filled from it run by run.
 */
export class FaxDecoder implements FaxRows {
  readonly #bytes: Uint8Array;
  readonly #bitCount: number;
  readonly #widthPx: number;
  readonly #kind: FaxKind;
  readonly #twoDimensional: boolean;
  #position = 0;
  #reference: Int32Array;
  #current: Int32Array;

  /** `bytes` have the highest bit first. */
  constructor(bytes: Uint8Array, widthPx: number, kind: FaxKind, twoDimensional: boolean) {
    this.#bytes = new Uint8Array(bytes.length + 8);
    this.#bytes.set(bytes);
    this.#bitCount = bytes.length * 8;
    this.#widthPx = widthPx;
    this.#kind = kind;
    this.#twoDimensional = twoDimensional;
    this.#reference = new Int32Array(widthPx + 8).fill(widthPx);
    this.#current = new Int32Array(widthPx + 8);
  }

  decodeRows(rows: number, words: Uint32Array, offset: number): void {
    const wordsPerRow = wordsPerRowFor(this.#widthPx);
    words.fill(0, offset, offset + rows * wordsPerRow);
    for (let row = 0; row < rows; row++) {
      const count = this.#decodeRow();
      fillRuns(this.#current, count, words, offset + row * wordsPerRow);
      const used = this.#current;
      this.#current = this.#reference;
      this.#reference = used;
    }
  }

  #decodeRow(): number {
    if (this.#position >= this.#bitCount) throw new DamagedPixels('its coded rows end too early', true);
    if (this.#kind === 'group4') return this.#decodeTwoDimensional();
    if (this.#kind === 'plain') {
      const count = this.#decodeOneDimensional();
      this.#position = (this.#position + 7) & ~7;
      return count;
    }
    const lineEnded = this.#skipLineEnd();
    if (!this.#twoDimensional || !lineEnded) return this.#decodeOneDimensional();
    const tag = (this.#bytes[this.#position >> 3] >> (7 - (this.#position & 7))) & 1;
    this.#position++;
    return tag === 1 ? this.#decodeOneDimensional() : this.#decodeTwoDimensional();
  }

  /** Steps over fill bits and an end-of-line code (eleven 0 and a 1) if one is next. */
  #skipLineEnd(): boolean {
    let at = this.#position;
    const bytes = this.#bytes;
    while (at < this.#bitCount && ((bytes[at >> 3] >> (7 - (at & 7))) & 1) === 0) at++;
    if (at - this.#position < 11) return false;
    this.#position = at + 1;
    return true;
  }

  #decodeOneDimensional(): number {
    const width = this.#widthPx;
    const current = this.#current;
    let count = 0;
    let column = 0;
    while (column < width) {
      column += this.#readRun((count & 1) === 1);
      if (column > width || count > width) throw new DamagedPixels('a coded row is longer than the film is wide');
      current[count++] = column;
    }
    return this.#close(count);
  }

  #decodeTwoDimensional(): number {
    const width = this.#widthPx;
    const reference = this.#reference;
    const current = this.#current;
    const bytes = this.#bytes;
    let count = 0;
    let a0 = -1;
    let index = 0;
    while (a0 < width) {
      const position = this.#position;
      const at = position >> 3;
      const entry = modes[(((bytes[at] << 8) | bytes[at + 1]) >> (16 - modeBits - (position & 7))) & 0x7f];
      if (entry === 0) this.#fail();
      this.#position = position + (entry & 7);
      const mode = (entry >> 3) - 3;
      if (mode < passMode) {
        const a1 = reference[index] + mode;
        if (a1 < a0 || a1 < 0 || a1 > width || count > width) this.#fail();
        current[count++] = a1;
        a0 = a1;
        if (a0 >= width) break;
        index += index > 0 ? -1 : 1;
      } else if (mode === passMode) {
        a0 = reference[index + 1];
        index += 2;
      } else if (mode === horizontalMode) {
        const black = (count & 1) === 1;
        const a1 = Math.max(a0, 0) + this.#readRun(black);
        const a2 = a1 + this.#readRun(!black);
        if (a2 > width || count > width) this.#fail();
        current[count++] = a1;
        current[count++] = a2;
        a0 = a2;
      }
      while (reference[index] <= a0 && reference[index] < width) index += 2;
    }
    return this.#close(count);
  }

  #readRun(black: boolean): number {
    const bytes = this.#bytes;
    const table = black ? blackRuns : whiteRuns;
    let position = this.#position;
    let total = 0;
    for (;;) {
      const at = position >> 3;
      const seen = (bytes[at] << 16) | (bytes[at + 1] << 8) | bytes[at + 2];
      const entry = table[(seen >> (24 - runBits - (position & 7))) & 0x1fff];
      if (entry === 0 || position > this.#bitCount) this.#fail();
      position += entry & 31;
      const run = entry >> 5;
      total += run;
      if (run < 64) break;
    }
    this.#position = position;
    return total;
  }

  /** Ends the list of changes so that looking past its end finds the right edge. */
  #close(count: number): number {
    const width = this.#widthPx;
    for (let i = 0; i < 4; i++) this.#current[count + i] = width;
    return count;
  }

  #fail(): never {
    const truncated = this.#position + 24 >= this.#bitCount;
    throw new DamagedPixels(truncated ? 'its coded rows end too early' : 'a coded row makes no sense', truncated);
  }
}

/** Sets the columns of every second run. */
function fillRuns(changes: Int32Array, count: number, words: Uint32Array, base: number): void {
  for (let i = 0; i < count; i += 2) {
    const from = changes[i];
    const to = changes[i + 1];
    if (to <= from) continue;
    const first = base + (from >> 5);
    const last = base + ((to - 1) >> 5);
    const head = -1 << (from & 31);
    const tail = -1 >>> (31 - ((to - 1) & 31));
    if (first === last) {
      words[first] |= head & tail;
    } else {
      words[first] |= head;
      for (let w = first + 1; w < last; w++) words[w] = 0xffffffff;
      words[last] |= tail;
    }
  }
}
