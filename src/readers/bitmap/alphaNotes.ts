import type { ReadNote } from '../../artwork/readNote.ts';

export function alphaNotes(hasAlpha: boolean): readonly ReadNote[] {
  if (!hasAlpha) return [];
  return [
    { code: 'alpha-on-white', message: 'See-through parts of the picture count as clear film.', affects: 'nothing' },
  ];
}
