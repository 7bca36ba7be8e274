import { describe, expect, it } from 'vitest';
import type { ReadFilm } from '../../src/artwork/film.ts';
import type { FilmInk } from '../../src/artwork/ink.ts';
import { type JoinNaming, joinFilms } from '../../src/artwork/joinFilms.ts';

const naming: JoinNaming = { jobName: 'choir', screens: [], printWhite: 'unknown' };

function ink(name: string, more: Partial<FilmInk> = {}): FilmInk {
  return { key: name.toLowerCase(), name, kind: 'spot', displayHex: '#336699', used: true, ...more };
}

function film(file: string, more: Partial<ReadFilm> = {}): ReadFilm {
  return {
    file,
    page: 1,
    pageCount: 1,
    format: 'tiff',
    form: 'separation',
    separationName: null,
    widthMm: 100,
    heightMm: 120,
    scaleKnown: true,
    inks: [ink('Unnamed', { key: 'film', kind: 'flat', displayHex: '#000000' })],
    objects: [],
    notes: [],
    drawing: { nativeGrid: null, plan: async () => [] },
    nature: 'bitmap',
    ...more,
  };
}

function composite(file: string, inks: FilmInk[], more: Partial<ReadFilm> = {}): ReadFilm {
  return film(file, { form: 'composite', inks, ...more });
}

const namesOf = (films: ReadFilm[], with_: Partial<JoinNaming> = {}) =>
  joinFilms(films, { ...naming, ...with_ }).inks.map(({ name, nameFrom }) => `${name} (${nameFrom})`);
const openCodes = (films: ReadFilm[], with_: Partial<JoinNaming> = {}) =>
  joinFilms(films, { ...naming, ...with_ })
    .joinNotes.filter((note) => note.open)
    .map((note) => note.code);

describe('joining films that are separated already', () => {
  it.each([
    [
      ['choir_01_coral.tif', 'choir_02_lagoon.tif'],
      ['coral', 'lagoon'],
    ],
    [
      ['choir(Coral).tif', 'choir(Lagoon).tif'],
      ['Coral', 'Lagoon'],
    ],
    [
      ['Coral front final.tif', 'White base front final.tif'],
      ['Coral', 'White base'],
    ],
    [
      ['job-1.tif', 'job-2.tif'],
      ['1', '2'],
    ],
    [
      ['coral.tif', 'lagoon.png'],
      ['coral', 'lagoon'],
    ],
    [['choir_coral.tif'], ['coral']],
    [['coral.tif'], ['coral']],
  ])('names %j by the part that differs', (files, names) => {
    expect(namesOf(files.map((file) => film(file)))).toEqual(names.map((name) => `${name} (fileName)`));
  });

  it('prefers the ticket by file, then what the file says, then the file name', () => {
    const films = [
      film('a1.tif', { separationName: 'Night' }),
      film('a2.tif', { separationName: 'Coral' }),
      film('a3.tif'),
    ];
    const screens = [{ inkName: 'Lagoon', file: 'A1.tif' }];
    expect(namesOf(films, { screens })).toEqual(['Lagoon (ticket)', 'Coral (file)', 'a3 (fileName)']);
    expect(namesOf(films, { screens: [{ inkName: 'Lagoon', file: 'a1' }] })[0]).toBe('Lagoon (ticket)');
  });

  it('takes the spelling of the ticket for a name that is the same', () => {
    const screens = [{ inkName: 'White Base' }];
    const films = [film('x_white-base.tif'), film('x_coral.tif')];
    expect(namesOf([film('p.tif', { separationName: 'white  base' })], { screens })).toEqual(['White Base (file)']);
    expect(namesOf(films, { screens })).toEqual(['White Base (fileName)', 'coral (fileName)']);
  });

  it('never names films by their order', () => {
    const screens = [{ inkName: 'Lagoon' }, { inkName: 'Coral' }];
    const pages = [1, 2].map((page) => film('set.tif', { page, pageCount: 2 }));
    expect(namesOf(pages, { screens })).toEqual(['Film 1 (fileName)', 'Film 2 (fileName)']);
    expect(openCodes(pages, { screens })).toEqual(['film-unnamed', 'film-unnamed']);
  });

  it('finds a page of a file the ticket names, and asks when it names the file alone', () => {
    const pages = [1, 2].map((page) => film('set.tif', { page, pageCount: 2 }));
    const screens = [
      { inkName: 'Lagoon', file: 'set.tif#2' },
      { inkName: 'Coral', file: 'set.tif#1' },
    ];
    expect(namesOf(pages, { screens })).toEqual(['Coral (ticket)', 'Lagoon (ticket)']);
    expect(openCodes(pages, { screens })).toEqual([]);
    expect(openCodes(pages, { screens: [{ inkName: 'Lagoon', file: 'set.tif' }] })).toContain(
      'ticket-file-fits-several',
    );
  });

  it('asks when two films have one name, and keeps both plates', () => {
    const films = [film('a.tif', { separationName: 'Coral' }), film('b.tif', { separationName: 'coral ' })];
    const artwork = joinFilms(films, naming);
    expect(artwork.inks).toHaveLength(1);
    expect(artwork.plateSources.map(({ inkId, filmId }) => [inkId, filmId])).toEqual([
      ['i1', 'f1'],
      ['i1', 'f2'],
    ]);
    expect(openCodes(films)).toEqual(['films-share-name']);
  });

  it('asks when sizes differ by more than half a millimetre', () => {
    expect(openCodes([film('a.tif'), film('b.tif', { widthMm: 100.4 })])).toEqual([]);
    expect(openCodes([film('a.tif'), film('b.tif', { widthMm: 100.6 })])).toEqual(['films-differ-in-size']);
  });

  it('keeps the plate of a film nothing is on', () => {
    const empty = film('x_coral.tif', { inks: [ink('Unnamed', { used: false })] });
    expect(joinFilms([empty, film('x_night.tif')], naming).plateSources).toHaveLength(2);
  });
});

describe('joining composites', () => {
  it('makes a plate of each ink used and none of the registration colour', () => {
    const inks = [ink('Coral'), ink('Lagoon', { used: false }), ink('All', { kind: 'registration' })];
    const artwork = joinFilms([composite('tee.pdf', inks)], naming);
    expect(artwork.inks.map(({ name, printed }) => [name, printed])).toEqual([
      ['Coral', true],
      ['Lagoon', false],
      ['All', false],
    ]);
    expect(artwork.plateSources).toEqual([{ id: 'p1', inkId: 'i1', filmId: 'f1', inkKey: 'coral' }]);
    expect(artwork.joinNotes).toEqual([]);
  });

  it('keeps one ink for the same name on several films', () => {
    const pages = [1, 2].map((page) => composite('tee.pdf', [ink('Coral')], { page, pageCount: 2 }));
    const artwork = joinFilms(pages, naming);
    expect(artwork.inks).toHaveLength(1);
    expect(artwork.plateSources).toHaveLength(2);
    expect(artwork.joinNotes.map(({ code, open }) => [code, open])).toEqual([
      ['several-composites', false],
      ['ink-on-several-films', false],
    ]);
  });

  it('asks when composites and separations come together', () => {
    expect(openCodes([composite('tee.pdf', [ink('Coral')]), film('tee_night.tif')])).toEqual([
      'composite-with-separations',
    ]);
  });

  it('prints white areas of a picture only when told to', () => {
    const white = ink('White', { key: 'white', kind: 'flat', displayHex: '#ffffff' });
    const art = composite('art.png', [white, ink('#ef6a57', { kind: 'flat' })], { nature: 'splitBitmap' });
    const plates = (printWhite: JoinNaming['printWhite']) =>
      joinFilms([art], { ...naming, printWhite }).plateSources.map(({ inkKey }) => inkKey);
    expect(plates('yes')).toEqual(['white', '#ef6a57']);
    expect(plates('no')).toEqual(['#ef6a57']);
    expect(plates('unknown')).toEqual(['#ef6a57']);
    expect(openCodes([art])).toEqual(['white-undecided']);
    expect(openCodes([art], { printWhite: 'no' })).toEqual([]);
    expect(joinFilms([art], naming).inks.map(({ name }) => name)).toEqual(['#ef6a57']);
    const printed = joinFilms([art], { ...naming, printWhite: 'yes' });
    expect(printed.inks.map(({ name, nameFrom }) => [name, nameFrom])).toEqual([
      ['White', 'colour'],
      ['#ef6a57', 'colour'],
    ]);
  });

  it('takes bare white of a drawing for the garment too', () => {
    const white = ink('white', { key: 'white', kind: 'flat', displayHex: '#ffffff' });
    const art = composite('art.svg', [white, ink('#ef6a57', { kind: 'flat' })], { nature: 'vector' });
    expect(joinFilms([art], { ...naming, printWhite: 'no' }).plateSources.map(({ inkKey }) => inkKey)).toEqual([
      '#ef6a57',
    ]);
    expect(joinFilms([art], { ...naming, printWhite: 'yes' }).plateSources).toHaveLength(2);
  });

  it('asks about a job that has nothing to film', () => {
    expect(openCodes([composite('empty.pdf', [])])).toEqual(['nothing-to-film']);
    expect(openCodes([composite('unused.pdf', [ink('Coral', { used: false })])])).toEqual(['nothing-to-film']);
  });

  it('prints a spot ink called white whatever is said of pictures', () => {
    expect(joinFilms([composite('tee.pdf', [ink('White')])], naming).plateSources).toHaveLength(1);
  });
});

describe('display colours of separations', () => {
  const hexes = (files: string[]) =>
    joinFilms(
      files.map((file) => film(file)),
      naming,
    ).inks.map((ink) => ink.displayHex);

  it('come from colour words', () => {
    expect(hexes(['x_white base.tif', 'x_navy blue.tif', 'x_Red.tif'])).toEqual(['#ffffff', '#1b2a41', '#d2232a']);
  });

  it('are distinct where names say no colour, and the same each time', () => {
    const files = ['x_drum.tif', 'x_flute.tif', 'x_reed.tif'];
    const first = hexes(files);
    expect(new Set(first).size).toBe(3);
    expect(hexes(files)).toEqual(first);
  });
});
