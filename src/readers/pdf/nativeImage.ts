import type { BoxMm } from '../../geometry/box.ts';
import type { PixelGrid } from '../../raster/pixelGrid.ts';
import { plainComposite } from './composites.ts';
import { whiteKey } from './inkBook.ts';
import type { PageContext } from './pageContext.ts';
import { isUpright } from './passPaths.ts';
import type { ImageItem, SceneItem } from './scene.ts';

/** How far the edges of a single picture may lie from the film's, in its own pixels. */
const edgeSlackPx = 0.5;

/** How far the pixels of several pictures may be out of step. */
const stepSlackPx = 0.05;

/** A picture of less of the film than this is an element of the art, not the film itself. */
const leastShareOfFilm = 0.5;

/**
 * The grid of a page that shows nothing but upright 1-bit pictures on one lattice: their own pixels are the evidence
 * and are never resampled. That is one picture from edge to edge, or strips and tiles of one. Null for other pages.
 */
export function nativeImageOf(items: readonly SceneItem[], context: PageContext): PixelGrid | null {
  const pictures: ImageItem[] = [];
  for (const item of items) {
    if (isWhiteGround(item)) continue;
    if (!isPlainBilevel(item)) return null;
    pictures.push(item);
  }
  if (pictures.length === 0) return null;
  return (pictures.length === 1 ? gridFromEdgeToEdge(pictures[0], context) : null) ?? latticeOf(pictures, context);
}

function isPlainBilevel(item: SceneItem): item is ImageItem {
  if (item.type !== 'image' || item.image.bits !== 1 || item.image.hasMask) return false;
  if (item.composite !== plainComposite || !isUpright(item.matrix)) return false;
  const clip = item.clip?.boxMm;
  if (!item.clip) return true;
  const slackMm = edgeSlackPx * Math.min(...pitchesOf(item));
  return clip != null && holds(clip, item.boxMm, slackMm) && rectanglesOnly(item);
}

function rectanglesOnly(item: ImageItem): boolean {
  for (let clip = item.clip; clip; clip = clip.parent) if (!clip.rectangleMm) return false;
  return true;
}

function gridFromEdgeToEdge(item: ImageItem, context: PageContext): PixelGrid | null {
  const [widthPx, heightPx] = sizeOf(item);
  const pitchXMm = context.widthMm / widthPx;
  const pitchYMm = context.heightMm / heightPx;
  const { xMm, yMm, widthMm, heightMm } = item.boxMm;
  const fits =
    Math.abs(xMm) <= edgeSlackPx * pitchXMm &&
    Math.abs(yMm) <= edgeSlackPx * pitchYMm &&
    Math.abs(xMm + widthMm - context.widthMm) <= edgeSlackPx * pitchXMm &&
    Math.abs(yMm + heightMm - context.heightMm) <= edgeSlackPx * pitchYMm;
  return fits ? { widthPx, heightPx, pitchXMm, pitchYMm } : null;
}

/** The lattice all pictures share with the film's corner, or null. */
function latticeOf(pictures: readonly ImageItem[], context: PageContext): PixelGrid | null {
  const [pitchXMm, pitchYMm] = pitchesOf(pictures[0]);
  const inStep = (mm: number, pitchMm: number) => Math.abs(mm / pitchMm - Math.round(mm / pitchMm)) <= stepSlackPx;
  let areaMm2 = 0;
  for (const picture of pictures) {
    const { xMm, yMm, widthMm, heightMm } = picture.boxMm;
    areaMm2 += widthMm * heightMm;
    const [widthPx, heightPx] = sizeOf(picture);
    const sameSize =
      Math.abs(widthMm / pitchXMm - widthPx) <= stepSlackPx && Math.abs(heightMm / pitchYMm - heightPx) <= stepSlackPx;
    if (!sameSize || !inStep(xMm, pitchXMm) || !inStep(yMm, pitchYMm)) return null;
  }
  if (areaMm2 < leastShareOfFilm * context.widthMm * context.heightMm) return null;
  const widthPx = Math.round(context.widthMm / pitchXMm);
  const heightPx = Math.round(context.heightMm / pitchYMm);
  return widthPx > 0 && heightPx > 0 ? { widthPx, heightPx, pitchXMm, pitchYMm } : null;
}

/** Pixels across and down the film. */
function sizeOf(item: ImageItem): [number, number] {
  const { widthPx, heightPx } = item.image;
  const turned = Math.abs(item.matrix[1]) > Math.abs(item.matrix[0]);
  return turned ? [heightPx, widthPx] : [widthPx, heightPx];
}

function pitchesOf(item: ImageItem): [number, number] {
  const [widthPx, heightPx] = sizeOf(item);
  return [item.boxMm.widthMm / widthPx, item.boxMm.heightMm / heightPx];
}

function holds(outer: BoxMm, inner: BoxMm, slackMm: number): boolean {
  return (
    outer.xMm <= inner.xMm + slackMm &&
    outer.yMm <= inner.yMm + slackMm &&
    outer.xMm + outer.widthMm >= inner.xMm + inner.widthMm - slackMm &&
    outer.yMm + outer.heightMm >= inner.yMm + inner.heightMm - slackMm
  );
}

function isWhiteGround(item: SceneItem): boolean {
  if (item.type !== 'fill' || item.paint.everywhere !== null) return false;
  for (const [key, tint] of item.paint.named) if (tint && key !== whiteKey) return false;
  return true;
}
