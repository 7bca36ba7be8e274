import type { DrawPass } from '../artwork/drawing.ts';
import { renderSvgTile, svgTileHeightPx, svgTileWidthPx } from '../raster/svgTile.ts';
import type { Engine } from './engine.ts';
import { type Strip, toneChannels } from './strip.ts';

/** Draws a pass of a resolved SVG: strips of tones, 0 = clear and 255 = opaque, one channel an ink. */
export const drawSvg: Engine = (pass) => stripsOf(pass);

async function* stripsOf(pass: DrawPass): AsyncGenerator<Strip> {
  const { grid, keys, job } = pass;
  if (job.engine !== 'svg') throw new Error(`A pass of the engine "${job.engine}" cannot be drawn as SVG.`);
  for (let top = 0; top < grid.heightPx; top += svgTileHeightPx) {
    const rows = Math.min(svgTileHeightPx, grid.heightPx - top);
    const channels = keys.map(() => new Uint8Array(grid.widthPx * rows));
    const drawTile = async (left: number) => {
      const width = Math.min(svgTileWidthPx, grid.widthPx - left);
      copyChannels(await renderSvgTile(job, grid, left, top, width, rows), width, rows, channels, grid.widthPx, left);
    };
    // Two tiles at a time: the renderer works on one thread a tile, and memory stays that of a row of tiles.
    for (let left = 0; left < grid.widthPx; left += 2 * svgTileWidthPx) {
      const next = left + svgTileWidthPx;
      await Promise.all([drawTile(left), ...(next < grid.widthPx ? [drawTile(next)] : [])]);
    }
    yield { top, rows, channels: toneChannels(channels) };
  }
}

/** Red, green and blue of a tile into the channels, from 0 = opaque to 255 = opaque. */
function copyChannels(
  rgb: Uint8Array,
  width: number,
  rows: number,
  channels: Uint8Array[],
  stride: number,
  left: number,
): void {
  channels.forEach((channel, index) => {
    for (let row = 0; row < rows; row++) {
      let source = 3 * row * width + index;
      let target = row * stride + left;
      for (let column = 0; column < width; column++, source += 3) channel[target++] = 255 - rgb[source];
    }
  });
}
