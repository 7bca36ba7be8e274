/** One lookup of a GSUB or GPOS table, its extensions resolved. */
export interface Lookup {
  readonly type: number;
  readonly subtables: readonly Buffer[];
}

const extensionTypes: Readonly<Record<'GSUB' | 'GPOS', number>> = { GSUB: 7, GPOS: 9 };

/**
 * The lookups of a feature for text of any script and language, in their order (OpenType, chapter 2, "Common Table
 * Formats"). None when the feature is not there.
 */
export function lookupsOf(kind: 'GSUB' | 'GPOS', table: Buffer, feature: string): Lookup[] {
  const features = table.subarray(table.readUInt16BE(6));
  const lookups = table.subarray(table.readUInt16BE(8));
  const indices = featuresOfDefaultScript(table.subarray(table.readUInt16BE(4)))
    .map((index) => 2 + index * 6)
    .filter((at) => features.toString('latin1', at, at + 4) === feature)
    .flatMap((at) => {
      const record = features.subarray(features.readUInt16BE(at + 4));
      return words(record, 4, record.readUInt16BE(2));
    });
  return [...new Set(indices)]
    .sort((a, b) => a - b)
    .map((index) => lookupAt(lookups.subarray(lookups.readUInt16BE(2 + index * 2)), extensionTypes[kind]));
}

function featuresOfDefaultScript(scripts: Buffer): number[] {
  const count = scripts.readUInt16BE(0);
  for (let at = 2; at < 2 + count * 6; at += 6) {
    if (scripts.toString('latin1', at, at + 4) !== 'DFLT') continue;
    const script = scripts.subarray(scripts.readUInt16BE(at + 4));
    const language = script.subarray(script.readUInt16BE(0));
    return words(language, 6, language.readUInt16BE(4));
  }
  return [];
}

function lookupAt(lookup: Buffer, extensionType: number): Lookup {
  const type = lookup.readUInt16BE(0);
  const subtables = words(lookup, 6, lookup.readUInt16BE(4)).map((offset) => lookup.subarray(offset));
  if (type !== extensionType || subtables.length === 0) return { type, subtables };
  return {
    type: subtables[0].readUInt16BE(2),
    subtables: subtables.map((subtable) => subtable.subarray(subtable.readUInt32BE(4))),
  };
}

/** Glyphs of a coverage table with their places in it. */
export function coverageOf(table: Buffer): ReadonlyMap<number, number> {
  const places = new Map<number, number>();
  const count = table.readUInt16BE(2);
  if (table.readUInt16BE(0) === 1) {
    for (const [place, glyph] of words(table, 4, count).entries()) places.set(glyph, place);
    return places;
  }
  for (let at = 4; at < 4 + count * 6; at += 6) {
    const [first, last, place] = words(table, at, 3);
    for (let glyph = first; glyph <= last; glyph += 1) places.set(glyph, place + glyph - first);
  }
  return places;
}

/** Glyphs of a class definition table with their classes; those it does not name are of class 0. */
export function classesOf(table: Buffer): ReadonlyMap<number, number> {
  const classes = new Map<number, number>();
  if (table.readUInt16BE(0) === 1) {
    const first = table.readUInt16BE(2);
    for (const [index, value] of words(table, 6, table.readUInt16BE(4)).entries()) classes.set(first + index, value);
    return classes;
  }
  const count = table.readUInt16BE(2);
  for (let at = 4; at < 4 + count * 6; at += 6) {
    const [first, last, value] = words(table, at, 3);
    for (let glyph = first; glyph <= last; glyph += 1) classes.set(glyph, value);
  }
  return classes;
}

/** So many unsigned 16-bit words from `at`. */
export function words(table: Buffer, at: number, count: number): number[] {
  return Array.from({ length: count }, (_, index) => table.readUInt16BE(at + index * 2));
}
