import type { ArtObject } from '../artwork/artObject.ts';
import type { Film } from '../artwork/film.ts';
import { type BoxMm, containsBox, intersectionOfBoxes, unionOfBoxes } from '../geometry/box.ts';
import { marksBoxesMm } from '../measurements/marksBoxes.ts';
import { coarsePitchMm } from '../raster/pixelGrid.ts';
import type { Ask } from './ask.ts';
import { notesBehind } from './subject.ts';

export interface ArtBox {
  readonly boxMm: BoxMm;
  readonly plusMinusMm: number;
  /** The film's registration marks could not be told from the art: the art is this large at most. */
  readonly withMarks: boolean;
  readonly plateIds: readonly string[];
  readonly inkNames: readonly string[];
  /** The art's box at most, whatever is missing from plates that could not be drawn completely. */
  readonly atMostMm: BoxMm;
}

/**
 * Box around the art of a film, its registration marks left out: from what is opaque on its plates when there are no
 * marks, else from the objects of a vector film that are not marks. Null for a film with nothing on it.
 */
export function artBoxOf(ask: Ask, film: Film): ArtBox | null {
  const plates = ask.plates.filter((plate) => plate.film.id === film.id && plate.opacity.inkedBoxMm !== null);
  const opaque = unionOf(plates.map(({ opacity }) => opacity.inkedBoxMm!));
  if (opaque === null) return null;
  const about = {
    plusMinusMm: plates.reduce((most, { grid }) => Math.max(most, coarsePitchMm(grid)), 0),
    plateIds: plates.map(({ id }) => id),
    inkNames: plates.map(({ ink }) => ink.name),
  };
  const marks = ask.marks
    .filter(({ plateId }) => about.plateIds.includes(plateId))
    .map((found) => ({ ...found, marks: [...found.marks, ...found.unconfirmed] }));
  const markBoxes = marksBoxesMm(marks);
  const atMost = (boxMm: BoxMm) => ({ boxMm, atMostMm: withMissing(ask, film, boxMm) });
  if (markBoxes.length === 0) return { ...atMost(opaque), withMarks: false, ...about };
  const registration = new Set(film.inks.filter(({ kind }) => kind === 'registration').map(({ key }) => key));
  const art = film.objects.filter(
    (object) =>
      isPainted(object) &&
      !object.inks.some(({ key }) => registration.has(key)) &&
      !markBoxes.some((mark) => containsBox(mark, object.boxMm)),
  );
  const drawn = film.nature === 'vector' ? unionOf(art.map(({ boxMm }) => boxMm)) : null;
  const boxMm = drawn === null ? null : intersectionOfBoxes(drawn, opaque);
  return { ...atMost(boxMm ?? opaque), withMarks: boxMm === null, ...about };
}

/** The art with what is missing from its plates: where that lies is known, or it is anywhere on the film. */
function withMissing(ask: Ask, film: Film, boxMm: BoxMm): BoxMm {
  const filmMm = { xMm: 0, yMm: 0, widthMm: film.widthMm, heightMm: film.heightMm };
  let most = boxMm;
  for (const plate of ask.plates) {
    if (plate.film.id !== film.id || plate.verified) continue;
    const notes = notesBehind(plate);
    if (notes === null) return filmMm;
    for (const { boxMm: missingMm, objectId } of notes) {
      // Type set in another font than its own is of another length.
      const isType = film.objects.some(({ id, text }) => id === objectId && text !== null);
      if (missingMm === undefined || isType) return filmMm;
      const onFilm = intersectionOfBoxes(missingMm, filmMm);
      if (onFilm !== null) most = unionOfBoxes(most, onFilm);
    }
  }
  return most;
}

function isPainted({ hidden, isWhite, inks }: ArtObject): boolean {
  return hidden === null && !isWhite && inks.some(({ tintRatio }) => tintRatio > 0);
}

function unionOf(boxes: readonly BoxMm[]): BoxMm | null {
  return boxes.length === 0 ? null : boxes.reduce(unionOfBoxes);
}
