import { grownBox } from '../geometry/box.ts';
import type { NarrowPlace } from './detail.ts';
import { type ExactArt, numberToleranceMm } from './exactArt.ts';
import { neckAt } from './exactNeck.ts';
import { type ExactRun, runAt } from './exactRun.ts';
import type { black, clear } from './exactSection.ts';
import { hasPlainPen, isSimple } from './exactSimple.ts';
import { isMiddle, type NarrowestWidth, narrowestOn, type StretchOfRun } from './exactStretch.ts';

/** A width as the file states it. */
export interface ExactWidth {
  readonly widthMm: number;
  readonly plusMinusMm: number;
  /** The object it is of; null for bare film between objects. */
  readonly objectId: string | null;
}

/** A width followed along a stretch is as good as that, or else it is looked whether its sides come nearest near by. */
const sureMm = 0.004;
/** Sides that part by no more over their length are taken as parallel. */
const parallelMm = 0.001;
/**
 * The exact width of a narrow place that was found on the pixels, at its narrowest. Null where the file does not state
 * it, where it does not agree with the pixels within their error bar, or where its narrowest spot cannot be told.
 */
export function exactWidthOf(
  art: ExactArt,
  place: NarrowPlace,
  state: typeof clear | typeof black,
  pitchMm: number,
): ExactWidth | null {
  if (place.kind !== 'line') return null;
  const reachMm = 1.5 * place.minWidthMm + 3 * pitchMm;
  const run = runAt(art, place.xMm, place.yMm, state, reachMm, 1.5 * pitchMm);
  if (run === null || typeof run === 'string') return null;
  const toleranceMm = place.plusMinusMm + pitchMm / 2;
  const stretch: StretchOfRun = {
    boxMm: grownBox(place.boxMm, pitchMm),
    lengthMm: place.lengthMm,
    leastMm: place.minWidthMm - toleranceMm,
    look: (xMm, yMm) => runAt(art, xMm, yMm, state, reachMm, pitchMm / 2),
  };
  const followed = isMiddle(run) ? (simpleWidth(art, run, stretch) ?? narrowestOn(run, stretch)) : null;
  const isSure = followed !== null && followed.plusMinusMm < sureMm;
  const found = isSure ? followed : (neckAt(art, run, state, reachMm) ?? followed);
  if (found === null || Math.abs(found.widthMm - place.minWidthMm) > toleranceMm) return null;
  return { ...found, objectId: run.layer === null ? null : art.layers[run.layer].object.id };
}

/** The width of the pen, when both sides are those of one stroke; else that between two straight parallel sides. */
function simpleWidth(art: ExactArt, run: ExactRun, { boxMm, lengthMm }: StretchOfRun): NarrowestWidth | null {
  if (!isSimple(art, boxMm, run)) return null;
  if (run.layer !== null && hasPlainPen(art, run.layer)) {
    const widthMm = art.layers[run.layer].object.strokeWidthMm!.min;
    if (Math.abs(run.lengthMm - widthMm) > run.toleranceMm + numberToleranceMm) return null;
    return { widthMm, plusMinusMm: numberToleranceMm };
  }
  if (run.partingRad === null || run.partingRad * lengthMm > parallelMm) return null;
  return { widthMm: run.lengthMm, plusMinusMm: numberToleranceMm + run.partingRad * lengthMm };
}
