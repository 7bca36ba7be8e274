import type { PDFDict } from '@cantoo/pdf-lib';
import type { ReadFilm } from '../../artwork/film.ts';
import { blackKey, whiteKey } from './inkBook.ts';
import { asDict, asName, asNumber, asText, decodeByteText, type PdfValues } from './pdfValues.ts';
import type { PageReading } from './readPage.ts';

/** Name of the ink a page says it is the separation of (ISO 32000-1, 14.11.4), or null. */
export function separationNameOf(values: PdfValues, page: PDFDict): string | null {
  const info = values.dict(page, 'SeparationInfo');
  const colorant = values.get(info, 'DeviceColorant');
  const name = asName(colorant);
  return name !== null ? decodeByteText(name) : asText(colorant);
}

/**
 * Pages that are painted in black and grey only, and several of them, are films already separated, named by their page
 * labels. A single black page stays a composite of one ink.
 */
export function withSeparations(
  values: PdfValues,
  catalog: PDFDict | null,
  readings: readonly PageReading[],
): ReadFilm[] {
  const isPlain = readings.map(
    ({ film, paintsColour, paintsGrey }) =>
      paintsGrey && !paintsColour && film.inks.filter((ink) => ink.used).every((ink) => ink.key === blackKey),
  );
  const allPlain = readings.length > 1 && isPlain.every((plain) => plain);
  return readings.map(({ film }, index) => {
    if (film.form === 'separation') return oneInk(film, film.separationName);
    if (!allPlain) return film;
    return oneInk(film, pageLabelOf(values, catalog, index));
  });
}

/** A film of one channel: the black, or the one ink, it is painted in. */
function oneInk(film: ReadFilm, separationName: string | null): ReadFilm {
  const used = film.inks.filter((ink) => ink.used && ink.key !== whiteKey);
  if (used.length > 1) {
    const message = `The page calls itself the film of one ink ("${separationName}") but is painted in several.`;
    const notes = [...film.notes, { code: 'separation-in-colours', message, affects: 'inks' as const }];
    return { ...film, form: 'composite', separationName: null, notes };
  }
  const ink = used[0] ?? film.inks.find(({ key }) => key === blackKey) ?? unusedBlack;
  return { ...film, form: 'separation', separationName, inks: [{ ...ink, name: separationName ?? ink.name }] };
}

const unusedBlack = { key: blackKey, name: 'Black', kind: 'process', displayHex: '#1a1a1a', used: false } as const;

/** Label with letters of its own (a prefix); mere numbers name no ink (ISO 32000-1, 12.4.2). */
function pageLabelOf(values: PdfValues, catalog: PDFDict | null, index: number): string | null {
  const entries: { start: number; dict: PDFDict }[] = [];
  const visit = (node: PDFDict | null, depth: number): void => {
    if (!node || depth > 16) return;
    const numbers = values.listOf(node, 'Nums') ?? [];
    for (let k = 0; k + 1 < numbers.length; k += 2) {
      const start = asNumber(numbers[k]);
      const dict = asDict(numbers[k + 1]);
      if (start !== null && dict) entries.push({ start, dict });
    }
    for (const kid of values.listOf(node, 'Kids') ?? []) visit(asDict(kid), depth + 1);
  };
  visit(values.dict(catalog, 'PageLabels'), 0);
  let found: (typeof entries)[number] | null = null;
  for (const entry of entries) if (entry.start <= index && (!found || entry.start >= found.start)) found = entry;
  if (!found) return null;
  const prefix = asText(values.get(found.dict, 'P'))?.trim();
  if (!prefix) return null;
  const isAlone = values.name(found.dict, 'S') === null;
  return isAlone ? prefix : `${prefix}${index - found.start + (values.number(found.dict, 'St') ?? 1)}`;
}
