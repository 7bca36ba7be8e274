import { foldInkName } from '../colour/normaliseInkName.ts';
import type { PlateChange } from './comparePlates.ts';
import type { CommonGrid } from './compareTiles.ts';
import type { KeptPlate } from './keptPlates.ts';

/** The plates of one ink in two revisions; null where there is none. */
export interface PlatePair {
  readonly before: KeptPlate | null;
  readonly after: KeptPlate | null;
}

/** Plates that are paired, with what differs between them. */
export interface ComparedPair extends PlatePair {
  readonly change: PlateChange;
}

/** Plates of two names are of one ink when no more than this share of what either prints differs. */
const sameArtWithin = 0.25;

/**
 * Compares the plates of two revisions, in the order of the later one. Plates of inks of one name belong together, more
 * of one name by their order. Of those that are left over, two with nearly the same art are one ink whose name changed.
 *
 * @param compare of two plates, on the grid they share.
 */
export async function comparePairs(
  before: readonly KeptPlate[],
  after: readonly KeptPlate[],
  compare: (pair: PlatePair, grid: CommonGrid) => Promise<PlateChange>,
): Promise<{ readonly grid: CommonGrid; readonly pairs: readonly ComparedPair[] }> {
  const left = [...before];
  const grid = commonGrid([...after, ...before]);
  const found = new Map<KeptPlate, ComparedPair>();
  for (const plate of after) {
    const index = left.findIndex(({ inkName }) => foldInkName(inkName) === foldInkName(plate.inkName));
    if (index < 0) continue;
    const pair = { before: left.splice(index, 1)[0], after: plate };
    found.set(plate, { ...pair, change: await compare(pair, grid) });
  }
  for (const plate of after.filter((one) => !found.has(one))) {
    for (const earlier of left) {
      const pair = { before: earlier, after: plate };
      const change = await compare(pair, grid);
      if (change.goneMm2 + change.addedMm2 > sameArtWithin * change.eitherMm2) continue;
      left.splice(left.indexOf(earlier), 1);
      found.set(plate, { ...pair, change });
      break;
    }
  }
  const pairs: ComparedPair[] = [];
  const alone = async (pair: PlatePair) => ({ ...pair, change: await compare(pair, grid) });
  for (const plate of after) pairs.push(found.get(plate) ?? (await alone({ before: null, after: plate })));
  for (const plate of left) pairs.push(await alone({ before: plate, after: null }));
  return { grid, pairs };
}

function commonGrid(plates: readonly KeptPlate[]): CommonGrid {
  const { pitchXMm, pitchYMm } = plates[0];
  const across = Math.max(...plates.map((plate) => plate.widthPx * plate.pitchXMm));
  const down = Math.max(...plates.map((plate) => plate.heightPx * plate.pitchYMm));
  return { pitchXMm, pitchYMm, widthPx: Math.round(across / pitchXMm), heightPx: Math.round(down / pitchYMm) };
}
