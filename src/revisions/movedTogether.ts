import type { InkChanges } from './inkChanges.ts';

const sameMoveMm = 0.15;
/** So much of what all plates print, by area. */
const leastShare = 0.8;

/** How far nearly all of the art was moved, all inks alike; null: it was not. mm to the right and down. */
export function movedTogether(
  inks: readonly { readonly changes: InkChanges | null; readonly printedMm2: number }[],
): { readonly x: number; readonly y: number } | null {
  const moves = inks.flatMap(({ changes }) =>
    (changes?.transforms ?? [])
      .filter(({ kind, isHoles }) => kind === 'moved' && !isHoles)
      .map(({ offsetMm, parts }) => ({
        ...offsetMm,
        areaMm2: parts.reduce((sum, { after }) => sum + (after.isHole ? 0 : after.areaMm2), 0),
      })),
  );
  const printedMm2 = inks.reduce((sum, ink) => sum + ink.printedMm2, 0);
  for (const move of moves) {
    const alike = moves.filter(({ x, y }) => Math.hypot(x - move.x, y - move.y) <= sameMoveMm);
    if (alike.reduce((sum, { areaMm2 }) => sum + areaMm2, 0) >= leastShare * printedMm2)
      return { x: move.x, y: move.y };
  }
  return null;
}
