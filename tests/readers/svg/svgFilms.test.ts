import { readdirSync } from 'node:fs';
import { describe, expect, test } from 'vitest';
import { expectedFilms } from './svgFilms.table.ts';
import { areaMm2, drawKeys, filmsFolder, greyPixels, gridFor, readFixture } from './svgSupport.ts';

const ownTests = new Set(['text-live.svg']);

test('every film of the folder has its expected values', () => {
  const files = readdirSync(filmsFolder).filter((name) => !ownTests.has(name));
  expect(files.sort()).toEqual(Object.keys(expectedFilms).sort());
});

describe.each(Object.entries(expectedFilms))('%s', (name, expected) => {
  test('gives the size, inks, areas, hidden objects and notes that follow from its lengths', async () => {
    const film = await readFixture(name);
    const [widthMm, heightMm] = expected.sizeMm ?? [60, 40];
    expect(film.widthMm).toBeCloseTo(widthMm, 6);
    expect(film.heightMm).toBeCloseTo(heightMm, 6);
    expect(film.scaleKnown).toBe(expected.scaleKnown ?? true);

    const used = film.inks.filter((ink) => ink.used);
    const keys = used.map((ink) => ink.key);
    const wanted = [...Object.keys(expected.inks), ...(expected.whiteMm2 === undefined ? [] : ['white'])];
    expect([...keys].sort()).toEqual(wanted.sort());
    for (const ink of film.inks) {
      const [inkName, kind] = expected.named?.[ink.key] ?? [ink.key, 'flat'];
      expect([ink.key, ink.name, ink.kind]).toEqual([ink.key, inkName, kind]);
    }

    const hidden = Object.fromEntries(
      film.objects.filter((one) => one.hidden !== null).map((one) => [one.id, one.hidden]),
    );
    expect(hidden).toEqual(expected.hidden ?? {});
    for (const [id, [min, max]] of Object.entries(expected.strokesMm ?? {})) {
      const width = film.objects.find((one) => one.id === id)?.strokeWidthMm;
      expect(width?.min).toBeCloseTo(min, 9);
      expect(width?.max).toBeCloseTo(max, 9);
    }
    for (const [id, box] of Object.entries(expected.boxesMm ?? {})) {
      const found = film.objects.find((one) => one.id === id)?.boxMm;
      [found?.xMm, found?.yMm, found?.widthMm, found?.heightMm].forEach((value, index) => {
        expect(value).toBeCloseTo(box[index], 6);
      });
    }
    const notes = film.notes.map(({ code, affects, inkKeys }) =>
      inkKeys === undefined ? [code, affects] : [code, affects, [...inkKeys].sort()],
    );
    expect(notes).toEqual((expected.notes ?? []).map((note) => [...note]));

    const grid = gridFor(film, 720);
    const planes = await drawKeys(film, keys, grid);
    for (const [key, plane] of planes) {
      const area = key === 'white' ? expected.whiteMm2! : expected.inks[key];
      const tolerance = expected.toleranceMm2 ?? 0.08 * Math.sqrt(area) + 0.05;
      expect(
        Math.abs(areaMm2(plane, grid) - area),
        `${key}: ${areaMm2(plane, grid)} mm² instead of ${area}`,
      ).toBeLessThanOrEqual(tolerance);
      if (expected.toned?.includes(key) === true) expect(greyPixels(plane)).toBeGreaterThan(0);
      else expect(greyPixels(plane), `grey pixels of ${key}`).toBe(0);
    }
  });
});
