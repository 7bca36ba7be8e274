import type { Entry } from '../report/entry.ts';
import { placeKindOf, spotOf } from '../report/placeKinds.ts';
import type { ReportFilm, ReportJson } from '../report/reportJson.ts';
import { remedyOf, shownText } from '../report/words.ts';
import type { ArtChange } from '../revisions/artChange.ts';
import { changeWords } from './changeWords.ts';
import { withoutSettled } from './decided.ts';
import { type ItemWords, itemWords, joinWords, settledWords } from './itemWords.ts';
import type { NoteLink } from './noteLink.ts';
import { lengthIn, type NoteUnits } from './noteQuantities.ts';
import { type NoteSince, placesBefore, settledRequests, unaskedChanges } from './noteSince.ts';
import { pickRequests } from './pickRequests.ts';
import { phraseIn, type ShopPhrases } from './shopPhrases.ts';
import { type NoteLanguage, type NoteWords, wordsIn } from './words/wordsIn.ts';

/** More than this is not read; the report has them all. */
const mostItems = 15;
const mostChanges = 6;
const mostSettled = 6;
const sameSizeMm = 0.05;
/** Of a long line its worst spot is shown, not all of it. */
const mostSpotMm = 10;

export interface NoteWish {
  readonly language: NoteLanguage;
  readonly units: NoteUnits;
  /** How the customer is called; null: not at all. */
  readonly customer: string | null;
  readonly shop: string | null;
  /** Answer by this day, 2030-06-24, which is so many days away; null: no day is named. */
  readonly answerBy: { readonly day: string; readonly days: number } | null;
  readonly phrases: ShopPhrases;
  /** What somebody wrote for this note alone, as it is to stand there: the greeting, and a sentence before the thanks. */
  readonly own?: { readonly greeting: string | null; readonly extra: string | null };
  /** Checks whose findings the shop settles itself, besides those that always are. */
  readonly weFix: readonly string[];
}

/** A spot on a film, mm from its left and top edges. */
export interface NoteSpot {
  readonly filmId: string;
  readonly xMm: number;
  readonly yMm: number;
  /** The longer side of the place, 10 at most where it is a finding’s. */
  readonly sizeMm: number;
}

export interface NoteItem extends ItemWords {
  readonly number: number;
  /** Whether it is new since the last revision, as it was, or better; empty in a first note. */
  readonly since: string;
  /** How many places and where the worst is; empty where that helps nobody. */
  readonly places: string;
  readonly spot: NoteSpot | null;
  /** What changed, where nobody asked for it. */
  readonly change: ArtChange | null;
}

/** A note to the customer as plain data: every rendering says the same. No text holds a line break or a control character. */
export interface CustomerNote {
  readonly language: NoteLanguage;
  readonly units: NoteUnits;
  readonly subject: string;
  readonly greeting: string;
  readonly opening: readonly string[];
  /** What was asked for before and is put right; null in a first note, and where there is nothing. */
  readonly settled: { readonly heading: string; readonly lines: readonly string[] } | null;
  readonly sections: readonly { readonly heading: string; readonly items: readonly NoteItem[] }[];
  readonly link?: NoteLink;
  readonly closing: readonly string[];
  readonly signature: readonly string[];
}

/**
 * Asks the customer for what only the customer can settle, most important first, each question numbered. Says nothing of
 * paths, of remarks within the shop, or of anybody else. What people have accepted or taken on is not asked for.
 *
 * `since`: the revision before. Then it thanks for what is put right, says of the rest whether it is new, and asks about
 * what changed without having been asked for.
 */
export function customerNote(checked: ReportJson, wish: NoteWish, since: NoteSince | null = null): CustomerNote {
  const report = withoutSettled(checked);
  const words = wordsIn(wish.language);
  const { stopping, open, leftToPrinter } = pickRequests(report, 'customer', wish.weFix);
  const joins = report.joined.some((note) => note.open) ? 1 : 0;
  const unasked = since === null ? [] : unaskedChanges(report, since, wish.weFix);
  const count = stopping.length + open.length + joins + unasked.length;
  const values = {
    customer: oneLine(wish.customer ?? '') || 'none',
    job: jobName(report),
    shop: oneLine(wish.shop ?? ''),
    count,
    days: wish.answerBy?.days ?? 0,
    date: wish.answerBy === null ? '' : words.day(wish.answerBy.day),
  };
  const phrase = (name: keyof ShopPhrases) =>
    phraseIn(words, wish.phrases[name], { ...values, customer: oneLine(wish.customer ?? '') });
  const opening =
    phrase('opening') ??
    words.frame(since === null ? 'opening' : 'openingAgain', {
      files: filesOf(report),
      size: sizeOf(report, words, wish.units),
    });
  let number = 0;
  const item = (said: ItemWords, entry: Entry | null): NoteItem => ({
    ...said,
    number: ++number,
    since: since === null || entry === null ? '' : sinceWords(words, since, entry),
    places: entry === null ? '' : placesOf(report, words, wish.units, entry),
    spot: entry === null ? null : spotOn(entry),
    change: null,
  });
  const changed = (change: ArtChange): NoteItem => ({
    ...changeWords(words, wish.units, change),
    number: ++number,
    since: '',
    ...placeOfChange(report, words, wish.units, change),
    change,
  });
  const section = (heading: 'change' | 'tell', first: readonly ItemWords[], entries: readonly Entry[]) => ({
    heading: words.frame(heading),
    items: [
      ...first.map((said) => item(said, null)),
      ...entries.slice(0, mostItems - first.length).map((entry) => item(itemWords(words, wish.units, entry), entry)),
    ],
  });
  const asked = [section('change', [], stopping), section('tell', joins > 0 ? [joinWords(words)] : [], open)];
  const left = count - unasked.length - number;
  const sections = [
    ...asked,
    { heading: words.frame('meant'), items: unasked.slice(0, mostChanges).map(changed) },
  ].filter(({ items }) => items.length > 0);
  const leftChanges = Math.max(0, unasked.length - mostChanges);
  const closing =
    count === 0
      ? [words.frame(report.verdict === 'pass' ? 'ready' : report.verdict === 'couldNotRun' ? 'notChecked' : 'nothing')]
      : [
          ...(left > 0 ? [words.frame('more', { count: left })] : []),
          ...(leftChanges > 0 ? [words.frame('moreChanged', { count: leftChanges })] : []),
          ...(leftToPrinter > 0 ? [words.frame('ours', { count: leftToPrinter })] : []),
          `${words.frame('answer')} ${words.frame('unchanged')}`,
          wish.answerBy === null ? words.frame('noDate') : words.frame('by', { date: values.date }),
        ];
  const extra = [phrase('price'), phrase('turnAround')].filter((said) => said !== null && said !== '') as string[];
  const ownExtra = oneLine(wish.own?.extra ?? '') === '' ? [] : [wish.own!.extra!];
  return {
    language: wish.language,
    units: wish.units,
    subject: oneLine(words.frame('subject', values)),
    greeting: oneLine(wish.own?.greeting ?? phrase('greeting') ?? words.frame('greeting', values)),
    opening: [oneLine(opening)],
    settled: since === null ? null : settledPart(words, settledRequests(since, wish.weFix)),
    sections,
    closing: [...closing, ...(count === 0 ? [] : extra), ...ownExtra, phrase('thanks') ?? words.frame('thanks')].map(
      oneLine,
    ),
    signature: (phrase('signature') ?? values.shop)
      .split('\n')
      .map(oneLine)
      .filter((line) => line !== ''),
  };
}

/** Thanks for what is put right, each thing once. */
function settledPart(words: NoteWords, entries: readonly Entry[]): CustomerNote['settled'] {
  const lines = [...new Set(entries.map((entry) => settledWords(words, entry)))];
  if (lines.length === 0) return null;
  const left = lines.length - mostSettled;
  const shown = left > 0 ? [...lines.slice(0, mostSettled), words.frame('moreSettled', { count: left })] : lines;
  return { heading: words.frame('settled'), lines: shown.map(oneLine) };
}

function sinceWords(words: NoteWords, since: NoteSince, entry: Entry): string {
  const before = placesBefore(since, entry);
  if (before === null) return words.frame('newHere');
  const count = entry.finding?.placesTotal ?? 0;
  return count > 0 && count < before ? words.frame('lessThere', { count, before }) : words.frame('stillThere');
}

/** Where a change is to be seen on the first film of its inks. */
function placeOfChange(
  report: ReportJson,
  words: NoteWords,
  units: NoteUnits,
  { box, inkNames }: ArtChange,
): Pick<NoteItem, 'places' | 'spot'> {
  const ink = report.inks.find(({ name }) => inkNames.includes(name));
  const filmId = report.plates.find(({ inkId }) => inkId === ink?.id)?.filmId ?? report.films[0]?.id;
  const film = report.films.find(({ id }) => id === filmId);
  if (box === null || film === undefined) return { places: '', spot: null };
  const spot = { filmId: film.id, xMm: box.xMm + box.widthMm / 2, yMm: box.yMm + box.heightMm / 2 };
  const places = words.frame('changedAt', {
    left: lengthIn(words, units, spot.xMm, 'nearest', 1),
    top: lengthIn(words, units, spot.yMm, 'nearest', 1),
    file: fileWords(report, words, film),
  });
  return { places, spot: { ...spot, sizeMm: Math.max(box.widthMm, box.heightMm) } };
}

function oneLine(text: string): string {
  return shownText(text).trim();
}

/** The job's name on one line, without folders. */
export function jobName(report: ReportJson): string {
  return oneLine(report.job.name).split(/[\\/]/).at(-1) || '–';
}

function filesOf({ films }: ReportJson): number {
  return Math.max(1, new Set(films.map(({ file }) => file)).size);
}

function sizeOf({ films: [first, ...others] }: ReportJson, words: NoteWords, units: NoteUnits): string {
  if (first === undefined || !first.scaleKnown) return words.frame('noSize');
  const same = others.every(
    (film) =>
      Math.abs(film.widthMm - first.widthMm) < sameSizeMm && Math.abs(film.heightMm - first.heightMm) < sameSizeMm,
  );
  return same
    ? `${lengthIn(words, units, first.widthMm)} × ${lengthIn(words, units, first.heightMm)}`
    : words.frame('sizes');
}

/** Whether a place helps to find it: not where a whole ink is meant, nor one place of several inks. */
function isSpot({ check, finding, fold }: Entry): boolean {
  if (finding === null || fold !== 'none' || finding.places.length === 0) return false;
  const remedy = remedyOf(check.id);
  return remedy === 'files' || remedy === 'register' || placeKindOf(check.id, finding) !== 'area';
}

function spotOn(entry: Entry): NoteSpot | null {
  const first = entry.finding?.places[0];
  if (first === undefined || !isSpot(entry)) return null;
  const sizeMm = Math.min(mostSpotMm, Math.max(first.widthMm, first.heightMm));
  return { filmId: first.filmId, ...spotOf(first), sizeMm };
}

function placesOf(report: ReportJson, words: NoteWords, units: NoteUnits, entry: Entry): string {
  const spot = spotOn(entry);
  if (spot === null) return '';
  const film = report.films.find(({ id }) => id === spot.filmId);
  return words.frame('places', {
    count: Math.max(1, entry.finding?.placesTotal ?? 1),
    left: lengthIn(words, units, spot.xMm),
    top: lengthIn(words, units, spot.yMm),
    file: film === undefined ? '' : fileWords(report, words, film),
  });
}

/** The name alone, as the customer knows the file. */
function fileWords(report: ReportJson, words: NoteWords, film: ReportFilm): string {
  const file = oneLine(film.file).split(/[\\/]/).at(-1) ?? '';
  const pages = report.films.filter((other) => other.file === film.file).length;
  return pages > 1 ? words.frame('page', { file, page: film.page }) : file;
}
