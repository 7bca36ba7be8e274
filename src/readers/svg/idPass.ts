import { type BoxMm, intersectionOfBoxes } from '../../geometry/box.ts';
import { renderSvgTile, svgTileHeightPx, svgTileWidthPx } from '../../plates/svgTile.ts';
import type { PixelGrid } from '../../raster/pixelGrid.ts';
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
  for (let top = 0; top < grid.heightPx; top += svgTileHeightPx) {
    for (let left = 0; left < grid.widthPx; left += svgTileWidthPx, tile++) {
      const width = Math.min(svgTileWidthPx, grid.widthPx - left);
      const height = Math.min(svgTileHeightPx, grid.heightPx - top);
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

function countTile(
  rgb: Uint8Array,
  width: number,
  column: number,
  row: number,
  pixels: Uint32Array,
  edges: Map<number, [number, number, number, number]>,
  ids: Int32Array | null,
): void {
  const count = rgb.length / 3;
  let x = 0;
  let y = 0;
  let runId = -1;
  let runEdges: [number, number, number, number] | null = null;
  for (let index = 0, offset = 0; index < count; index++, offset += 3) {
    const value = (rgb[offset] << 16) | (rgb[offset + 1] << 8) | rgb[offset + 2];
    const id = (value & 15) === 8 && value >> 4 < pixels.length ? value >> 4 : -1;
    if (ids !== null) ids[index] = id;
    if (id >= 0) {
      pixels[id]++;
      if (id !== runId || runEdges === null) {
        runId = id;
        runEdges = edges.get(id) ?? null;
        if (runEdges === null) {
          runEdges = [column + x, row + y, column + x, row + y];
          edges.set(id, runEdges);
        }
      }
      if (column + x < runEdges[0]) runEdges[0] = column + x;
      if (column + x > runEdges[2]) runEdges[2] = column + x;
      if (row + y > runEdges[3]) runEdges[3] = row + y;
    }
    if (++x === width) {
      x = 0;
      y++;
    }
  }
}
