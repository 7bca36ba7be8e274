import type { Artwork, Film } from './film.ts';

export type JoinNote = Artwork['joinNotes'][number];

/** Films of one job differ by less than this when they are cut from the same page; common practice, no source. */
const sameSizeMm = 0.5;

/** How the films belong together: pages of one file, separations, or a mixture nobody can sort out alone. */
export function noteStructure(films: readonly Film[]): readonly JoinNote[] {
  const composites = films.filter((film) => film.form === 'composite');
  const separations = films.filter((film) => film.form === 'separation');
  const notes: JoinNote[] = [];
  if (composites.length > 0 && separations.length > 0) {
    const message = `The job mixes ${count(composites.length, 'composite film')} with ${count(separations.length, 'film')} of a single ink. Check that none of the single films repeats an ink of the composite.`;
    notes.push({ code: 'composite-with-separations', message, open: true });
  } else if (composites.length > 1) {
    const message = `The job has ${composites.length} composite films; each is taken for artwork of its own.`;
    notes.push({ code: 'several-composites', message, open: false });
  } else if (separations.length > 1) {
    const message = `${separations.length} films of a single ink each are taken for the set of one job.`;
    notes.push({ code: 'separation-set', message, open: false });
  }
  for (const film of films) {
    if (film.nature === 'photograph') {
      const message = `“${film.file}” is a photograph and was not split into inks: it makes no plate.`;
      notes.push({ code: 'photograph-no-plate', message, open: true });
    }
  }
  return notes;
}

/** Separations of one set must be of one size; which one is right is not ours to say. */
export function noteSizes(films: readonly Film[]): readonly JoinNote[] {
  const set = films.filter((film) => film.form === 'separation');
  const compared = set.length > 1 ? set : films;
  if (compared.length < 2) return [];
  const widths = compared.map((film) => film.widthMm);
  const heights = compared.map((film) => film.heightMm);
  const spread = Math.max(Math.max(...widths) - Math.min(...widths), Math.max(...heights) - Math.min(...heights));
  if (spread <= sameSizeMm) return [];
  const sizes = [...new Set(compared.map((film) => `${film.widthMm.toFixed(1)} × ${film.heightMm.toFixed(1)} mm`))];
  const message = `The films are not of one size: ${sizes.join(', ')}.`;
  return [{ code: 'films-differ-in-size', message, open: true }];
}

function count(number: number, what: string): string {
  return `${number} ${what}${number === 1 ? '' : 's'}`;
}
