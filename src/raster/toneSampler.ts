import type { PixelGrid } from './pixelGrid.ts';
import type { TonePlane } from './tonePlane.ts';
import { readToneWindow } from './toneWindow.ts';

/** Tones of a part of a plate at any place of it, between the pixels too. */
export class ToneSampler {
  private readonly tones: Uint8Array;
  private readonly left: number;
  private readonly top: number;
  private readonly widthPx: number;
  private readonly grid: PixelGrid;

  /** Answers places no further from the middle than the reach. */
  constructor(plane: TonePlane, grid: PixelGrid, xMm: number, yMm: number, reachMm: number) {
    this.grid = grid;
    this.left = Math.floor((xMm - reachMm) / grid.pitchXMm) - 2;
    this.top = Math.floor((yMm - reachMm) / grid.pitchYMm) - 2;
    this.widthPx = Math.ceil((xMm + reachMm) / grid.pitchXMm) + 3 - this.left;
    const heightPx = Math.ceil((yMm + reachMm) / grid.pitchYMm) + 3 - this.top;
    this.tones = new Uint8Array(this.widthPx * heightPx);
    readToneWindow(plane, this.left, this.top, this.widthPx, heightPx, this.tones);
  }

  /** The tone of the pixel a place lies in. */
  ofPixel(xMm: number, yMm: number): number {
    const column = Math.floor(xMm / this.grid.pitchXMm) - this.left;
    const row = Math.floor(yMm / this.grid.pitchYMm) - this.top;
    return this.tones[row * this.widthPx + column];
  }

  /**
   * The tone at a place: a cubic through the four nearest pixels along the rows, and through four such along the columns
   * (Catmull and Rom's spline). Beside a sharp edge it passes a little over 255 and under 0, so that all tones along a
   * line add up to those of the pixels.
   */
  at(xMm: number, yMm: number): number {
    const x = xMm / this.grid.pitchXMm - 0.5 - this.left;
    const y = yMm / this.grid.pitchYMm - 0.5 - this.top;
    const column = Math.floor(x);
    const row = Math.floor(y);
    const rows: number[] = [];
    for (let k = -1; k <= 2; k++) {
      const from = (row + k) * this.widthPx + column;
      const { tones } = this;
      rows.push(cubic(tones[from - 1], tones[from], tones[from + 1], tones[from + 2], x - column));
    }
    return cubic(rows[0], rows[1], rows[2], rows[3], y - row);
  }
}

function cubic(a: number, b: number, c: number, d: number, t: number): number {
  return b + 0.5 * t * (c - a + t * (2 * a - 5 * b + 4 * c - d + t * (3 * (b - c) + d - a)));
}
