import { readdirSync, readFileSync } from 'node:fs';
import { dirname, join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { describe, expect, it } from 'vitest';
import { byteSourceOf } from '../../src/artwork/byteSource.ts';
import { pdfReader } from '../../src/readers/pdf/pdfReader.ts';
import { averaged, drawFilm, gridAt, ownPixels } from '../support/drawFilm.ts';
import { hasOracle } from '../support/oraclePrograms.ts';
import { coveragePercent, differingPixels, tiffsepPlates } from '../support/tiffsep.ts';
import { knownDifferences } from './pdfPlates.knownDifferences.ts';

/**
 * Each film of fixtures/films/pdf against the plates Ghostscript's tiffsep makes of it (drawn at 2400 dpi, four times
 * the coarsest pitch that plates are measured at, and averaged to 300; ours are drawn at 1200 and averaged). Same ink names; inked area within 0.15 points of the page and 2 % of itself; no pixel that differs by more
 * than an edge one pixel off. What is allowed to differ is listed with its reason.
 */
const folder = join(dirname(dirname(dirname(fileURLToPath(import.meta.url)))), 'fixtures/films/pdf');
const files = readdirSync(folder)
  .filter((name) => name.endsWith('.pdf'))
  .sort();
const password = 'dorffest';
const dpi = 300;
const finer = 4;
const pointsOfPage = 0.15;
const shareOfItself = 0.02;

describe('PDF plates against tiffsep', () => {
  it('has at least 40 films by at least 5 programs', () => {
    expect(files.length).toBeGreaterThanOrEqual(40);
    expect(new Set(files.map((name) => name.split('-')[0])).size).toBeGreaterThanOrEqual(5);
  });

  it('lists no known difference for a film that is not there', () => {
    expect(Object.keys(knownDifferences).filter((name) => !files.includes(name))).toEqual([]);
  });

  for (const name of files) {
    it(name, async () => {
      if (!hasOracle('gs')) return;
      const known = knownDifferences[name] ?? {};
      const theirs = await tiffsepPlates(join(folder, name), dpi, name.endsWith('-user.pdf') ? password : undefined);
      const [film] = await pdfReader.read(byteSourceOf(name, new Uint8Array(readFileSync(join(folder, name)))), {
        password,
      });
      const inks = film.inks.filter((ink) => ink.used && ink.kind !== 'registration');
      // The registration colour prints on every plate: Ghostscript then has process plates that hold nothing else.
      const registers = film.inks.some((ink) => ink.used && ink.kind === 'registration');
      const expected = [...theirs.keys()].filter((ink) => !registers || inks.some(({ name }) => name === ink));
      expect(inks.map((ink) => ink.name).sort()).toEqual([...expected, ...(known.blankInks ?? [])].sort());
      const plates = await drawFilm(
        film,
        inks.map(({ key }) => key),
        gridAt(film, dpi * finer),
      );
      for (const ink of inks) {
        if (known.blankInks?.includes(ink.name)) {
          expect(plates.get(ink.key)!.toneHistogram[0]).toBe(
            plates.get(ink.key)!.bits.widthPx * plates.get(ink.key)!.bits.heightPx,
          );
          continue;
        }
        const their = theirs.get(ink.name)!;
        const native = film.drawing.nativeGrid !== null;
        const our = native
          ? ownPixels(plates.get(ink.key)!)
          : averaged(plates.get(ink.key)!, finer, their.widthPx, their.heightPx);
        const ours = coveragePercent(our);
        const their100 = coveragePercent(their);
        const apart = Math.abs(ours - their100);
        expect(
          apart,
          `${ink.name}: inked area ${ours.toFixed(3)} % against ${their100.toFixed(3)} %`,
        ).toBeLessThanOrEqual(known.areaPoints ?? pointsOfPage);
        expect(
          apart / their100,
          `${ink.name}: inked area ${ours.toFixed(3)} % against ${their100.toFixed(3)} %`,
        ).toBeLessThanOrEqual(known.areaShare ?? shareOfItself);
        // A 1-bit film keeps its own pixels, which are not the comparison's; its area is compared, its bits elsewhere.
        if (!native)
          expect(differingPixels(our, their), `${ink.name}: differing pixels`).toBeLessThanOrEqual(known.pixels ?? 0);
      }
    });
  }

  it.each(['pdflib-devicen-overprint-on.pdf', 'pdflib-overprint-tint.pdf', 'pdflib-trap-stroke-overprint.pdf'])(
    'would catch overprint that is ignored in %s',
    async (name) => {
      if (!hasOracle('gs')) return;
      const theirs = await tiffsepPlates(join(folder, name), dpi);
      const text = readFileSync(join(folder, name)).toString('latin1');
      const ignored = Buffer.from(text.replace(/\/OP true/g, '/Ox true').replace(/\/op true/g, '/ox true'), 'latin1');
      const [film] = await pdfReader.read(byteSourceOf(name, new Uint8Array(ignored)), {});
      const inks = film.inks.filter(({ used }) => used);
      const plates = await drawFilm(
        film,
        inks.map(({ key }) => key),
        gridAt(film, dpi * finer),
      );
      const differing = inks.map((ink) => {
        const their = theirs.get(ink.name)!;
        return differingPixels(averaged(plates.get(ink.key)!, finer, their.widthPx, their.heightPx), their);
      });
      expect(Math.max(...differing)).toBeGreaterThan(1000);
    },
  );
});
