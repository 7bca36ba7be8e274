import { readFileSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import { expect, it } from 'vitest';
import { FaxDecoder, type FaxKind, type FaxRows } from '../../../src/raster/bitmap/decodeFax.ts';
import { wordsPerRowFor } from '../../../src/raster/bitPlane.ts';
import { FaxByKernel } from '../../../src/raster/kernels/faxByKernel.ts';
import { lendKernels } from '../../../src/raster/kernels/kernelModule.ts';
import { seededRandom } from '../../support/seededRandom.ts';
import { readTiffTags } from '../../support/tiffTags.ts';

const films = fileURLToPath(new URL('../../../fixtures/films/bitmap/one-bit/', import.meta.url));

/** Rows decoded until they are all there or something is wrong, and what. */
function decoded(fax: FaxRows, widthPx: number, rows: number): { words: string; wrong: string | null } {
  const words = new Uint32Array(wordsPerRowFor(widthPx) * rows);
  try {
    for (let row = 0; row < rows; row++) fax.decodeRows(1, words, row * wordsPerRowFor(widthPx));
    return { words: Buffer.from(words.buffer).toString('base64'), wrong: null };
  } catch (error) {
    return { words: Buffer.from(words.buffer).toString('base64'), wrong: (error as Error).message };
  }
}

const coded: readonly (readonly [string, FaxKind, boolean])[] = [
  ['g4.tif', 'group4', false],
  ['g3-1d.tif', 'group3', false],
  ['g3-1d-fill.tif', 'group3', false],
  ['g3-2d.tif', 'group3', true],
  ['runs.tif', 'plain', false],
];

it.each(coded)('%s is decoded alike by the kernel and its twin, whole and with bytes changed', (name, kind, both) => {
  const kernels = lendKernels()!;
  const file = new Uint8Array(readFileSync(films + name));
  const { widthPx, heightPx, strips } = readTiffTags(file);
  const random = seededRandom(1933);
  const upTo = (most: number) => Math.floor(random() * (most + 1));
  let refused = 0;
  for (let round = 0; round < 300; round++) {
    for (const { offset, length } of strips) {
      const bytes = file.slice(offset, offset + length);
      if (round > 0) for (let change = upTo(3); change >= 0; change--) bytes[upTo(length - 1)] = upTo(255);
      const part = round % 7 === 6 ? bytes.subarray(0, upTo(length)) : bytes;
      const plain = decoded(new FaxDecoder(part, widthPx, kind, both), widthPx, heightPx);
      expect(decoded(new FaxByKernel(kernels, part, widthPx, kind, both), widthPx, heightPx)).toEqual(plain);
      if (plain.wrong !== null) refused++;
    }
  }
  expect(refused).toBeGreaterThan(100);
});
