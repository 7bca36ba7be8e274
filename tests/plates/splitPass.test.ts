import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { describe, expect, it } from 'vitest';
import { byteSourceOf } from '../../src/artwork/byteSource.ts';
import { drawPass } from '../../src/plates/drawPass.ts';
import { joinDrawnPlates, splitPass } from '../../src/plates/splitPass.ts';
import { toneAt } from '../../src/raster/tonePlane.ts';
import { pdfReader } from '../../src/readers/pdf/pdfReader.ts';
import { gridAt } from '../support/drawFilm.ts';

const films = fileURLToPath(new URL('../../fixtures/films/pdf/', import.meta.url));

describe('a pass drawn in pieces', () => {
  for (const name of [
    'pdflib-shading-radial.pdf',
    'pdflib-cmyk-grey-mix.pdf',
    'pdflib-opacity.pdf',
    'reportlab-strokes.pdf',
  ]) {
    it(`gives the plates of ${name} pixel for pixel`, async () => {
      const [film] = await pdfReader.read(byteSourceOf(name, new Uint8Array(readFileSync(join(films, name)))), {});
      const grid = gridAt(film, 900);
      const keys = film.inks.filter(({ used, kind }) => used && kind !== 'registration').map(({ key }) => key);
      for (const pass of await film.drawing.plan(keys, grid)) {
        const whole = await drawPass(pass);
        const pieces = await Promise.all(splitPass(pass, 3).map(drawPass));
        expect(pieces.length).toBeGreaterThan(1);
        for (const [channel, plate] of whole.entries()) {
          const joined = joinDrawnPlates(
            pieces.map((piece) => piece[channel]),
            grid,
          );
          expect(Buffer.from(joined.bits.words.buffer).equals(Buffer.from(plate.bits.words.buffer))).toBe(true);
          expect(joined.toneHistogram).toEqual(plate.toneHistogram);
          expect(joined.tone === null).toBe(plate.tone === null);
          if (plate.tone === null || joined.tone === null) continue;
          for (let row = 0; row < grid.heightPx; row += 7) {
            for (let column = 0; column < grid.widthPx; column += 5) {
              if (toneAt(joined.tone, column, row) !== toneAt(plate.tone, column, row))
                throw new Error(`${column}, ${row}`);
            }
          }
        }
      }
    });
  }
});
