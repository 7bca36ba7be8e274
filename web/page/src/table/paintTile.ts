import { type InkLook, paintPixel } from './inkLook.ts';

/** One plate's part of a tile: bits, one byte a pixel, or the same all over (0 or 255). */
export type TilePart =
  | { readonly kind: 'flat'; readonly value: 0 | 255 }
  | { readonly kind: 'bits' | 'bytes'; readonly values: Uint8Array };

/** How much of pixel `at` of a tile a plate covers, 0 to 255. */
export function coverAt(part: TilePart, at: number): number {
  if (part.kind === 'flat') return part.value;
  return part.kind === 'bytes' ? part.values[at] : ((part.values[at >> 3] >> (at & 7)) & 1) * 255;
}

/** With more plates than this a table of all their combinations would be larger than the tile. */
const mostTablePlates = 12;

/** Paints a tile of `sidePx`, opaque RGBA. */
export function paintTile(parts: readonly TilePart[], look: InkLook, sidePx: number): Uint8ClampedArray<ArrayBuffer> {
  const pixels = new Uint8ClampedArray(4 * sidePx * sidePx);
  const plain = parts.every(({ kind }) => kind !== 'bytes');
  if (plain && parts.length <= mostTablePlates) paintByTable(parts, look, pixels);
  else paintByCover(parts, look, pixels);
  return pixels;
}

/** Where each plate is there or not, a colour for every combination of them. */
function paintByTable(parts: readonly TilePart[], look: InkLook, pixels: Uint8ClampedArray<ArrayBuffer>): void {
  const table = new Uint8ClampedArray(4 << parts.length);
  for (let which = 0; which < 1 << parts.length; which++)
    paintPixel(look, (plate) => ((which >> plate) & 1) * 255, table, 4 * which);
  const colours = new Uint32Array(table.buffer);
  const target = new Uint32Array(pixels.buffer);
  let everywhere = 0;
  parts.forEach((part, plate) => {
    if (part.kind === 'flat' && part.value === 255) everywhere |= 1 << plate;
  });
  target.fill(colours[everywhere]);
  const varied = parts.flatMap((part, plate) => (part.kind === 'bits' ? [{ plate, values: part.values }] : []));
  if (varied.length === 0) return;
  const which = new Uint16Array(8);
  for (let byte = 0; byte < target.length >> 3; byte++) {
    let any = 0;
    for (const { values } of varied) any |= values[byte];
    if (any === 0) continue;
    which.fill(everywhere);
    for (const { plate, values } of varied) {
      const bits = values[byte];
      for (let k = 0; k < 8; k++) which[k] |= ((bits >> k) & 1) << plate;
    }
    for (let k = 0; k < 8; k++) target[8 * byte + k] = colours[which[k]];
  }
}

function paintByCover(parts: readonly TilePart[], look: InkLook, pixels: Uint8ClampedArray<ArrayBuffer>): void {
  let at = 0;
  const coverOf = (plate: number) => (plate < parts.length ? coverAt(parts[plate], at) : 0);
  const count = pixels.length >> 2;
  const changing = parts.filter((part) => part.kind !== 'flat');
  const target = new Uint32Array(pixels.buffer);
  if (changing.length === 0) {
    paintPixel(look, coverOf, pixels, 0);
    target.fill(target[0]);
    return;
  }
  // Most neighbours are covered alike: then the colour before is taken again.
  let before = -1;
  for (at = 0; at < count; at++) {
    if (before >= 0 && isAlike(changing, at, before)) {
      target[at] = target[before];
      continue;
    }
    paintPixel(look, coverOf, pixels, 4 * at);
    before = at;
  }
}

function isAlike(parts: readonly TilePart[], at: number, before: number): boolean {
  for (const part of parts) {
    if (part.kind === 'flat') continue;
    if (part.kind === 'bytes') {
      if (part.values[at] !== part.values[before]) return false;
    } else if (((part.values[at >> 3] >> (at & 7)) & 1) !== ((part.values[before >> 3] >> (before & 7)) & 1))
      return false;
  }
  return true;
}
