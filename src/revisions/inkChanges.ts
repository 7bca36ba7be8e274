import { containsBox } from '../geometry/box.ts';
import { type BroadDifference, broadDifference, type ShiftPx, withoutNarrow } from '../plateArchive/broadDifference.ts';
import type { CommonGrid, ComparedPlates } from '../plateArchive/compareTiles.ts';
import { type ArtPart, partsIn } from './artParts.ts';
import { ChangedMap } from './changedMap.ts';
import { type LeftChange, leftChanges, tonedPlaces } from './leftChanges.ts';
import { lineWidthMm, type MatchedPart, matchParts } from './matchParts.ts';
import { boxOf, type Transform, takeOutExplained, transformsOf } from './transforms.ts';

/** So much of a part changed when it came or went as a whole. */
const leastOfPart = 0.9;

/** All that changed on the plate of one ink. */
export interface InkChanges {
  readonly transforms: readonly Transform[];
  readonly left: readonly LeftChange[];
  readonly toned: readonly LeftChange[];
}

/** Null when nothing changed. `shift`: how far the earlier plate is moved before it is compared. */
export async function inkChanges(
  plates: ComparedPlates,
  grid: CommonGrid,
  shift?: ShiftPx,
): Promise<InkChanges | null> {
  const difference = await broadDifference(plates, grid, shift);
  return difference === null ? null : changesIn(difference);
}

function changesIn({ grid, before, after, narrowPx, ...difference }: BroadDifference): InkChanges {
  const changed = new ChangedMap([difference.gone, difference.added]);
  const isChanged = (component: Parameters<ChangedMap['touches']>[0]) => changed.touches(component);
  const [was, is] = [partsIn(before, grid, isChanged), partsIn(after, grid, isChanged)];
  const matched = matchParts(was, is, grid.pitchXMm).filter(
    (part, _, all) => part.kind !== 'resized' || !isInsideOfLine(part.after, is, all),
  );
  const transforms = transformsOf(matched);
  let { gone, added } = difference;
  const planes = { grid, before, after };
  for (const transform of transforms) takeOutExplained(transform, planes, gone, added);
  if (transforms.length > 0) [gone, added] = [gone, added].map((plane) => withoutNarrow(plane, narrowPx));
  return {
    transforms: transforms.filter(({ kind }) => kind !== 'same'),
    left: leftChanges(planes, gone, added).map((change) => {
      if (change.kind !== 'added' && change.kind !== 'removed') return change;
      const known = new Set(matched.flatMap(({ before: one, after: other }) => [one, other]));
      const parts = (change.kind === 'added' ? is : was).filter((part) => !known.has(part));
      return wholePart(change, parts);
    }),
    toned: tonedPlaces(grid, difference.toned),
  };
}

/** Of a whole part that came or went the tips too, which are narrower than three pixels. */
function wholePart(change: LeftChange, parts: readonly ArtPart[]): LeftChange {
  const part = parts.find(
    (one) => !one.isHole && containsBox(boxOf(one), change.box) && change.areaMm2 > leastOfPart * one.areaMm2,
  );
  return part === undefined ? change : { ...change, box: boxOf(part) };
}

/** Whether a hole is no more than the inside of a line that changed: a ring, say, that is thicker now. */
function isInsideOfLine(hole: ArtPart, parts: readonly ArtPart[], matched: readonly MatchedPart[]): boolean {
  const known = new Set(matched.map(({ after }) => after));
  return (
    hole.isHole &&
    parts.some(
      (part) =>
        !part.isHole &&
        !known.has(part) &&
        containsBox(boxOf(part), boxOf(hole)) &&
        part.widthMm - hole.widthMm <= 2 * lineWidthMm,
    )
  );
}
