import type { Mark } from './marks.ts';
import type { Matched } from './registrationChoice.ts';
import { type Fit, fitSimilarity, fitTranslation, fitted } from './registrationFit.ts';

/** Marks of one kind and about one size can be the same mark on two plates. */
export function areLikeMarks(a: Mark, b: Mark): boolean {
  return (
    a.kind === b.kind &&
    a.reversed === b.reversed &&
    Math.abs(a.sizeMm - b.sizeMm) <= sameSizeShare * Math.max(a.sizeMm, b.sizeMm)
  );
}

const sameSizeShare = 0.15;
const samePlaceMm = 1.5;
const matchWithinMm = 3.2;
const agreeMm = 0.8;
const farthestShiftMm = 20;
const mostTurn = Math.tan((3 * Math.PI) / 180);
const mostStretch = 0.01;
/** More marks than this are a pattern; then only those at the same place are matched. */
const mostMarks = 16;

/**
 * Where a film lies so far off that too few of its marks fall on the reference's: the shift and turn (up to 20 mm and
 * 3 degrees) that brings the most marks together, at least two of them and at least half of the smaller set. Null when
 * the marks fall together as they lie, or nothing brings them together.
 */
export function findFarShift(reference: readonly Mark[], marks: readonly Mark[]): Fit | null {
  const asTheyLie = countTogether(reference, marks, null, samePlaceMm);
  const needed = Math.max(2, Math.ceil(Math.min(reference.length, marks.length) / 2));
  if (asTheyLie >= needed || reference.length > mostMarks || marks.length > mostMarks) return null;
  let best: Fit | null = null;
  let bestCount = Math.max(needed - 1, asTheyLie);
  let bestShiftMm = Infinity;
  const consider = (fit: Fit, at: Mark): void => {
    const landed = fitted(fit, at);
    const shiftMm = Math.hypot(landed.xMm - at.xMm, landed.yMm - at.yMm);
    if (shiftMm > farthestShiftMm) return;
    const count = countTogether(reference, marks, fit, agreeMm);
    if (count < bestCount || (count === bestCount && (best === null || shiftMm >= bestShiftMm))) return;
    best = fit;
    bestCount = count;
    bestShiftMm = shiftMm;
  };
  for (const a of reference) {
    for (const b of marks) {
      if (!areLikeMarks(a, b)) continue;
      consider(fitTranslation([{ from: a, to: b }]), a);
      for (const c of reference) {
        for (const d of marks) {
          if (c === a || d === b || !areLikeMarks(c, d)) continue;
          const fit = fitSimilarity([
            { from: a, to: b },
            { from: c, to: d },
          ]);
          if (fit === null || Math.abs(fit.b) > mostTurn * fit.a || Math.abs(fit.a - 1) > mostStretch) continue;
          consider(fit, a);
        }
      }
    }
  }
  return best;
}

function countTogether(reference: readonly Mark[], marks: readonly Mark[], fit: Fit | null, withinMm: number): number {
  let count = 0;
  for (const mark of reference) {
    const at = fit === null ? mark : fitted(fit, mark);
    if (marks.some((m) => areLikeMarks(m, mark) && Math.hypot(m.xMm - at.xMm, m.yMm - at.yMm) <= withinMm)) count++;
  }
  return count;
}

/** Pairs each mark of the reference with the nearest like mark not yet taken, nearest pairs first. */
export function matchMarks(reference: readonly Mark[], marks: readonly Mark[]): Matched[] {
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
