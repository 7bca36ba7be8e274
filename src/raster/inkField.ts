import type { GriddedPlane } from './griddedPlane.ts';

/** Reads a plane by place on the film. Off the film there is no ink. */
export class InkField {
  private readonly words: Int32Array;
  private readonly wordsPerRow: number;
  private readonly widthPx: number;
  private readonly heightPx: number;
  private readonly perMmX: number;
  private readonly perMmY: number;

  constructor({ grid, bits }: GriddedPlane) {
    this.words = new Int32Array(bits.words.buffer, bits.words.byteOffset, bits.words.length);
    this.wordsPerRow = bits.wordsPerRow;
    this.widthPx = bits.widthPx;
    this.heightPx = bits.heightPx;
    this.perMmX = 1 / grid.pitchXMm;
    this.perMmY = 1 / grid.pitchYMm;
  }

  /** 1 where there is ink, else 0. */
  at(xMm: number, yMm: number): number {
    const column = Math.floor(xMm * this.perMmX);
    const row = Math.floor(yMm * this.perMmY);
    if (column < 0 || row < 0 || column >= this.widthPx || row >= this.heightPx) return 0;
    return (this.words[row * this.wordsPerRow + (column >> 5)] >>> (column & 31)) & 1;
  }
}
