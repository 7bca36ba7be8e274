import type { BoxMm } from '../geometry/box.ts';
import { jobSizeMm } from '../report/digest.ts';
import { entryOf } from '../report/entry.ts';
import type { ReportJson, ReportPlacement } from '../report/reportJson.ts';
import { shownText } from '../report/words.ts';
import { type ArtPlace, artOnFilm, artPlaceOf, placeInWords } from './artPlace.ts';
import { jobName } from './customerNote.ts';
import { acceptedFindings, withoutSettled } from './decided.ts';
import { itemWords } from './itemWords.ts';
import { lengthIn, type NoteUnits } from './noteQuantities.ts';
import { pickRequests } from './pickRequests.ts';
import { type NoteLanguage, type NoteWords, wordsIn } from './words/wordsIn.ts';

export interface ProofWish {
  readonly language: NoteLanguage;
  readonly units: NoteUnits;
  readonly shop: string | null;
  /** Checks whose findings the shop settles itself. */
  readonly weFix: readonly string[];
}

/** All that a proof says; every figure is one of the report. */
export interface ProofFacts {
  readonly title: string;
  readonly shop: string;
  /** The film, whose measures the picture has. */
  readonly sizeMm: { readonly widthMm: number; readonly heightMm: number };
  /** What is shown of the film: the art; all of it where the art could not be told from its marks. */
  readonly shownMm: BoxMm;
  /** Where the ticket puts the art; null where it does not, and then no place is drawn. */
  readonly place: { readonly art: ArtPlace; readonly given: ReportPlacement } | null;
  readonly garmentHex: string;
  /** Terms with their values. */
  readonly facts: readonly { readonly term: string; readonly value: string; readonly swatchHex?: string }[];
  readonly inks: readonly { readonly name: string; readonly hex: string }[];
  /** Each heading with its lines; none where there is nothing to say. */
  readonly lists: readonly { readonly heading: string; readonly lines: readonly string[] }[];
}

const mostLines = 6;

/** Gathers what a proof says. Null where no film has a known size, as then there is nothing to approve. */
export function proofFacts(report: ReportJson, { language, units, shop, weFix }: ProofWish): ProofFacts | null {
  const sizeMm = jobSizeMm(report);
  if (sizeMm === null || report.films.some(({ scaleKnown }) => scaleKnown === false)) return null;
  const words = wordsIn(language);
  const { ticket, plan } = report;
  const printed = plan.order.filter(({ what }) => what === 'ink');
  const sides = (width: number, height: number) =>
    `${lengthIn(words, units, width)} × ${lengthIn(words, units, height)}`;
  const size = sides(sizeMm.widthMm, sizeMm.heightMm);
  const art = artOnFilm(report);
  const given = ticket.print.placement ?? null;
  const placeWords = placeInWords(given, words, units);
  const place = art === null || given === null || placeWords === null ? null : { art: artPlaceOf(given, art), given };
  const garment = [ticket.fabric, ticket.print.location ?? ''].map(shownText).filter(Boolean).join(', ');
  const said = (members: readonly Parameters<typeof entryOf>[0][]) =>
    members.map((member) => itemWords(words, units, entryOf(member)).defect);
  const { stopping, open } = pickRequests(withoutSettled(report), 'customer', weFix);
  const unsettled = [...stopping, ...open].map((entry) => itemWords(words, units, entry).defect);
  const short = (lines: readonly string[]) =>
    lines.length <= mostLines
      ? lines
      : [...lines.slice(0, mostLines - 1), words.proof('moreOf', { count: lines.length - mostLines + 1 })];
  return {
    title: words.proof('title', { job: jobName(report) }),
    shop: shownText(shop ?? ''),
    sizeMm,
    shownMm: art ?? { xMm: 0, yMm: 0, ...sizeMm },
    place,
    garmentHex: ticket.garmentHex,
    facts: [
      ...(art === null ? [] : [{ term: words.proof('art'), value: sides(art.widthMm, art.heightMm) }]),
      { term: words.proof('size'), value: size },
      ...(ticket.print.widthMm === null || ticket.print.heightMm === null
        ? []
        : [{ term: words.proof('ordered'), value: sides(ticket.print.widthMm, ticket.print.heightMm) }]),
      { term: words.proof('garment'), value: garment, swatchHex: ticket.garmentHex },
      { term: words.proof('placeTerm'), value: placeValue(words, placeWords, art) },
      ...(ticket.print.quantity === null
        ? []
        : [{ term: words.proof('quantity'), value: words.number(ticket.print.quantity, 0) }]),
      { term: words.proof('inks'), value: words.proof('screens', { count: printed.length }) },
    ],
    inks: printed.map(({ inkId, inkName }) => ({
      name: shownText(inkName ?? ''),
      hex: report.inks.find(({ id }) => id === inkId)?.displayHex ?? '#808080',
    })),
    lists: [
      { heading: words.proof('accepted'), lines: short(said(acceptedFindings(report))) },
      { heading: words.proof('open'), lines: short(unsettled) },
      {
        heading: words.proof('cautions'),
        lines: [
          words.proof('spelling'),
          words.proof('colours'),
          words.proof('register', { value: lengthIn(words, units, ticket.press.registrationMm) }),
          ...placeCautions(words, place),
        ],
      },
    ].filter(({ lines }) => lines.length > 0),
  };
}

function placeValue(words: NoteWords, placeWords: string | null, art: BoxMm | null): string {
  if (placeWords === null) return words.proof('notGiven');
  return art === null ? `${placeWords} (${words.proof('notKnown')})` : placeWords;
}

/** What is to be known to read the drawing rightly. */
function placeCautions(words: NoteWords, place: ProofFacts['place']): string[] {
  if (place === null) return [words.proof('place')];
  const { collarMm, hemMm, leftSeamMm, rightSeamMm, isWithin } = place.art;
  const hasOpenEdge = [collarMm, hemMm, leftSeamMm, rightSeamMm].includes(null);
  return [
    ...(isWithin ? [] : [words.proof('beyond')]),
    ...(place.given.side === undefined ? [] : [words.proof('sides')]),
    ...(hasOpenEdge ? [words.proof('edges')] : []),
  ];
}
