import { coverageOf, lookupsOf, words } from './layoutTables.ts';

const ligatureSubstitution = 4;

/** A glyph that stands for several: those after the first, and the glyph. */
export interface Ligature {
  readonly rest: readonly number[];
  readonly glyph: number;
}

/** The ligatures that may begin with each glyph, those to be tried first first (OpenType, GSUB, lookup type 4). */
export function ligaturesOf(gsub: Buffer): ReadonlyMap<number, readonly Ligature[]> {
  const found = new Map<number, Ligature[]>();
  for (const { type, subtables } of lookupsOf('GSUB', gsub, 'liga')) {
    if (type !== ligatureSubstitution) continue;
    for (const table of subtables) {
      for (const [glyph, place] of coverageOf(table.subarray(table.readUInt16BE(2)))) {
        const set = table.subarray(table.readUInt16BE(6 + place * 2));
        const ligatures = words(set, 2, set.readUInt16BE(0)).map((offset): Ligature => {
          const [to, count] = words(set, offset, 2);
          return { rest: words(set, offset + 4, count - 1), glyph: to };
        });
        found.set(glyph, [...(found.get(glyph) ?? []), ...ligatures]);
      }
    }
  }
  return found;
}
