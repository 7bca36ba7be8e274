import { readFileSync } from 'node:fs';
import { byteSourceOf } from '../../../src/artwork/byteSource.ts';
import type { ReadFilm } from '../../../src/artwork/film.ts';
import { drawSvg } from '../../../src/plates/svgEngine.ts';
import type { PixelGrid } from '../../../src/raster/pixelGrid.ts';
import { svgReader } from '../../../src/readers/svg/svgReader.ts';

export const filmsFolder = new URL('../../../fixtures/films/svg/', import.meta.url);

export async function readFixture(name: string): Promise<ReadFilm> {
  return readSvg(new Uint8Array(readFileSync(new URL(name, filmsFolder))), name);
}

export async function readSvg(content: string | Uint8Array, name = 'test.svg'): Promise<ReadFilm> {
  const bytes = typeof content === 'string' ? new TextEncoder().encode(content) : content;
  const [film] = await svgReader.read(byteSourceOf(name, bytes), {});
  return film;
}

export function svgText(content: string, attributes = 'width="60mm" height="40mm" viewBox="0 0 60 40"'): string {
  return `<svg xmlns="http://www.w3.org/2000/svg" xmlns:xlink="http://www.w3.org/1999/xlink" ${attributes}>${content}</svg>`;
}

export function gridFor(film: { widthMm: number; heightMm: number }, dpi: number): PixelGrid {
  const pitch = 25.4 / dpi;
  return {
    widthPx: Math.round(film.widthMm / pitch),
    heightPx: Math.round(film.heightMm / pitch),
    pitchXMm: pitch,
    pitchYMm: pitch,
  };
}

/** The tones of each key over the whole grid, 0 = clear … 255 = opaque. */
export async function drawKeys(
  film: ReadFilm,
  keys: readonly string[],
  grid: PixelGrid,
): Promise<Map<string, Uint8Array>> {
  const planes = new Map(keys.map((key) => [key, new Uint8Array(grid.widthPx * grid.heightPx)]));
  for (const pass of await film.drawing.plan(keys, grid)) {
    let expectedTop = 0;
    for await (const strip of drawSvg(pass)) {
      if (strip.top !== expectedTop) throw new Error('strips must follow each other without gaps');
      expectedTop += strip.rows;
      strip.channels.forEach((channel, index) => {
        if (channel.kind !== 'tones') throw new Error('strips must be tones');
        planes.get(pass.keys[index])!.set(channel.tones, strip.top * grid.widthPx);
      });
    }
    if (expectedTop !== grid.heightPx) throw new Error('strips must reach the bottom');
  }
  return planes;
}

export function areaMm2(plane: Uint8Array, grid: PixelGrid): number {
  let sum = 0;
  for (const tone of plane) sum += tone;
  return (sum / 255) * grid.pitchXMm * grid.pitchYMm;
}

export function greyPixels(plane: Uint8Array): number {
  let count = 0;
  for (const tone of plane) if (tone !== 0 && tone !== 255) count++;
  return count;
}
