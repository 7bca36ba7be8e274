import type { Reading } from '../findings/finding.ts';
import { intersectionOfBoxes } from '../geometry/box.ts';
import type { NarrowPlace } from '../measurements/detail.ts';
import { ExactArt } from '../measurements/exactArt.ts';
import { black, clear } from '../measurements/exactSection.ts';
import { exactSpotOf } from '../measurements/exactSpot.ts';
import { type ThinObject, thinObjects } from '../measurements/exactThin.ts';
import { exactWidthOf } from '../measurements/exactWidth.ts';
import { coarsePitchMm } from '../raster/pixelGrid.ts';
import type { PlateLimits } from '../ticket/ticket.ts';
import type { PlateFacts } from './ask.ts';
import { narrowReading, spotReading } from './narrowDetail.ts';
import { plateReading } from './subject.ts';

/** Lines and gaps thinner than this many pixels may leave no mark on the plate that measured it. */
const seenFromPx = 2;

const arts = new WeakMap<PlateFacts, ExactArt | null>();
const readingsOf = new WeakMap<PlateFacts, Map<string, readonly Reading[]>>();

/** The art of a plate as its file states it; null when the file states nothing. */
function artOf(plate: PlateFacts): ExactArt | null {
  let art = arts.get(plate);
  if (art === undefined) {
    const isStated = plate.film.objects.some((object) => object.outline !== undefined || object.kind === 'stroke');
    art = isStated ? new ExactArt(plate.film, plate.inkKey) : null;
    arts.set(plate, art);
  }
  return art;
}

/**
 * Narrow lines or gaps of a plate, each once: those measured on its pixels, with the exact width where the file states
 * it, and what is drawn too thin for the pixels to show. On art too rich to look at every place exactly, those that the
 * limit hangs on come first.
 */
export function narrowReadings(plate: PlateFacts, kind: 'lines' | 'gaps', limitMm: number): readonly Reading[] {
  return kept(plate, `${kind} ${limitMm}`, () => readNarrow(plate, kind, limitMm));
}

function readNarrow(plate: PlateFacts, kind: 'lines' | 'gaps', limitMm: number): Reading[] {
  const art = artOf(plate);
  const places = plate.detail[kind];
  if (art === null) return places.map((place) => narrowReading(plate, place));
  const state = kind === 'lines' ? black : clear;
  const pitchMm = coarsePitchMm(plate.grid);
  art.askAnew();
  const exacts = new Map(
    decidingFirst(places, limitMm, pitchMm).map((place) => [place, exactWidthOf(art, place, state, pitchMm)]),
  );
  const met = new Set<string>();
  const measured = places.map((place): Reading => {
    const exact = exacts.get(place) ?? null;
    if (exact === null) return narrowReading(plate, place);
    if (exact.objectId !== null) met.add(exact.objectId);
    return {
      ...narrowReading(plate, place),
      value: exact.widthMm,
      plusMinus: exact.plusMinusMm,
      ...(exact.objectId === null ? {} : { objectId: exact.objectId }),
    };
  });
  const marks = new Set(plate.film.inks.filter(({ kind }) => kind === 'registration').map(({ key }) => key));
  const isMark = new Set(
    plate.film.objects.filter(({ inks }) => inks.some(({ key }) => marks.has(key))).map(({ id }) => id),
  );
  const unseen = thinObjects(art, state, seenFromPx * pitchMm).filter(
    ({ objectId }) => !met.has(objectId) && !isMark.has(objectId),
  );
  return [...measured, ...unseen.flatMap((thin) => thinReading(plate, thin))];
}

/** The places the pixels cannot settle against the limit, then the others, the narrowest first. */
function decidingFirst(places: readonly NarrowPlace[], limitMm: number, pitchMm: number): readonly NarrowPlace[] {
  const isOpen = ({ minWidthMm, plusMinusMm }: NarrowPlace) => Math.abs(minWidthMm - limitMm) <= plusMinusMm + pitchMm;
  return [...places.filter(isOpen), ...places.filter((place) => !isOpen(place))];
}

function thinReading(plate: PlateFacts, thin: ThinObject): Reading[] {
  const filmBox = { xMm: 0, yMm: 0, widthMm: plate.film.widthMm, heightMm: plate.film.heightMm };
  const boxMm = intersectionOfBoxes(thin.boxMm, filmBox);
  if (boxMm === null || thin.widthMm >= plate.detail.searchedToMm) return [];
  return [
    plateReading(plate, {
      value: thin.widthMm,
      unit: 'mm',
      plusMinus: thin.plusMinusMm,
      boxMm,
      objectId: thin.objectId,
      ...(thin.isUncertain
        ? { doubt: 'What lies beside this thin line is not known exactly, so it may print broader.' }
        : {}),
    }),
  ];
}

/** Dots or islands of a plate, with the exact size where the file states it. */
export function spotReadings(plate: PlateFacts, kind: 'dots' | 'islands'): readonly Reading[] {
  return kept(plate, kind, () => readSpots(plate, kind));
}

/** Takes the readings of a plate's fine detail before they are asked for, while there is time. */
export function readAhead(plate: PlateFacts, limits: PlateLimits): void {
  narrowReadings(plate, 'lines', limits.minLineMm.value);
  narrowReadings(plate, 'gaps', limits.minGapMm.value);
  spotReadings(plate, 'dots');
  spotReadings(plate, 'islands');
}

function kept(plate: PlateFacts, what: string, read: () => readonly Reading[]): readonly Reading[] {
  let readings = readingsOf.get(plate);
  if (readings === undefined) {
    readings = new Map();
    readingsOf.set(plate, readings);
  }
  const found = readings.get(what) ?? read();
  readings.set(what, found);
  return found;
}

function readSpots(plate: PlateFacts, kind: 'dots' | 'islands'): Reading[] {
  const art = artOf(plate);
  const state = kind === 'dots' ? black : clear;
  art?.askAnew();
  return plate.detail[kind].map((place): Reading => {
    const exact = art === null ? null : exactSpotOf(art, place, state, coarsePitchMm(plate.grid));
    if (exact === null) return spotReading(plate, place);
    return {
      ...spotReading(plate, place),
      value: exact.equivalentDiameterMm,
      plusMinus: exact.plusMinusMm,
      objectId: exact.objectId,
    };
  });
}
