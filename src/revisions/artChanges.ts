import { deltaE2000OfHex } from '../colour/deltaE2000.ts';
import { foldInkName } from '../colour/normaliseInkName.ts';
import type { BoxMm } from '../geometry/box.ts';
import { comparePlates } from '../plateArchive/comparePlates.ts';
import type { KeptPlate } from '../plateArchive/keptPlates.ts';
import type { PlateArchive } from '../plateArchive/openArchive.ts';
import { type ComparedPair, comparePairs } from '../plateArchive/pairPlates.ts';
import type { ArtChange } from './artChange.ts';
import { type InkChanges, inkChanges } from './inkChanges.ts';
import { joinInks, type OneInkChange } from './joinInks.ts';
import { meanTonePercent } from './meanTone.ts';
import { movedTogether } from './movedTogether.ts';

/** The plates kept of one revision. */
export interface RevisionArt {
  readonly plates: readonly KeptPlate[];
  open(plate: KeptPlate): Promise<PlateArchive>;
}

/** The whole of the art may lie a little elsewhere on a page that a program wrote once more. */
const sameSeatMm = 0.5;
/** From a lighter tone on, what is added is a tint. */
const solidFromPercent = 90;
/** Colours of an ink that differ by more (CIEDE2000) are two colours. */
const sameColourWithin = 3;

/** What is different in the art of two revisions, largest first. */
export async function artChanges(before: RevisionArt, after: RevisionArt): Promise<ArtChange[]> {
  if (before.plates.length === 0 || after.plates.length === 0) return [];
  const archives = async ({ before: was, after: is }: Pick<ComparedPair, 'before' | 'after'>) => ({
    before: was && (await before.open(was)),
    after: is && (await after.open(is)),
  });
  const { grid, pairs } = await comparePairs(before.plates, after.plates, async (pair, on) =>
    comparePlates(await archives(pair), on),
  );
  const changesOf = async (shift?: { x: number; y: number }) => {
    const all: { pair: ComparedPair; changes: InkChanges | null }[] = [];
    for (const pair of pairs) {
      const isSame = shift === undefined && pair.change.places.length === 0;
      all.push({ pair, changes: isSame ? null : await inkChanges(await archives(pair), grid, shift) });
    }
    return all;
  };
  let found = await changesOf();
  const seat = movedTogether(found.map(({ pair, changes }) => ({ changes, printedMm2: pair.change.eitherMm2 })));
  const whole: ArtChange[] = [];
  if (seat !== null) {
    found = await changesOf({ x: Math.round(seat.x / grid.pitchXMm), y: Math.round(seat.y / grid.pitchYMm) });
    if (Math.hypot(seat.x, seat.y) > sameSeatMm)
      whole.push({ kind: 'allMoved', inkNames: [], box: null, movedMm: seat, areaMm2: Number.POSITIVE_INFINITY });
  }
  const parts: OneInkChange[] = [];
  for (const { pair, changes } of found)
    if (changes !== null) parts.push(...(await oneInkChanges(pair, changes, await archives(pair))));
  const joined = joinInks(parts, {
    added: pairs.flatMap((pair) => (pair.before === null ? [pair.after!.inkName] : [])),
    removed: pairs.flatMap((pair) => (pair.after === null ? [pair.before!.inkName] : [])),
  });
  return [...whole, ...pairs.flatMap(inkNamed), ...joined].sort((a, b) => b.areaMm2 - a.areaMm2);
}

/** An ink whose plate is the same, by another name or in another colour. */
function inkNamed({ before, after, change }: ComparedPair): ArtChange[] {
  if (before === null || after === null) return [];
  const of = { inkNames: [after.inkName], wasInkName: before.inkName, box: null, areaMm2: change.eitherMm2 };
  if (deltaE2000OfHex(before.displayHex, after.displayHex) > sameColourWithin)
    return [{ kind: 'inkRecoloured', ...of }];
  const isNamed = [before, after].every(({ inkName }) => !/^#[0-9a-f]{6}$/i.test(inkName));
  return isNamed && foldInkName(before.inkName) !== foldInkName(after.inkName) ? [{ kind: 'inkRenamed', ...of }] : [];
}

async function oneInkChanges(
  { before, after }: ComparedPair,
  { transforms, left, toned }: InkChanges,
  archives: { readonly before: PlateArchive | null; readonly after: PlateArchive | null },
): Promise<OneInkChange[]> {
  const inkName = (after ?? before)!.inkName;
  const moved = transforms.map(({ kind, box, wasBox, factor, parts, isHoles }): OneInkChange => {
    const [{ before: was, after: is }] = parts;
    const areaMm2 = parts.reduce((sum, part) => sum + part.after.areaMm2, 0);
    const from = { x: is.centreXMm - was.centreXMm, y: is.centreYMm - was.centreYMm };
    const how = kind === 'resized' ? ({ kind, factor } as const) : ({ kind: 'moved', movedMm: from } as const);
    return { ...how, inkName, box, wasBox, areaMm2, isHoles, isInInk: false };
  });
  const tones = async (box: BoxMm) => ({
    now: await meanTonePercent(archives.after, box),
    before: await meanTonePercent(archives.before, box),
  });
  const rest: OneInkChange[] = [];
  for (const { kind, ...change } of left) {
    if (kind === 'toned') continue;
    const tonePercent = kind === 'added' ? await tones(change.box) : null;
    const isTint = tonePercent !== null && tonePercent.now < solidFromPercent;
    rest.push({ ...change, kind, inkName, isHoles: false, ...(isTint && { tonePercent }) });
  }
  for (const { box, areaMm2 } of toned) {
    const tonePercent = await tones(box);
    const kind = tonePercent.now < tonePercent.before ? 'lighter' : 'darker';
    rest.push({ kind, inkName, box, areaMm2, tonePercent, isHoles: false, isInInk: false });
  }
  return [...moved, ...rest];
}
