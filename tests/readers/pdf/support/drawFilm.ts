import { byteSourceOf } from '../../../../src/artwork/byteSource.ts';
import type { ReadFilm } from '../../../../src/artwork/film.ts';
import { drawPdf } from '../../../../src/plates/pdfEngine.ts';
import type { PixelGrid } from '../../../../src/raster/pixelGrid.ts';
import { pdfReader } from '../../../../src/readers/pdf/pdfReader.ts';

export async function readFilms(bytes: Uint8Array, password?: string): Promise<readonly ReadFilm[]> {
  return pdfReader.read(byteSourceOf('film.pdf', bytes), password === undefined ? {} : { password });
}

export async function readFilm(bytes: Uint8Array): Promise<ReadFilm> {
  return (await readFilms(bytes))[0];
}

/** The grid of a film at a resolution; at 72 dpi a pixel is a PDF unit. */
export function gridOf(film: ReadFilm, dpi: number): PixelGrid {
  if (film.drawing.nativeGrid) return film.drawing.nativeGrid;
  const pitch = 25.4 / dpi;
  return {
    widthPx: Math.round(film.widthMm / pitch),
    heightPx: Math.round(film.heightMm / pitch),
    pitchXMm: pitch,
    pitchYMm: pitch,
  };
}

export interface Drawn {
  readonly grid: PixelGrid;
  readonly passes: number;
  /** Tones by key, 0 clear … 255 opaque. */
  readonly tones: ReadonlyMap<string, Uint8Array>;
  at(key: string, column: number, row: number): number;
  /** Sum of tones as a number of opaque pixels. */
  area(key: string): number;
}

export async function drawFilm(film: ReadFilm, keys: readonly string[], dpi: number): Promise<Drawn> {
  const grid = gridOf(film, dpi);
  const passes = await film.drawing.plan(keys, grid);
  const tones = new Map<string, Uint8Array>();
  for (const key of keys) tones.set(key, new Uint8Array(grid.widthPx * grid.heightPx));
  for (const pass of passes) {
    for await (const strip of drawPdf(pass)) {
      for (const [index, key] of pass.keys.entries()) {
        const part = strip.channels[index];
        const out = tones.get(key)!;
        if (part.kind === 'tones')
          copyRows(part.tones, part.stridePx ?? grid.widthPx, strip.rows, out, strip.top, grid.widthPx);
        else unpackRows(part.words, strip.rows, out, strip.top, grid.widthPx);
      }
    }
  }
  return {
    grid,
    passes: passes.length,
    tones,
    at: (key, column, row) => tones.get(key)![row * grid.widthPx + column],
    area: (key) => tones.get(key)!.reduce((sum, tone) => sum + tone, 0) / 255,
  };
}

function unpackRows(words: Uint32Array, rows: number, out: Uint8Array, top: number, widthPx: number): void {
  const wordsPerRow = words.length / rows;
  for (let row = 0; row < rows; row++) {
    for (let column = 0; column < widthPx; column++) {
      const bit = (words[row * wordsPerRow + (column >> 5)] >>> (column & 31)) & 1;
      out[(top + row) * widthPx + column] = bit * 255;
    }
  }
}

function copyRows(
  from: Uint8Array,
  stridePx: number,
  rows: number,
  to: Uint8Array,
  top: number,
  widthPx: number,
): void {
  for (let row = 0; row < rows; row++) {
    to.set(from.subarray(row * stridePx, row * stridePx + widthPx), (top + row) * widthPx);
  }
}
