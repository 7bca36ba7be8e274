import type { BoxMm, PointMm } from '../geometry/box.ts';
import type { ToneImage } from '../raster/toneImage.ts';

const inked = 128;
/** Plates meet where both have ink within so many pixels. */
const reachPx = 2;

/**
 * A spot in a box worth enlarging: of two plates and more one where two of them meet, of one plate one on the edge of
 * its ink; the one nearest to the middle of the box. The images all cover the box and are of one size. Null when there
 * is none.
 */
export function findSpot(images: readonly ToneImage[], box: BoxMm): PointMm | null {
  const [first] = images;
  if (first === undefined) return null;
  const { widthPx, heightPx, pitchXMm, pitchYMm } = first;
  let nearest: { readonly spot: PointMm; readonly offMm: number } | null = null;
  for (let row = 0; row < heightPx; row += 1) {
    for (let column = 0; column < widthPx; column += 1) {
      const xMm = (column + 0.5) * pitchXMm;
      const yMm = (row + 0.5) * pitchYMm;
      const offMm = Math.hypot(xMm - box.widthMm / 2, yMm - box.heightMm / 2);
      if ((nearest !== null && offMm >= nearest.offMm) || !isMeeting(images, column, row)) continue;
      nearest = { spot: { xMm: box.xMm + xMm, yMm: box.yMm + yMm }, offMm };
    }
  }
  return nearest === null ? null : nearest.spot;
}

function isMeeting(images: readonly ToneImage[], column: number, row: number): boolean {
  const near = images.filter((image) => hasWithin(image, column, row, (tone) => tone >= inked));
  if (images.length > 1) return near.length > 1;
  return near.length === 1 && hasWithin(images[0], column, row, (tone) => tone < inked);
}

function hasWithin(image: ToneImage, column: number, row: number, wanted: (tone: number) => boolean): boolean {
  const right = Math.min(image.widthPx - 1, column + reachPx);
  const bottom = Math.min(image.heightPx - 1, row + reachPx);
  for (let y = Math.max(0, row - reachPx); y <= bottom; y += 1) {
    for (let x = Math.max(0, column - reachPx); x <= right; x += 1) {
      if (wanted(image.tones[y * image.widthPx + x])) return true;
    }
  }
  return false;
}
