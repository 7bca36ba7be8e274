import sharp from 'sharp';
import { maxImagePixels } from './limits.ts';
import type { LoadedImage } from './resolveState.ts';
import { hrefOf, type SvgElement } from './svgElement.ts';

/** The pictures that are in the file, by their element; linked and unreadable ones are left out. */
export async function loadImages(elements: readonly SvgElement[]): Promise<ReadonlyMap<SvgElement, LoadedImage>> {
  const images = new Map<SvgElement, LoadedImage>();
  for (const element of elements) {
    if (element.name !== 'image') continue;
    const bytes = dataBytes(hrefOf(element));
    if (bytes === null) continue;
    try {
      images.set(element, await loadImage(bytes));
    } catch {
      // Reported where it is drawn.
    }
  }
  return images;
}

/** The bytes of a base64 or percent-coded `data:` reference to a bitmap, else null. */
function dataBytes(href: string | undefined): Buffer | null {
  const match = /^data:([^,;]*)((?:;[^,]*)?),(.*)$/is.exec(href?.trim() ?? '');
  if (match === null || /svg/i.test(match[1])) return null;
  try {
    return /;\s*base64/i.test(match[2])
      ? Buffer.from(match[3], 'base64')
      : Buffer.from(decodeURIComponent(match[3]), 'latin1');
  } catch {
    return null;
  }
}

async function loadImage(bytes: Buffer): Promise<LoadedImage> {
  const meta = await sharp(bytes, { limitInputPixels: false }).metadata();
  if (meta.format === 'svg') throw new Error('an SVG inside an SVG picture');
  const turned = (meta.orientation ?? 1) >= 5;
  const widthPx = turned ? meta.height : meta.width;
  const heightPx = turned ? meta.width : meta.height;
  const pixels = widthPx * heightPx <= maxImagePixels ? await blackAndWhite(bytes) : null;
  const bitsByDepth: Readonly<Record<string, number>> = { uchar: 8, char: 8, ushort: 16, short: 16, float: 32 };
  return {
    widthPx,
    heightPx,
    bitsPerComponent: meta.bitsPerSample ?? bitsByDepth[meta.depth] ?? 8,
    colour:
      pixels !== null
        ? 'bilevel'
        : meta.isPalette === true
          ? 'indexed'
          : meta.space === 'cmyk'
            ? 'cmyk'
            : meta.space.startsWith('b-w') || meta.space === 'grey16'
              ? 'grey'
              : meta.space.includes('rgb')
                ? 'rgb'
                : 'other',
    pixels,
  };
}

/** The pixels of a picture of pure black, pure white and nothing at all; null for any other. */
async function blackAndWhite(bytes: Buffer): Promise<Uint8Array | null> {
  const { data, info } = await sharp(bytes, { limitInputPixels: false })
    .rotate()
    .toColourspace('srgb')
    .ensureAlpha()
    .raw()
    .toBuffer({ resolveWithObject: true });
  const pixels = new Uint8Array(info.width * info.height);
  for (let index = 0; index < pixels.length; index++) {
    const offset = 4 * index;
    const alpha = data[offset + 3];
    const value = data[offset];
    if (alpha === 0) pixels[index] = 2;
    else if (
      alpha !== 255 ||
      (value !== 0 && value !== 255) ||
      data[offset + 1] !== value ||
      data[offset + 2] !== value
    )
      return null;
    else pixels[index] = value === 0 ? 0 : 1;
  }
  return pixels;
}
