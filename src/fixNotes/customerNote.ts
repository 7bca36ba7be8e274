import type { Entry } from '../report/entry.ts';
import { placeKindOf, spotOf } from '../report/placeKinds.ts';
import type { ReportFilm, ReportJson } from '../report/reportJson.ts';
import { remedyOf, shownText } from '../report/words.ts';
import { withoutSettled } from './decided.ts';
import { type ItemWords, itemWords, joinWords } from './itemWords.ts';
import { lengthIn, type NoteUnits } from './noteQuantities.ts';
import { pickRequests } from './pickRequests.ts';
import { phraseIn, type ShopPhrases } from './shopPhrases.ts';
import { type NoteLanguage, type NoteWords, wordsIn } from './words/wordsIn.ts';

/** More than this is not read; the report has them all. */
const mostItems = 15;
const sameSizeMm = 0.05;

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
  /** The longer side of the place. */
  readonly sizeMm: number;
}

export interface NoteItem extends ItemWords {
  readonly number: number;
  /** How many places and where the worst is; empty where that helps nobody. */
  readonly places: string;
  readonly spot: NoteSpot | null;
}

/** A note to the customer as plain data: every rendering says the same. No text holds a line break or a control character. */
export interface CustomerNote {
  readonly language: NoteLanguage;
  readonly units: NoteUnits;
  readonly subject: string;
  readonly greeting: string;
  readonly opening: readonly string[];
  readonly sections: readonly { readonly heading: string; readonly items: readonly NoteItem[] }[];
  readonly closing: readonly string[];
  readonly signature: readonly string[];
}

/**
 * Asks the customer for what only the customer can settle, most important first, each question numbered. Says nothing of
 * paths, of remarks within the shop, or of anybody else. What people have accepted or taken on is not asked for.
 */
export function customerNote(checked: ReportJson, wish: NoteWish): CustomerNote {
  const report = withoutSettled(checked);
  const words = wordsIn(wish.language);
  const { stopping, open, leftToPrinter } = pickRequests(report, 'customer', wish.weFix);
  const joins = report.joined.some((note) => note.open) ? 1 : 0;
  const count = stopping.length + open.length + joins;
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
    phrase('opening') ?? words.frame('opening', { files: filesOf(report), size: sizeOf(report, words, wish.units) });
  let number = 0;
  const item = (said: ItemWords, entry: Entry | null): NoteItem => ({
    ...said,
    number: ++number,
    places: entry === null ? '' : placesOf(report, words, wish.units, entry),
    spot: entry === null ? null : spotOn(entry),
  });
  const section = (heading: 'change' | 'tell', first: readonly ItemWords[], entries: readonly Entry[]) => ({
    heading: words.frame(heading),
    items: [
      ...first.map((said) => item(said, null)),
      ...entries.slice(0, mostItems - first.length).map((entry) => item(itemWords(words, wish.units, entry), entry)),
    ],
  });
  const sections = [section('change', [], stopping), section('tell', joins > 0 ? [joinWords(words)] : [], open)].filter(
    ({ items }) => items.length > 0,
  );
  const left = count - number;
  const closing =
    count === 0
      ? [words.frame(report.verdict === 'pass' ? 'ready' : report.verdict === 'couldNotRun' ? 'notChecked' : 'nothing')]
      : [
          ...(left > 0 ? [words.frame('more', { count: left })] : []),
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
  return { filmId: first.filmId, ...spotOf(first), sizeMm: Math.max(first.widthMm, first.heightMm) };
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
