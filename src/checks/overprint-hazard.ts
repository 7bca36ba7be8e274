import type { ArtObject } from '../artwork/artObject.ts';
import type { Film } from '../artwork/film.ts';
import { lightnessOfHex } from '../colour/lab.ts';
import type { Unmeasured } from '../findings/finding.ts';
import type { BoxMm } from '../geometry/box.ts';
import { intersectionOfBoxes } from '../geometry/box.ts';
import { BoxTree } from '../geometry/boxTree.ts';
import type { Ask } from './ask.ts';
import type { Check } from './check.ts';
import { noneOf } from './limits.ts';
import { filmName, filmReading } from './subject.ts';
import { counted, listed, oneOrMany } from './words.ts';

/** A stroke no wider than this that overprints is a trap somebody made, not a shape left to overprint by mistake. */
const widestTrapStrokeMm = 2;
/** Black and inks nearly as dark (L*) are meant to overprint. */
const keyLightness = 25;
/** Overprinting objects times objects: more are not compared. */
const mostComparisons = 50_000_000;
/** Corners and curves make a trap a little larger than its length times its width. */
const trapShare = 1.2;
const speckMm2 = 0.5;
const lightOverDark = 'lighter over darker';
const mixes = 'one colour over another';

export const overprintHazard: Check<'light-over-dark' | 'colours-mix'> = {
  id: 'overprint-hazard',
  title: 'Nothing overprints that looks meant to knock out',
  failTitle: 'Some objects overprint where they look meant to knock out',
  asks: 'Do only dark inks and traps overprint, while colours knock out what lies below?',
  sources: [
    { kind: 'standard', document: 'PDF Reference', clause: '4.5.6, overprint control' },
    { kind: 'commonPractice', statement: 'black overprints, colours knock out, a trap’s thin stroke overprints' },
  ],
  scope: 'job',
  worse: 'more',
  limit: () => noneOf('no colour overprints another'),
  *measure(ask) {
    let overprinting = 0;
    for (const film of ask.artwork.films) {
      const count = film.objects.filter(overprints).length;
      overprinting += count;
      if (count * film.objects.length > mostComparisons) {
        yield tooMany(film, count);
        continue;
      }
      const objects = paintedOn(film);
      const overlays = overlaysOn(ask, film, objects);
      for (const [index, object] of film.objects.entries()) {
        if (!overprints(object)) continue;
        const below = object.isWhite || isTrapStroke(object) ? null : darkestBelow(objects, index, overlays);
        const own = lightestOf(objects.looks[index]);
        const hazard = below !== null && own !== null && own.lightness >= keyLightness;
        yield filmReading(film, {
          value: hazard ? 1 : 0,
          unit: 'count',
          plusMinus: 0,
          inkNames: hazard ? [own.name, below.name] : [],
          boxMm: object.boxMm,
          objectId: object.id,
          detail: hazard ? (own.lightness > below.lightness ? lightOverDark : mixes) : undefined,
        });
      }
    }
    if (overprinting === 0) yield { why: 'No object is set to overprint.' };
  },
  judge: ({ value, detail }, limit) => {
    if (value <= limit.value) return { outcome: 'pass' };
    return { outcome: 'needsReview', code: detail === lightOverDark ? 'light-over-dark' : 'colours-mix' };
  },
  advice: {
    'light-over-dark': {
      customer: ({ reading: { inkNames }, placesTotal }) =>
        `${counted(placesTotal, 'object')} in ${inkNames[0]} ${oneOrMany(placesTotal, 'prints', 'print')} over ${inkNames[1]} and may not be seen there. Was that intended?`,
      printer: ({ reading: { inkNames } }) =>
        `Switch overprint off so that ${inkNames[0]} knocks out of ${inkNames[1]}, or print ${inkNames[0]} after it with an opaque ink.`,
    },
    'colours-mix': {
      customer: ({ reading: { inkNames }, placesTotal }) =>
        `${counted(placesTotal, 'object is', 'objects are')} set to print ${inkNames[0]} over ${inkNames[1]} and will change colour. Was that intended?`,
      printer: ({ reading: { inkNames } }) =>
        `Switch overprint off where ${listed(inkNames)} must stay clean; leave it on only for a mix the customer wants.`,
    },
  },
};

function overprints({ overprint, kind, hidden }: ArtObject): boolean {
  if (overprint === null || hidden !== null) return false;
  return kind === 'stroke' ? overprint.stroke : overprint.fill;
}

function tooMany(film: Film, count: number): Unmeasured {
  const reason = `${filmName(film)} has ${count} overprinting objects among ${film.objects.length}, too many to compare.`;
  return { reason, plateIds: [], inkNames: [], filmId: film.id, boxMm: null };
}

function isTrapStroke({ kind, strokeWidthMm }: ArtObject): boolean {
  return kind === 'stroke' && strokeWidthMm !== null && strokeWidthMm.max <= widestTrapStrokeMm;
}

interface InkLook {
  readonly key: string;
  readonly name: string;
  readonly lightness: number;
}

/** The objects of a film in painting order, the inks of each, and which lie near each other. */
interface Painted {
  readonly objects: readonly ArtObject[];
  readonly looks: readonly (readonly InkLook[])[];
  readonly tree: BoxTree;
}

function paintedOn(film: Film): Painted {
  const { objects } = film;
  const lookOf = new Map(
    film.inks
      .filter(({ kind }) => kind !== 'registration')
      .map(({ key, name, displayHex }) => [key, { key, name, lightness: lightnessOfHex(displayHex) }] as const),
  );
  const looks = objects.map(({ inks }) =>
    inks.flatMap(({ key, tintRatio }) => (tintRatio > 0 ? (lookOf.get(key) ?? []) : [])),
  );
  return { objects, looks, tree: new BoxTree(objects.map(({ boxMm }) => boxMm)) };
}

function lightestOf(looks: readonly InkLook[]): InkLook | null {
  let lightest: InkLook | null = null;
  for (const look of looks) {
    if (lightest === null || look.lightness > lightest.lightness) lightest = look;
  }
  return lightest;
}

/** Whether two inks of a film, by key, print over each other by more than traps along their edges. */
type Overlays = (one: string, other: string) => boolean;

/**
 * Objects may be clipped, so that their boxes meet and they do not. What the plates share is known: no more than traps
 * round the common boxes of the two inks' objects, or nothing, is no overlay.
 */
function overlaysOn(ask: Ask, film: Film, objects: Painted): Overlays {
  const known = new Map<string, boolean>();
  return (one, other) => {
    const pair = `${one}\n${other}`;
    const answer = known.get(pair) ?? doOverlay(ask, film, objects, one, other);
    known.set(pair, answer);
    return answer;
  };
}

function doOverlay(ask: Ask, film: Film, objects: Painted, one: string, other: string): boolean {
  const ids = [one, other].map(
    (key) => ask.plates.find((plate) => plate.film.id === film.id && plate.inkKey === key)?.id,
  );
  if (ids.includes(undefined)) return true;
  const overlap = ask.overlaps.find(({ plateIds }) => ids.every((id) => plateIds.includes(id!)));
  if (overlap === undefined) return false;
  const trapMm2 = (overlap.maxOverlapMm ?? 0) * commonOutlineMm(objects, one, other);
  return overlap.sharedAreaMm2 > trapShare * trapMm2 + speckMm2;
}

/** Length round the boxes that overprinting objects of one ink share with objects of another below them. */
function commonOutlineMm({ objects, tree }: Painted, one: string, other: string): number {
  let lengthMm = 0;
  for (const [index, object] of objects.entries()) {
    if (!overprints(object) || !object.inks.some(({ key }) => key === one)) continue;
    for (const at of tree.meeting(object.boxMm)) {
      const below = objects[at];
      if (at >= index || below.hidden !== null || !below.inks.some(({ key }) => key === other)) continue;
      const shared = intersectionOfBoxes(below.boxMm, object.boxMm);
      if (shared !== null) lengthMm += 2 * (shared.widthMm + shared.heightMm);
    }
  }
  return lengthMm;
}

/** The darkest ink of another colour painted earlier where the object lies. */
function darkestBelow({ objects, looks, tree }: Painted, index: number, overlays: Overlays): InkLook | null {
  const object = objects[index];
  const own = looks[index].map(({ key }) => key);
  let darkest: InkLook | null = null;
  for (const at of tree.meeting(object.boxMm)) {
    const other = objects[at];
    if (at >= index || other.hidden !== null || !shareArea(other.boxMm, object.boxMm)) continue;
    for (const look of looks[at]) {
      if (darkest !== null && look.lightness >= darkest.lightness) continue;
      if (!own.includes(look.key) && own.some((key) => overlays(key, look.key))) darkest = look;
    }
  }
  return darkest;
}

function shareArea(a: BoxMm, b: BoxMm): boolean {
  return (
    a.xMm < b.xMm + b.widthMm && b.xMm < a.xMm + a.widthMm && a.yMm < b.yMm + b.heightMm && b.yMm < a.yMm + a.heightMm
  );
}
