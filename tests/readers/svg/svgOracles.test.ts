import { mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { gunzipSync } from 'node:zlib';
import sharp from 'sharp';
import { afterAll, describe, expect, test } from 'vitest';
import type { ReadFilm } from '../../../src/artwork/film.ts';
import { hasOracle, runOracle } from '../../support/oraclePrograms.ts';
import { expectedFilms } from './svgFilms.table.ts';
import { drawKeys, filmsFolder, readFixture } from './svgSupport.ts';

/** Films the programs are known not to draw as the standards say, or on which a composite says nothing, and why. */
const leftOut: Readonly<Record<string, string>> = {
  'custom-properties.svg': 'neither program replaces var()',
  'blend-other.svg': 'drawn without its effect, with a note',
  'filter-blur.svg': 'drawn without its effect, with a note',
  'foreign-content.svg': 'drawn without it, with a note',
  'image-coloured.svg': 'its picture is no ink',
  'reference-outside.svg': 'programs draw a sign for what is missing',
  'opacity-tint.svg': 'tones do not mix by multiplication',
  'gradient-fade.svg': 'tones do not mix by multiplication',
  'ink-tints.svg': 'tints do not mix by multiplication',
  'ink-names.svg': 'the registration colour prints on every plate',
  'stroke-fixed.svg': 'the programs take its pixel as one of the export',
  'switch-language.svg': 'the programs choose by the language of the machine',
  'stroke-hairline.svg': 'thinner than the grid',
};

/** Films only Inkscape 1.2 draws differently, and why. */
const leftOutOfInkscape: Readonly<Record<string, string>> = {
  'classes-and-specificity.svg': 'its selectors lack nth-child of an+b',
  'size-missing.svg': 'it takes other sizes for exports without a size',
  'size-percent.svg': 'it takes other sizes for exports without a size',
  'use-loop.svg': 'it refuses the loop',
  'nested-viewport.svg': 'it does not clip by a nested viewport',
  'clip-of-box.svg': 'it draws nothing through a clip in shares of the box',
  'hidden-display.svg': 'it hides what is visible within a hidden group',
  'image-black-white.svg': 'it reads href only with its prefix',
  'use-and-symbol.svg': 'it reads href only with its prefix',
  'colour-notations.svg': 'it does not read colours without commas',
};

const widthPx = 600;
const folder = mkdtempSync(join(tmpdir(), 'plateglass-svg-'));
afterAll(() => rmSync(folder, { recursive: true, force: true }));

const names = Object.keys(expectedFilms).filter((name) => !(name in leftOut));

/** The plates on white paper, inks over each other by multiplication, RGB. */
async function composite(film: ReadFilm, width: number, height: number): Promise<Uint8Array> {
  const inks = film.inks.filter((ink) => ink.used && ink.key !== 'white');
  const grid = { widthPx: width, heightPx: height, pitchXMm: film.widthMm / width, pitchYMm: film.heightMm / height };
  const planes = await drawKeys(
    film,
    inks.map((ink) => ink.key),
    grid,
  );
  const picture = new Float64Array(3 * width * height).fill(255);
  for (const ink of inks) {
    const plane = planes.get(ink.key)!;
    const rgb = [1, 3, 5].map((start) => Number.parseInt(ink.displayHex.slice(start, start + 2), 16) / 255);
    plane.forEach((tone, index) => {
      if (tone < 128) return;
      rgb.forEach((share, channel) => {
        picture[3 * index + channel] *= share;
      });
    });
  }
  return Uint8Array.from(picture, Math.round);
}

async function expectSamePicture(film: ReadFilm, png: Buffer): Promise<void> {
  const { data, info } = await sharp(png)
    .flatten({ background: '#ffffff' })
    .removeAlpha()
    .toColourspace('srgb')
    .raw()
    .toBuffer({ resolveWithObject: true });
  const ours = await composite(film, info.width, info.height);
  let far = 0;
  let sum = 0;
  for (let index = 0; index < ours.length; index++) {
    const difference = Math.abs(ours[index] - data[index]);
    sum += difference;
    if (difference > 170) far++;
  }
  // The program's edges are smoothed and ours are not: up to half a tone along every edge, never a whole one inside.
  expect(sum / ours.length, 'mean difference in levels').toBeLessThan(1.5);
  expect(far / ours.length, 'share of samples that are wholly different').toBeLessThan(0.0004);
}

describe('rsvg-convert draws the same picture', () => {
  test.each(names)('%s', async (name) => {
    if (!hasOracle('rsvg-convert')) return;
    const target = join(folder, 'rsvg.png');
    const path = fileURLToPath(new URL(name, filmsFolder));
    runOracle('rsvg-convert', ['-w', String(widthPx), '-o', target, path]);
    await expectSamePicture(await readFixture(name), readFileSync(target));
  });
});

test('Inkscape draws the same pictures', async () => {
  if (!hasOracle('inkscape')) return;
  const used = names.filter((name) => !(name in leftOutOfInkscape));
  for (const name of used) {
    const bytes = readFileSync(new URL(name, filmsFolder));
    writeFileSync(join(folder, name.replace(/\.svgz?$/, '.svg')), name.endsWith('z') ? gunzipSync(bytes) : bytes);
  }
  const inputs = used.map((name) => name.replace(/\.svgz?$/, '.svg'));
  runOracle('inkscape', ['--export-type=png', '--export-area-page', `--export-width=${widthPx}`, ...inputs], folder);
  const different: string[] = [];
  for (const name of used) {
    const png = readFileSync(join(folder, name.replace(/\.svgz?$/, '.png')));
    await expectSamePicture(await readFixture(name), png).catch((error: Error) => {
      different.push(`${name}: ${error.message.split('\n')[0]}`);
    });
  }
  expect(different).toEqual([]);
});
