import type { Picture } from './paintLayers.ts';
import { pngOf } from './png.ts';

const made = new WeakMap<Picture, string>();

/** A picture as an address that needs no file beside the page; the same text however often it is asked for. */
export function dataUri(picture: Picture): string {
  const uri = made.get(picture) ?? `data:image/png;base64,${pngOf(picture.pixels).toString('base64')}`;
  made.set(picture, uri);
  return uri;
}
