import type { Mark, PlateMarks, PlateRegister, Registration } from './marks.ts';
import {
  centroid,
  type Fit,
  fitAffine,
  fitSimilarity,
  fitTranslation,
  fitted,
  largestLeftMm,
  leftOver,
  type MarkPair,
  rotationDegOf,
  scaleOf,
  spareMarks,
} from './registrationFit.ts';
import { areLikeMarks, findFarShift } from './registrationMatch.ts';

/** A simpler fit is kept as long as it leaves no mark further off than this. */
const goodFitMm = 0.05;
const matchWithinMm = 3.2;

interface Matched extends MarkPair {
  readonly plusMinusMm: number;
}

/**
 * How each plate lies to the one with the most confirmed marks (the first of those), from the marks both have.
 *
 * Shifts are those of the plate's marks from the reference's (right and down positive), at the middle of the marks.
 * The simplest fit that leaves no more than 0.05 mm is taken: translation, similarity, and with four marks or more
 * affine. One mark that alone spoils an otherwise good fit is left out of it: it shows as the one large residual.
 * Rotation and scale come from two marks on; a residual needs a spare mark. Null when no two plates share a mark.
 */
export function measureRegistration(plates: readonly PlateMarks[]): Registration | null {
  let reference: PlateMarks | null = null;
  for (const plate of plates) {
    if (plate.marks.length > (reference?.marks.length ?? 0)) reference = plate;
  }
  if (reference === null) return null;
  const registers: PlateRegister[] = [];
  for (const plate of plates) {
    if (plate === reference) continue;
    const pairs = matchMarks(reference.marks, plate.marks);
    if (pairs.length > 0) registers.push(registerOf(plate.plateId, pairs));
  }
  return registers.length === 0 ? null : { referencePlateId: reference.plateId, plates: registers };
}

/** Pairs each mark of the reference with the nearest like mark not yet taken, nearest pairs first. */
function matchMarks(reference: readonly Mark[], marks: readonly Mark[]): Matched[] {
  const far = findFarShift(reference, marks);
  const candidates: { from: number; to: number; apartMm: number }[] = [];
  reference.forEach((a, from) => {
    const at = far === null ? a : fitted(far, a);
    marks.forEach((b, to) => {
      const apartMm = Math.hypot(b.xMm - at.xMm, b.yMm - at.yMm);
      if (apartMm <= matchWithinMm && areLikeMarks(a, b)) candidates.push({ from, to, apartMm });
    });
  });
  candidates.sort((p, q) => p.apartMm - q.apartMm || p.from - q.from || p.to - q.to);
  const takenFrom = new Set<number>();
  const takenTo = new Set<number>();
  const pairs: Matched[] = [];
  for (const { from, to } of candidates) {
    if (takenFrom.has(from) || takenTo.has(to)) continue;
    takenFrom.add(from);
    takenTo.add(to);
    pairs.push({
      from: reference[from],
      to: marks[to],
      plusMinusMm: Math.hypot(reference[from].plusMinusMm, marks[to].plusMinusMm),
    });
  }
  return pairs.sort((p, q) => p.from.yMm - q.from.yMm || p.from.xMm - q.from.xMm);
}

function registerOf(plateId: string, pairs: readonly Matched[]): PlateRegister {
  const { fit, used } = chooseFit(pairs);
  const turned = fit.model === 'affine' ? fit : fitSimilarity(used);
  const middle = centroid(used.map((pair) => pair.from));
  const landed = fitted(fit, middle);
  let worstOffsetMm = 0;
  let plusMinusMm = 0;
  for (const { from, to, plusMinusMm: own } of pairs) {
    worstOffsetMm = Math.max(worstOffsetMm, Math.hypot(to.xMm - from.xMm, to.yMm - from.yMm));
    plusMinusMm = Math.max(plusMinusMm, own);
  }
  return {
    plateId,
    marksUsed: used.length,
    dxMm: landed.xMm - middle.xMm,
    dyMm: landed.yMm - middle.yMm,
    rotationDeg: turned === null ? null : rotationDegOf(turned),
    scale: turned === null ? null : scaleOf(turned),
    residualMm: spareMarks(fit.model, used.length) > 0 ? largestLeftMm(fit, pairs) : null,
    worstOffsetMm,
    plusMinusMm,
    model: fit.model,
    residuals: pairs.map((pair) => ({ xMm: pair.from.xMm, yMm: pair.from.yMm, ...leftOver(fit, pair) })),
  };
}

function chooseFit(pairs: readonly Matched[]): { fit: Fit; used: readonly Matched[] } {
  const whole = simplestFit(pairs);
  if (largestLeftMm(whole, pairs) <= goodFitMm) return { fit: whole, used: pairs };
  const used = withoutMovedMark(pairs);
  if (used !== null) return { fit: simplestFit(used), used };
  const affine = pairs.length >= 4 ? fitAffine(pairs) : null;
  return { fit: affine ?? whole, used: pairs };
}

/** Translation when that is good enough, else similarity. */
function simplestFit(pairs: readonly MarkPair[]): Fit {
  const translation = fitTranslation(pairs);
  if (pairs.length < 2 || largestLeftMm(translation, pairs) <= goodFitMm) return translation;
  return fitSimilarity(pairs) ?? translation;
}

/** The pairs less the one that alone spoils the fit; null when there is no such one, or no telling which it is. */
function withoutMovedMark(pairs: readonly Matched[]): readonly Matched[] | null {
  if (pairs.length < 3) return null;
  const tries = pairs.map((left) => {
    const rest = pairs.filter((pair) => pair !== left);
    const fit = simplestFit(rest);
    return { rest, leftMm: spareMarks(fit.model, rest.length) > 0 ? largestLeftMm(fit, rest) : Infinity };
  });
  tries.sort((p, q) => p.leftMm - q.leftMm);
  const [best, second] = tries;
  return best.leftMm <= goodFitMm && second.leftMm > 2 * best.leftMm + 0.02 ? best.rest : null;
}
