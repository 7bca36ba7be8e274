import type { ToneImage } from './pictures.ts';

/** Square pixels from a top left corner that pictures share. */
export interface PictureGrid {
  readonly widthPx: number;
  readonly heightPx: number;
  readonly pitchMm: number;
}

/** Only what is small beside its image is remembered: the maps of a report all lie on one grid. */
const rememberedShare = 0.25;
const remembered = new WeakMap<ToneImage, Map<string, Uint8Array>>();

/** Tones of an image on a grid: each pixel the mean of those it covers, at least one; 0 where the image has ended. */
export function reducedTones(image: ToneImage, grid: PictureGrid): Uint8Array {
  const { widthPx, heightPx, pitchMm } = grid;
  if (widthPx * heightPx > rememberedShare * image.widthPx * image.heightPx) return reduce(image, grid);
  const known = remembered.get(image) ?? new Map<string, Uint8Array>();
  remembered.set(image, known);
  const key = `${widthPx} ${heightPx} ${pitchMm}`;
  const tones = known.get(key) ?? reduce(image, grid);
  known.set(key, tones);
  return tones;
}

function reduce(image: ToneImage, { widthPx, heightPx, pitchMm }: PictureGrid): Uint8Array {
  const columns = edges(widthPx, pitchMm, image.pitchXMm, image.widthPx);
  const rows = edges(heightPx, pitchMm, image.pitchYMm, image.heightPx);
  if (widthPx === image.widthPx && isPixelByPixel(columns) && isPixelByPixel(rows) && heightPx === image.heightPx)
    return image.tones;
  const tones = new Uint8Array(widthPx * heightPx);
  const sums = new Uint32Array(image.widthPx);
  for (let row = 0; row < heightPx; row += 1) {
    const top = rows[row];
    if (top >= image.heightPx) break;
    const rowsCovered = Math.max(rows[row + 1] - top, 1);
    addRows(sums, image, top, rowsCovered);
    for (let column = 0; column < widthPx; column += 1) {
      const left = columns[column];
      if (left >= image.widthPx) break;
      const right = Math.max(columns[column + 1], left + 1);
      let sum = 0;
      for (let source = left; source < right; source += 1) sum += sums[source];
      if (sum !== 0) tones[row * widthPx + column] = Math.round(sum / ((right - left) * rowsCovered));
    }
  }
  return tones;
}

/** Sums of each column over some rows of an image. */
function addRows(sums: Uint32Array, { tones, widthPx }: ToneImage, top: number, count: number): void {
  sums.set(tones.subarray(top * widthPx, (top + 1) * widthPx));
  for (let row = top + 1; row < top + count; row += 1) {
    const start = row * widthPx;
    for (let column = 0; column < widthPx; column += 1) sums[column] += tones[start + column];
  }
}

/** Source pixel at which each target pixel begins; one more than there are target pixels. */
function edges(countPx: number, pitchMm: number, sourcePitchMm: number, sourcePx: number): Int32Array {
  const starts = new Int32Array(countPx + 1);
  for (let index = 0; index <= countPx; index += 1) {
    starts[index] = Math.min(sourcePx, Math.round((index * pitchMm) / sourcePitchMm));
  }
  return starts;
}

function isPixelByPixel(starts: Int32Array): boolean {
  return starts.every((start, index) => start === index);
}
