import sharp from 'sharp';
import type { PixelGrid } from './pixelGrid.ts';

/**
 * Tiles of one fixed grid: another tile width moves a few edge pixels, because the renderer rounds within a tile.
 * Small ones, because each clip costs surfaces of the size of the tile: of five sizes tried this one was the fastest,
 * with 1000 clips and without any.
 */
export const svgTileWidthPx = 1000;
export const svgTileHeightPx = 500;

sharp.cache(false);

/** What a tile is drawn from: definitions, and fragments in mm in painting order, with the box each can draw in. */
export interface SvgTileSource {
  readonly defs: string;
  readonly fragments: readonly {
    readonly markup: string;
    readonly boxMm: readonly [number, number, number, number] | null;
  }[];
}

/**
 * One tile as RGB bytes, row by row. The view is in whole pixels and the scale to mm inside it, so that tiles
 * join without a seam; `crispEdges` colours a pixel by its centre. Fragments whose box misses the tile are left out.
 */
export async function renderSvgTile(
  source: SvgTileSource,
  grid: PixelGrid,
  left: number,
  top: number,
  widthPx: number,
  heightPx: number,
): Promise<Uint8Array> {
  const markup = tileFragments(source, grid, left, top, widthPx, heightPx);
  if (markup.length === 0) return new Uint8Array(3 * widthPx * heightPx).fill(255);
  const svg =
    `<svg xmlns="http://www.w3.org/2000/svg" xmlns:xlink="http://www.w3.org/1999/xlink" width="${widthPx}" height="${heightPx}"` +
    ` viewBox="${left} ${top} ${widthPx} ${heightPx}" shape-rendering="crispEdges" text-rendering="optimizeSpeed">` +
    `<defs>${source.defs}</defs><rect x="${left - 10}" y="${top - 10}" width="${widthPx + 20}" height="${heightPx + 20}" fill="#fff"/>` +
    `<g transform="scale(${1 / grid.pitchXMm} ${1 / grid.pitchYMm})">${markup.join('')}</g></svg>`;
  const { data } = await sharp(Buffer.from(svg), { unlimited: true, limitInputPixels: false })
    .removeAlpha()
    .raw()
    .toBuffer({ resolveWithObject: true });
  return data;
}

/** Markup of the fragments that can draw in a tile, with a pixel to spare. */
function tileFragments(
  source: SvgTileSource,
  grid: PixelGrid,
  left: number,
  top: number,
  widthPx: number,
  heightPx: number,
): string[] {
  const minX = (left - 2) * grid.pitchXMm;
  const maxX = (left + widthPx + 2) * grid.pitchXMm;
  const minY = (top - 2) * grid.pitchYMm;
  const maxY = (top + heightPx + 2) * grid.pitchYMm;
  const found: string[] = [];
  for (const { markup, boxMm } of source.fragments) {
    if (boxMm === null || (boxMm[0] <= maxX && boxMm[2] >= minX && boxMm[1] <= maxY && boxMm[3] >= minY))
      found.push(markup);
  }
  return found;
}
