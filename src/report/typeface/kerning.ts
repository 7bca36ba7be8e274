import { classesOf, coverageOf, lookupsOf } from './layoutTables.ts';

const pairAdjustment = 2;
const xAdvance = 0x0004;

/** What is added to the advance of `left` before `right`, font units; undefined when the subtable has no say in it. */
type PairFinder = (left: number, right: number) => number | undefined;

/** Pair kerning of a font: font units to add between two glyphs (OpenType, GPOS, lookup type 2). */
export function kerningOf(gpos: Buffer): (left: number, right: number) => number {
  const finders = lookupsOf('GPOS', gpos, 'kern')
    .filter(({ type }) => type === pairAdjustment)
    .flatMap(({ subtables }) => subtables.map(finderOf));
  return (left, right) => {
    for (const find of finders) {
      const value = find(left, right);
      if (value !== undefined) return value;
    }
    return 0;
  };
}

function finderOf(table: Buffer): PairFinder {
  const coverage = coverageOf(table.subarray(table.readUInt16BE(2)));
  const [first, second] = [table.readUInt16BE(4), table.readUInt16BE(6)];
  const valueBytes = 2 * (bitsIn(first) + bitsIn(second));
  const advanceAt = 2 * bitsIn(first & (xAdvance - 1));
  const advance = (at: number) => (first & xAdvance ? table.readInt16BE(at + advanceAt) : 0);
  return table.readUInt16BE(0) === 1
    ? byGlyphs(table, coverage, 2 + valueBytes, advance)
    : byClasses(table, coverage, valueBytes, advance);
}

function byGlyphs(
  table: Buffer,
  coverage: ReadonlyMap<number, number>,
  recordBytes: number,
  advance: (at: number) => number,
): PairFinder {
  return (left, right) => {
    const place = coverage.get(left);
    if (place === undefined) return undefined;
    const set = table.readUInt16BE(10 + place * 2);
    const end = set + 2 + table.readUInt16BE(set) * recordBytes;
    for (let at = set + 2; at < end; at += recordBytes) {
      if (table.readUInt16BE(at) === right) return advance(at + 2);
    }
    return undefined;
  };
}

function byClasses(
  table: Buffer,
  coverage: ReadonlyMap<number, number>,
  recordBytes: number,
  advance: (at: number) => number,
): PairFinder {
  const leftClasses = classesOf(table.subarray(table.readUInt16BE(8)));
  const rightClasses = classesOf(table.subarray(table.readUInt16BE(10)));
  const rightCount = table.readUInt16BE(14);
  return (left, right) => {
    if (!coverage.has(left)) return undefined;
    const row = leftClasses.get(left) ?? 0;
    const column = rightClasses.get(right) ?? 0;
    return advance(16 + (row * rightCount + column) * recordBytes);
  };
}

function bitsIn(format: number): number {
  let count = 0;
  for (let rest = format; rest !== 0; rest &= rest - 1) count += 1;
  return count;
}
