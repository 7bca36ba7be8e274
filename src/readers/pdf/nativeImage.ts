import type { PixelGrid } from '../../raster/pixelGrid.ts';
import { plainComposite } from './composites.ts';
import type { PageContext } from './pageContext.ts';
import { isUpright } from './passPaths.ts';
import type { SceneItem } from './scene.ts';

/** How far the edges of a picture may lie from the film's, in its own pixels. */
const edgeSlackPx = 0.5;

/**
 * The grid of a page that is one upright 1-bit picture from edge to edge: its own pixels are the evidence and are
 * never resampled. Null for every other page.
 */
export function nativeImageOf(items: readonly SceneItem[], context: PageContext): PixelGrid | null {
  const seen = items.filter((item) => !isWhiteGround(item));
  const [item] = seen;
  if (seen.length !== 1 || item.type !== 'image' || item.image.bits !== 1 || item.image.hasMask) return null;
  if (item.composite !== plainComposite || !isUpright(item.matrix)) return null;
  const turned = Math.abs(item.matrix[1]) > Math.abs(item.matrix[0]);
  const widthPx = turned ? item.image.heightPx : item.image.widthPx;
  const heightPx = turned ? item.image.widthPx : item.image.heightPx;
  const pitchXMm = context.widthMm / widthPx;
  const pitchYMm = context.heightMm / heightPx;
  const { xMm, yMm, widthMm, heightMm } = item.boxMm;
  const fits =
    Math.abs(xMm) <= edgeSlackPx * pitchXMm &&
    Math.abs(yMm) <= edgeSlackPx * pitchYMm &&
    Math.abs(xMm + widthMm - context.widthMm) <= edgeSlackPx * pitchXMm &&
    Math.abs(yMm + heightMm - context.heightMm) <= edgeSlackPx * pitchYMm;
  const clip = item.clip;
  const uncut =
    !clip ||
    (clip.boxMm !== null &&
      clip.boxMm.widthMm >= context.widthMm - pitchXMm &&
      clip.boxMm.heightMm >= context.heightMm - pitchYMm);
  return fits && uncut ? { widthPx, heightPx, pitchXMm, pitchYMm } : null;
}

function isWhiteGround(item: SceneItem): boolean {
  if (item.type !== 'fill' || item.paint.everywhere !== null) return false;
  for (const tint of item.paint.named.values()) if (tint) return false;
  return true;
}
