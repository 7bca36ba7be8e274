import type { Finding, Limit } from '../findings/finding.ts';
import type { Entry } from '../report/entry.ts';
import { failingSideOf } from '../report/failingSide.ts';
import { inkValuesOf } from '../report/frontFacts.ts';
import { inksInShort, membersInWords } from '../report/inkWords.ts';
import { whereabouts } from '../report/placeKinds.ts';
import { allowsNone, readingInWords } from '../report/readingInWords.ts';
import type { ReportJson } from '../report/reportJson.ts';
import { shownText } from '../report/words.ts';
import { settlingDecision } from './decided.ts';
import { itemWords, printerAdvice } from './itemWords.ts';
import { lengthIn, type NoteUnits, quantityIn } from './noteQuantities.ts';
import type { NoteWords } from './words/wordsIn.ts';
import { writeLengths } from './writeLengths.ts';

const gap = ' ';

/** How a work list is written. */
export interface Manner {
  readonly words: NoteWords;
  readonly units: NoteUnits;
}

/** One point of a work list: check and inks, reading against limit, what to do, where, and who took it on. */
export function printerItem(report: ReportJson, entry: Entry, manner: Manner): string {
  const { check, finding, fold } = entry;
  const { words } = manner;
  if (finding === null) return check.id;
  if (fold === 'waiting') return waitingItem(entry, manner);
  const inks =
    fold === 'inks' ? `${membersWords(entry, manner)} (${inkList(entry)})` : inksWords(finding.inkNames, words);
  const head = inks === '' ? check.id : `${check.id}, ${inks}`;
  const [{ check: ownCheck, finding: own }] = entry.members;
  return joined([
    `${head}: ${measuredWords(entry, manner)}`.trimEnd(),
    sentence(adviceOf({ ...entry, check: ownCheck, finding: own }, manner)),
    placeWords(report, finding, manner),
    takenOnWords(report, entry, words),
  ]);
}

/** What is waited on, in English as in the report, or by the catalogue. */
function waitingItem(entry: Entry, manner: Manner): string {
  const { finding, check, title } = entry;
  if (manner.words.language === 'en')
    return inUnits(
      manner,
      joined([sentence(title), finding!.advice.printer, `Checks: ${sentence(finding!.details.join())}`]),
    );
  const { defect, effect } = itemWords(manner.words, manner.units, entry);
  return joined([defect, effect, `(${finding!.details.join(', ') || check.id})`]);
}

function takenOnWords(report: ReportJson, { members }: Entry, words: NoteWords): string {
  const said = members.map((member) => settlingDecision(report, member.check.id, member.finding));
  const taken = said.find((decision) => decision?.kind === 'doOurselves');
  if (taken === undefined || taken === null) return '';
  return sentence(words.workList('takenOn', { who: shownText(taken.by), reason: shownText(taken.reason) }));
}

function adviceOf(entry: Entry, manner: Manner): string {
  const { words, units } = manner;
  // What the catalogue says has its lengths as they are wanted; English advice is that of the report.
  return words.language === 'en'
    ? inUnits(manner, printerAdvice(words, 'mm', entry))
    : printerAdvice(words, units, entry);
}

function inksWords(names: readonly string[], words: NoteWords): string {
  if (names.length > 3 && words.language !== 'en') return words.workList('inks', { count: names.length });
  return shownText(inksInShort(names));
}

function membersWords({ members }: Entry, { words }: Manner): string {
  return words.language === 'en' ? membersInWords(members) : `${members.length}×`;
}

function inkList(entry: Entry): string {
  return inkValuesOf(entry, gap)
    .map(({ names, value }) => shownText(`${names.join(' / ')} ${value}`.trim()))
    .join(', ');
}

function measuredWords(entry: Entry, manner: Manner): string {
  const { words, units } = manner;
  const given = entry.finding?.limit ?? null;
  const origin = given === null ? '' : originOf(given, words);
  if (words.language === 'en') {
    const { reading, limit } = readingInWords(entry, { gap });
    if (reading === '' || reading === inksInShort(entry.finding?.inkNames ?? [])) return '';
    return inUnits(manner, limit === '' || given === null ? `${reading}.` : `${reading}, ${limit} (${origin}).`);
  }
  const measured = entry.finding?.measured ?? null;
  // Counts of what should not be there are told by the defect.
  if (measured === null || allowsNone(measured.unit, given)) return itemWords(words, units, entry).defect;
  const say = (value: number) => quantityIn(words, units, value, measured.unit);
  const reading =
    measured.plusMinus > 0 && measured.unit !== 'count'
      ? `${units === 'mm' ? bareNumber(say(measured.value)) : say(measured.value)} ± ${say(measured.plusMinus)}`
      : say(measured.value);
  if (given === null) return `${reading}.`;
  if (given.value === 0) return words.workList('limitNone', { reading, origin });
  const side = failingSideOf(entry.check, entry.finding!) ?? 'below';
  return words.workList('limit', { reading, side, limit: quantityIn(words, units, given.value, given.unit), origin });
}

/** `0,21` of `0,21 mm`. */
function bareNumber(quantity: string): string {
  return quantity.replace(/\u00a0\D+$/u, '');
}

/** A mesh rule names the mesh first and its arithmetic after a colon; the mesh is enough here. */
function originOf({ from, rule: said }: Limit, words: NoteWords): string {
  const rule = shownText(said);
  if (from === 'mesh') return words.workList('mesh', { mesh: rule.split(':')[0].replace(/^mesh /, '') });
  const origin = words.workList(from);
  return words.language === 'en' ? `${origin}, ${rule}` : origin;
}

/** Where the worst of it is, as one measures on the film: from its left edge and its top. */
function placeWords(report: ReportJson, finding: Finding, manner: Manner): string {
  const { words, units } = manner;
  const first = finding.places[0];
  if (first === undefined) return '';
  const { xMm, yMm } = whereabouts(first);
  const film = report.films.find((candidate) => candidate.id === first.filmId);
  const pages = report.films.filter((candidate) => candidate.file === film?.file).length;
  const length = (mm: number) =>
    words.language === 'en' ? inUnits(manner, `${mm.toFixed(1)} mm`) : lengthIn(words, units, mm);
  return words.workList('place', {
    count: Math.max(1, finding.placesTotal),
    left: length(xMm),
    top: length(yMm),
    file:
      film === undefined
        ? ''
        : words.workList(pages > 1 ? 'filePage' : 'file', { file: shownText(film.file), page: film.page }),
  });
}

/** English text of the report with its lengths in the units wanted. */
export function inUnits({ units }: Manner, text: string): string {
  return writeLengths(text, units);
}

export function sentence(text: string): string {
  const shown = shownText(text).trim();
  return shown === '' || /[.?!…]["”]?$/u.test(shown) ? shown : `${shown}.`;
}

function joined(parts: readonly string[]): string {
  return parts.filter((part) => part !== '').join(' ');
}
