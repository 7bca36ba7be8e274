import { readFileSync } from 'node:fs';
import { basename } from 'node:path';
import { fileURLToPath } from 'node:url';
import { byteSourceOf } from '../../../src/artwork/byteSource.ts';
import type { ReadFilm } from '../../../src/artwork/film.ts';
import { drawBitmap } from '../../../src/plates/bitmapEngine.ts';
import { wordsPerRowFor } from '../../../src/raster/bitPlane.ts';
import { allReaders } from '../../../src/readers/allReaders.ts';
import type { ReadOptions } from '../../../src/readers/reader.ts';
import { readFilms } from '../../../src/readers/readFilms.ts';

export const films = fileURLToPath(new URL('../../../fixtures/films/bitmap/', import.meta.url));
export const broken = fileURLToPath(new URL('../../../fixtures/broken/', import.meta.url));

export function readFilmFile(path: string, options: ReadOptions = {}): Promise<readonly ReadFilm[]> {
  return readFilmBytes(basename(path), readFileSync(path), options);
}

export function readFilmBytes(
  name: string,
  bytes: Uint8Array,
  options: ReadOptions = {},
): Promise<readonly ReadFilm[]> {
  return readFilms(byteSourceOf(name, bytes), options, allReaders());
}

/** What the engine draws of each ink: tones by key, 255 = opaque, and how often each row came. */
export async function drawFilm(film: ReadFilm): Promise<{ tones: Map<string, Uint8Array>; rowsSeen: number[] }> {
  const grid = film.drawing.nativeGrid!;
  const tones = new Map<string, Uint8Array>();
  const rowsSeen = new Array<number>(grid.heightPx).fill(0);
  const keys = film.inks.map((ink) => ink.key);
  const passes = await film.drawing.plan(keys, grid);
  for (const pass of passes) {
    // Passes go to workers: they must survive being copied.
    for await (const strip of drawBitmap(structuredClone(pass))) {
      for (let row = 0; row < strip.rows; row++) rowsSeen[strip.top + row] += 1 / passes.length;
      pass.keys.forEach((key, channel) => {
        if (!tones.has(key)) tones.set(key, new Uint8Array(grid.widthPx * grid.heightPx));
        const target = tones.get(key)!;
        const start = strip.top * grid.widthPx;
        const part = strip.channels[channel];
        if (part.kind === 'tones') target.set(part.tones, start);
        else unpack(part.words, strip.rows, grid.widthPx, target, start);
      });
    }
  }
  return { tones, rowsSeen };
}

function unpack(words: Uint32Array, rows: number, widthPx: number, target: Uint8Array, start: number): void {
  const stride = wordsPerRowFor(widthPx);
  for (let row = 0; row < rows; row++) {
    for (let column = 0; column < stride * 32; column++) {
      const bit = (words[row * stride + (column >> 5)] >>> (column & 31)) & 1;
      if (column < widthPx) target[start + row * widthPx + column] = bit * 255;
      else if (bit) throw new Error(`row ${row} has a bit past its last column`);
    }
  }
}

/** How many pixels differ by more than `tolerance`. */
export function differingPixels(a: Uint8Array, b: Uint8Array, tolerance = 0): number {
  if (a.length !== b.length) return Math.max(a.length, b.length);
  let count = 0;
  for (let i = 0; i < a.length; i++) if (Math.abs(a[i] - b[i]) > tolerance) count++;
  return count;
}
