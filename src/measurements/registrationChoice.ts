import {
  type Fit,
  fitAffine,
  fitSimilarity,
  fitTranslation,
  largestLeftMm,
  type MarkPair,
  spareMarks,
} from './registrationFit.ts';

/** Marks of two plates that are the same mark, with how far apart they may be found of themselves. */
export interface Matched extends MarkPair {
  readonly plusMinusMm: number;
}

export interface ChosenFit {
  /** The simplest that is good enough. */
  readonly fit: Fit;
  readonly used: readonly Matched[];
  /** What rotation and stretch are read from: the finest fit so many marks can tell; null for a single mark. */
  readonly facts: Fit | null;
  /** The one pair left out because it alone spoils the fit. */
  readonly moved: Matched | null;
}

/** A simpler fit is kept as long as it leaves no mark further off than this. */
const goodFitMm = 0.05;
const fewestForAffine = 4;

/** The fit of one plate's marks to another's: translation, similarity or affine, with a single moved mark left out. */
export function chooseFit(pairs: readonly Matched[]): ChosenFit {
  const whole = simplestFit(pairs);
  if (largestLeftMm(whole, pairs) <= goodFitMm)
    return { fit: whole, used: pairs, facts: factsOf(pairs, whole), moved: null };
  const rest = withoutMovedMark(pairs);
  if (rest !== null) {
    const fit = ladder(rest);
    return { fit, used: rest, facts: factsOf(rest, fit), moved: pairs.find((pair) => !rest.includes(pair)) ?? null };
  }
  const fit = ladder(pairs);
  return { fit, used: pairs, facts: factsOf(pairs, fit), moved: null };
}

/** Translation when that is good enough, else similarity. */
function simplestFit(pairs: readonly MarkPair[]): Fit {
  const translation = fitTranslation(pairs);
  if (pairs.length < 2 || largestLeftMm(translation, pairs) <= goodFitMm) return translation;
  return fitSimilarity(pairs) ?? translation;
}

/** And affine where that is not good enough either and four marks or more tell. */
function ladder(pairs: readonly MarkPair[]): Fit {
  const simple = simplestFit(pairs);
  if (pairs.length < fewestForAffine || largestLeftMm(simple, pairs) <= goodFitMm) return simple;
  return fitAffine(pairs) ?? simple;
}

/** The affine fit of four marks or more, which a film stretched one way does not turn; else the similarity. */
function factsOf(pairs: readonly Matched[], chosen: Fit): Fit | null {
  if (chosen.model === 'affine') return chosen;
  const affine = pairs.length >= fewestForAffine ? fitAffine(pairs) : null;
  return affine ?? fitSimilarity(pairs);
}

/** The pairs less the one that alone spoils the fit; null when there is no such one, or no telling which it is. */
function withoutMovedMark(pairs: readonly Matched[]): readonly Matched[] | null {
  if (pairs.length < 3) return null;
  const tries = pairs.map((left) => {
    const rest = pairs.filter((pair) => pair !== left);
    // With one mark to spare an affine fit may be a moved mark's work as well as a stretched film's.
    const fit = rest.length > fewestForAffine ? ladder(rest) : simplestFit(rest);
    return { rest, leftMm: spareMarks(fit.model, rest.length) > 0 ? largestLeftMm(fit, rest) : Infinity };
  });
  tries.sort((p, q) => p.leftMm - q.leftMm);
  const [best, second] = tries;
  if (best.leftMm > goodFitMm || second.leftMm <= 2 * best.leftMm + 0.02) return null;
  // A film stretched one way needs no mark moved.
  const affine = pairs.length > fewestForAffine ? fitAffine(pairs) : null;
  return affine !== null && largestLeftMm(affine, pairs) <= goodFitMm ? null : best.rest;
}
