import { type BoxMm, intersectionOfBoxes } from '../../geometry/box.ts';
import type { PixelGrid } from '../../raster/pixelGrid.ts';
import { renderSvgTile } from '../../raster/svgTile.ts';
import { pitchMmFromDpi } from '../../units/lengths.ts';
import type { Item, Leaf } from './displayList.ts';
import { emitItems } from './emit.ts';

/** Pixel counts and drawn boxes of the leaves in a rendering where each has a colour of its own. */
export interface IdCounts {
  readonly pixels: Uint32Array;
  readonly boxes: Map<number, BoxMm>;
}

export interface IdRequest {
  readonly items: readonly Item[];
  readonly leafCount: number;
  readonly dpi: number;
  /** Part of film space to look at; the grid starts at its corner. */
  readonly area: BoxMm;
  readonly includes: (leaf: Leaf) => boolean;
  readonly ignoresClips?: boolean;
  /** Only tiles that meet one of these; absent: all. */
  readonly near?: readonly (BoxMm | null)[];
  /** Sees the leaf index of each pixel of a tile, -1 for paper. */
  readonly onTile?: (tile: number, ids: Int32Array) => void;
}

/** Side of a tile: small, for each clip costs surfaces of its size, and what a close look is for lies far between. */
export const idTilePx = 400;

/** Draws the leaves in their id colours, crisp and without tones, and counts the pixels of each. */
export async function countIds(request: IdRequest): Promise<IdCounts> {
  const { area, dpi } = request;
  const pitch = pitchMmFromDpi(dpi);
  const grid: PixelGrid = {
    widthPx: Math.max(1, Math.round(area.widthMm / pitch)),
    heightPx: Math.max(1, Math.round(area.heightMm / pitch)),
    pitchXMm: pitch,
    pitchYMm: pitch,
  };
  const originColumn = Math.round(area.xMm / pitch);
  const originRow = Math.round(area.yMm / pitch);
  const job = await emitItems(request.items, {
    flat: true,
    ignoresClips: request.ignoresClips,
    includes: request.includes,
    colourOf: (leaf) => `#${(leaf.index * 16 + 8).toString(16).padStart(6, '0')}`,
  });
  const pixels = new Uint32Array(request.leafCount);
  const edges = new Map<number, [number, number, number, number]>();
  let tile = 0;
  for (let top = 0; top < grid.heightPx; top += idTilePx) {
    for (let left = 0; left < grid.widthPx; left += idTilePx, tile++) {
      const width = Math.min(idTilePx, grid.widthPx - left);
      const height = Math.min(idTilePx, grid.heightPx - top);
      const column = originColumn + left;
      const row = originRow + top;
      if (request.near !== undefined) {
        const box = { xMm: column * pitch, yMm: row * pitch, widthMm: width * pitch, heightMm: height * pitch };
        if (!request.near.some((one) => one === null || intersectionOfBoxes(one, box) !== null)) continue;
      }
      const rgb = await renderSvgTile(job, grid, column, row, width, height);
      const ids = request.onTile === undefined ? null : new Int32Array(width * height);
      countTile(rgb, width, column, row, pixels, edges, ids);
      request.onTile?.(tile, ids!);
    }
  }
  const boxes = new Map<number, BoxMm>();
  for (const [id, [left, top, right, bottom]] of edges) {
    boxes.set(id, {
      xMm: left * pitch,
      yMm: top * pitch,
      widthMm: (right - left + 1) * pitch,
      heightMm: (bottom - top + 1) * pitch,
    });
  }
  return { pixels, boxes };
}

/** Counts a tile by runs of one colour along its rows. */
function countTile(
  rgb: Uint8Array,
  width: number,
  column: number,
  row: number,
  pixels: Uint32Array,
  edges: Map<number, [number, number, number, number]>,
  ids: Int32Array | null,
): void {
  const rows = rgb.length / 3 / width;
  for (let y = 0; y < rows; y++) {
    let offset = 3 * y * width;
    for (let x = 0; x < width; ) {
      const red = rgb[offset];
      const green = rgb[offset + 1];
      const blue = rgb[offset + 2];
      let end = x + 1;
      offset += 3;
      while (end < width && rgb[offset] === red && rgb[offset + 1] === green && rgb[offset + 2] === blue) {
        end++;
        offset += 3;
      }
      const value = (red << 16) | (green << 8) | blue;
      const id = value >> 4;
      if ((value & 15) === 8 && id < pixels.length) {
        ids?.fill(id, y * width + x, y * width + end);
        pixels[id] += end - x;
        const box = edges.get(id);
        if (box === undefined) edges.set(id, [column + x, row + y, column + end - 1, row + y]);
        else {
          if (column + x < box[0]) box[0] = column + x;
          if (column + end - 1 > box[2]) box[2] = column + end - 1;
          if (row + y > box[3]) box[3] = row + y;
        }
      } else ids?.fill(-1, y * width + x, y * width + end);
      x = end;
    }
  }
}
