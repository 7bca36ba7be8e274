import type { Finding } from '../findings/finding.ts';
import type { Entry } from '../report/entry.ts';
import { shownText } from '../report/words.ts';
import { type NoteUnits, quantityIn } from './noteQuantities.ts';
import type { FindingWords, GeneralCode, OfferKey } from './words/catalogue.ts';
import { type NoteWords, printerWords, type Values } from './words/wordsIn.ts';

/** What is said of one finding: one defect, what it does to the print, one request, one offer. */
export interface ItemWords {
  readonly defect: string;
  readonly effect: string;
  readonly request: string;
  readonly offer: string;
}

/** The words of the catalogue for an entry; what the catalogue does not know is said as the report does. */
export function itemWords(words: NoteWords, units: NoteUnits, { check, finding, title }: Entry): ItemWords {
  const { catalogue } = words;
  const code = finding?.code ?? 'in-doubt';
  const known = (catalogue.findings as Readonly<Record<string, FindingWords>>)[check.id];
  const [defect, request] = known?.codes[code] ?? [];
  const values = valuesOf(words, units, finding, title);
  if (defect === undefined || (needsReading(`${defect}${request}`) && !isRead(finding))) {
    const general = code in catalogue.general ? catalogue.general[code as GeneralCode] : null;
    if (general === null && finding !== null && known === undefined)
      return { defect: shownText(finding.advice.customer), effect: '', request: '', offer: '' };
    return filled(words, general ?? catalogue.general['not-measured'], values);
  }
  return filled(words, { defect, effect: known.effect, request, offer: known.offer }, values);
}

/** What is said once a finding is put right. */
export function settledWords(words: NoteWords, { check, finding, title }: Entry): string {
  const { findings, general } = words.catalogue;
  const code = finding?.code ?? 'in-doubt';
  const known = (findings as Readonly<Record<string, FindingWords>>)[check.id];
  const said = code in general || known === undefined ? general['in-doubt'].settled : known.settled;
  // Nothing of what was read is said again, so the units do not matter.
  return sentenceOf(words.fill(said, valuesOf(words, 'mm', finding, title)));
}

/** Begun with a capital, also where an ink that nobody named comes first. */
export function sentenceOf(text: string): string {
  return text.charAt(0).toLocaleUpperCase() + text.slice(1);
}

/** What the files left open. */
export function joinWords(words: NoteWords): ItemWords {
  return filled(words, words.catalogue.general['open-join'], {});
}

/** What the printer can do: in English as the report says it, which knows meshes and rulings. */
export function printerAdvice(words: NoteWords, units: NoteUnits, { check, finding, title }: Entry): string {
  if (finding === null) return '';
  const known = printerWords[words.language] as Readonly<Record<string, Readonly<Record<string, string>>>> | null;
  const message = known?.[check.id]?.[finding.code];
  if (message === undefined || (needsReading(message) && !isRead(finding))) return shownText(finding.advice.printer);
  return words.fill(message, valuesOf(words, units, finding, title));
}

/** Whether a message speaks of the reading or of its limit. */
function needsReading(message: string): boolean {
  return /\{(?:value|limit|safe|short|number|most)\b/.test(message);
}

function isRead(finding: Finding | null): boolean {
  return finding?.measured != null && finding.limit != null;
}

function filled(
  words: NoteWords,
  { defect, effect, request, offer }: Omit<ItemWords, 'offer'> & { readonly offer: OfferKey },
  values: Values,
): ItemWords {
  const { catalogue } = words;
  return {
    defect: sentenceOf(words.fill(defect, values)),
    effect: words.fill(effect, values),
    request: words.fill(request, values),
    offer: catalogue.offers[offer],
  };
}

function valuesOf(words: NoteWords, units: NoteUnits, finding: Finding | null, title: string): Values {
  const names = (finding?.inkNames ?? []).map((name) => words.ink(shownText(name)));
  // Texts and pictures that are waited on stand in quotes.
  const waited = [...title.matchAll(/["“]([^"“”]+)["”]/gu)].map(([, name]) => shownText(name));
  const measured = finding?.measured ?? null;
  const limit = finding?.limit ?? null;
  const isCount = measured?.unit === 'count';
  const counted = finding !== null && finding.placesTotal > 0 ? finding.placesTotal : isCount ? measured.value : 1;
  // What is asked for must be enough: at least the limit, or at most.
  const enough = finding?.worse === 'more' ? 'down' : 'up';
  const say = (value: number, rounding: 'nearest' | 'up' | 'down') =>
    measured === null ? '' : quantityIn(words, units, value, limit?.unit ?? measured.unit, rounding);
  const both = measured !== null && limit !== null;
  return {
    inks: words.list(names),
    many: Math.max(1, names.length),
    ink: names[0] ?? '',
    other: names[1] ?? '',
    names: waited.length > 0 ? words.list(waited.map((name) => `“${name}”`)) : 'none',
    count: Math.max(1, Math.round(counted)),
    value: measured === null ? '' : quantityIn(words, units, Math.abs(measured.value), measured.unit),
    limit: limit === null ? '' : say(limit.value, enough),
    safe: both ? say(limit.value + measured.plusMinus, 'up') : '',
    short: both ? say(Math.abs(limit.value - measured.value), 'up') : '',
    number: measured?.value ?? 0,
    most: limit?.value ?? 0,
  };
}
