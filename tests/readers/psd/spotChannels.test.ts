import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { extraChannels } from '../../../src/readers/psd/psdChannels.ts';
import { readPsdFile } from '../../../src/readers/psd/psdFile.ts';
import { differingPixels, drawFilm, films, readFilmFile } from '../bitmap/drawnFilm.ts';
import { readNetpbm } from '../bitmap/netpbm.ts';

describe('spot channels of a layered file', () => {
  it('finds the spot inks another program wrote, with their names', async () => {
    const [film] = await readFilmFile(`${films}inks/spots.psd`);
    expect(film.format).toBe('psd');
    expect(film.inks.map((ink) => [ink.name, ink.kind, ink.used])).toEqual([
      ['Cyan', 'process', false],
      ['Magenta', 'process', false],
      ['Yellow', 'process', false],
      ['Black', 'process', true],
      ['Coral', 'spot', true],
      ['Lagoon', 'spot', true],
    ]);
    expect(film.widthMm).toBeCloseTo(25.4, 6);
    const { tones } = await drawFilm(film);
    for (const ink of ['Black', 'Coral', 'Lagoon']) {
      const { key } = film.inks.find(({ name }) => name === ink)!;
      // The separating program's own plate of this ink, black where it prints; it rounds tints by itself.
      const plate = readNetpbm(`${films}expected/spot-${ink}.pgm`).tones;
      expect(differingPixels(tones.get(key)!, plate, 1), ink).toBe(0);
    }
  });

  it('tells spot inks from selections by the display record, old form and new', () => {
    const file = readPsdFile(readFileSync(`${films}inks/spots.psd`));
    const record = (kind: number) => [0, 0, 0, 0, 0, 0, 0, 0, 0, 0, 0, 100, kind];
    const names = Uint8Array.from([5, ...Buffer.from('Coral'), 4, ...Buffer.from('Mask')]);
    const now = new Map([
      [1006, names],
      [1077, Uint8Array.from([0, 0, 0, 1, ...record(2), ...record(0)])],
    ]);
    const before = new Map([
      [1006, names],
      [1007, Uint8Array.from([...record(2), 0, ...record(0), 0])],
    ]);
    const expected = [
      { name: 'Coral', role: 'spot' },
      { name: 'Mask', role: 'alpha' },
    ];
    expect(extraChannels(now, 2)).toEqual(expected);
    expect(extraChannels(before, 2)).toEqual(expected);
    expect(extraChannels(new Map([[1006, names]]), 2).map(({ role }) => role)).toEqual(['unknown', 'unknown']);
    expect(file.layout.channelCount).toBe(6);
  });
});
