import type { ReadNote } from '../../artwork/readNote.ts';

/** Orientations whose stored rows are a mirror image of what is meant (TIFF 6.0, tag 274; Exif takes them over). */
const mirrored: ReadonlySet<number> = new Set([2, 4, 5, 7]);

export function mirroredNotes(orientation: number): readonly ReadNote[] {
  if (!mirrored.has(orientation)) return [];
  const message = `The file carries a mirrored orientation (${orientation} of 1 to 8); it was turned to read right.`;
  return [{ code: 'mirrored', message, affects: 'nothing' }];
}
