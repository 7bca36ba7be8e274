import { wordsPerRowFor } from '../bitPlane.ts';
import type { Band } from './band.ts';

/** Rows a band has when a turned image is handed on. */
const bandRows = 512;

/**
 * Turns stored rows so that the film reads right: orientations 1 to 8 of TIFF 6.0, tag 274. 1 passes through; mirrored
 * rows (2) are turned band by band; all others need the whole image at once.
 */
export async function* orientBands(
  bands: AsyncIterable<Band>,
  widthPx: number,
  heightPx: number,
  orientation: number,
): AsyncIterable<Band> {
  if (orientation === 1) {
    yield* bands;
    return;
  }
  if (orientation === 2) {
    for await (const band of bands) yield turnBand(band, widthPx, band.rows, 2, band.top);
    return;
  }
  const whole = await gather(bands, widthPx, heightPx);
  if (whole !== null) yield* slices(turnBand(whole, widthPx, heightPx, orientation, 0), widthPx, heightPx, orientation);
}

/** Whether width and height change places. */
export function swapsSides(orientation: number): boolean {
  return orientation >= 5;
}

async function gather(bands: AsyncIterable<Band>, widthPx: number, heightPx: number): Promise<Band | null> {
  let whole: Band | null = null;
  for await (const band of bands) {
    if (band.kind === 'bits') {
      const wordsPerRow = wordsPerRowFor(widthPx);
      if (whole?.kind !== 'bits') {
        whole = { kind: 'bits', top: 0, rows: heightPx, words: new Uint32Array(wordsPerRow * heightPx) };
      }
      whole.words.set(band.words.subarray(0, band.rows * wordsPerRow), band.top * wordsPerRow);
    } else {
      if (whole?.kind !== 'samples') {
        const planes = band.planes.map(() => new Uint8Array(widthPx * heightPx));
        whole = { kind: 'samples', top: 0, rows: heightPx, planes };
      }
      const planes = whole.planes;
      band.planes.forEach((plane, i) => {
        planes[i].set(plane.subarray(0, band.rows * widthPx), band.top * widthPx);
      });
    }
  }
  return whole;
}

/** Turns `rows` rows of a width. */
function turnBand(band: Band, widthPx: number, rows: number, orientation: number, top: number): Band {
  if (band.kind === 'bits') {
    return { kind: 'bits', top, rows: band.rows, words: turnBits(band.words, widthPx, rows, orientation) };
  }
  const planes = band.planes.map((plane) => {
    const turned = new Uint8Array(widthPx * rows);
    visit(widthPx, rows, orientation, (from, to) => {
      turned[to] = plane[from];
    });
    return turned;
  });
  return { kind: 'samples', top, rows: band.rows, planes };
}

function turnBits(words: Uint32Array, widthPx: number, rows: number, orientation: number): Uint32Array {
  const fromStride = wordsPerRowFor(widthPx);
  const swap = swapsSides(orientation);
  const toStride = wordsPerRowFor(swap ? rows : widthPx);
  const turned = new Uint32Array(toStride * (swap ? widthPx : rows));
  for (let row = 0; row < rows; row++) {
    for (let w = 0; w < fromStride; w++) {
      let word = words[row * fromStride + w];
      // Most words of a film are empty: only set bits are carried over.
      while (word !== 0) {
        const bit = 31 - Math.clz32(word & -word);
        word &= word - 1;
        const [x, y] = turnedPlace(w * 32 + bit, row, widthPx, rows, orientation);
        turned[y * toStride + (x >> 5)] |= 1 << (x & 31);
      }
    }
  }
  return turned;
}

function visit(widthPx: number, rows: number, orientation: number, move: (from: number, to: number) => void): void {
  const stride = swapsSides(orientation) ? rows : widthPx;
  for (let row = 0; row < rows; row++) {
    const [x0, y0] = turnedPlace(0, row, widthPx, rows, orientation);
    const [x1, y1] = turnedPlace(1, row, widthPx, rows, orientation);
    const step = (y1 - y0) * stride + (x1 - x0);
    let to = y0 * stride + x0;
    for (let column = 0; column < widthPx; column++, to += step) move(row * widthPx + column, to);
  }
}

/** Where the stored pixel lies once turned. */
function turnedPlace(
  column: number,
  row: number,
  widthPx: number,
  heightPx: number,
  orientation: number,
): readonly [number, number] {
  const right = widthPx - 1 - column;
  const up = heightPx - 1 - row;
  switch (orientation) {
    case 2:
      return [right, row];
    case 3:
      return [right, up];
    case 4:
      return [column, up];
    case 5:
      return [row, column];
    case 6:
      return [up, column];
    case 7:
      return [up, right];
    case 8:
      return [row, right];
    default:
      return [column, row];
  }
}

function* slices(whole: Band, widthPx: number, heightPx: number, orientation: number): Iterable<Band> {
  const width = swapsSides(orientation) ? heightPx : widthPx;
  const height = swapsSides(orientation) ? widthPx : heightPx;
  for (let top = 0; top < height; top += bandRows) {
    const rows = Math.min(bandRows, height - top);
    if (whole.kind === 'bits') {
      const stride = wordsPerRowFor(width);
      yield { kind: 'bits', top, rows, words: whole.words.slice(top * stride, (top + rows) * stride) };
    } else {
      const planes = whole.planes.map((plane) => plane.slice(top * width, (top + rows) * width));
      yield { kind: 'samples', top, rows, planes };
    }
  }
}
