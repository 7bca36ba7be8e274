import { byteSourceOf } from '../../src/artwork/byteSource.ts';
import { archivePlate } from '../../src/plateArchive/archivePlate.ts';
import type { KeptPlate } from '../../src/plateArchive/keptPlates.ts';
import { PlateArchive } from '../../src/plateArchive/openArchive.ts';
import { allReaders } from '../../src/readers/allReaders.ts';
import { readFilms } from '../../src/readers/readFilms.ts';
import type { RevisionArt } from '../../src/revisions/artChanges.ts';
import { drawFilm, gridAt } from './drawFilm.ts';

const dpi = 480;

/** The plates of a film as a check keeps them, drawn at 480 dpi. */
export async function artOfFilm(name: string, bytes: Uint8Array): Promise<RevisionArt> {
  const [film] = await readFilms(
    byteSourceOf(name, bytes),
    {},
    allReaders(async () => {
      throw new Error('No film of this test needs converting.');
    }),
  );
  const grid = gridAt(film, dpi);
  const inks = film.inks.filter(({ used }) => used);
  const drawn = await drawFilm(
    film,
    inks.map(({ key }) => key),
    grid,
  );
  const plates: KeptPlate[] = [];
  const archives = new Map<string, PlateArchive>();
  for (const [index, { key, name: inkName, displayHex }] of inks.entries()) {
    const plateId = `p${index + 1}`;
    const of = { id: plateId, inkId: key, filmId: 'f1', grid, verified: true };
    const { facts, bytes: packed } = archivePlate({ ...drawn.get(key)!, ...of });
    plates.push({ ...facts, plateId, inkId: key, inkName, displayHex, filmId: 'f1', file: `${plateId}.plate` });
    archives.set(plateId, await PlateArchive.open(facts, byteSourceOf(plateId, packed)));
  }
  return { plates, open: async ({ plateId }) => archives.get(plateId)! };
}
