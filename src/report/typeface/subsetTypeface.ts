import type { Typeface } from './typeface.ts';

const unchanged = ['hhea', 'hmtx', 'maxp'] as const;
const hasMore = 0x20;
const argumentsAreWords = 0x01;
const scaled = 0x08;
const scaledBothWays = 0x40;
const turned = 0x80;

/**
 * A TrueType file of a face with the outlines of some glyphs alone. Glyphs keep their numbers, those left out are empty;
 * the tables are those a PDF wants (ISO 32000-1, 9.9).
 */
export function subsetTypeface(face: Typeface, glyphs: Iterable<number>): Buffer {
  const outlines = outlinesOf(face);
  const kept = withParts(glyphs, outlines);
  const places = new Uint32Array(outlines.length + 1);
  const parts: Buffer[] = [];
  let length = 0;
  outlines.forEach((outline, glyph) => {
    places[glyph] = length;
    if (!kept.has(glyph) || outline.length === 0) return;
    parts.push(outline, Buffer.alloc(-outline.length & 3));
    length += (outline.length + 3) & ~3;
  });
  places[outlines.length] = length;
  const loca = Buffer.alloc(places.length * 4);
  for (const [glyph, place] of places.entries()) loca.writeUInt32BE(place, glyph * 4);
  const head = Buffer.from(face.table('head'));
  head.writeInt16BE(1, 50);
  const tables = new Map<string, Buffer>(unchanged.map((tag) => [tag, face.table(tag)]));
  return sfntOf(tables.set('glyf', Buffer.concat(parts)).set('head', head).set('loca', loca));
}

function outlinesOf(face: Typeface): Buffer[] {
  const loca = face.table('loca');
  const glyf = face.table('glyf');
  const isLong = face.table('head').readInt16BE(50) === 1;
  const place = (glyph: number) => (isLong ? loca.readUInt32BE(glyph * 4) : loca.readUInt16BE(glyph * 2) * 2);
  const count = face.table('maxp').readUInt16BE(4);
  return Array.from({ length: count }, (_, glyph) => glyf.subarray(place(glyph), place(glyph + 1)));
}

/** The glyphs, glyph 0, and those they are put together of. */
function withParts(glyphs: Iterable<number>, outlines: readonly Buffer[]): Set<number> {
  const kept = new Set<number>();
  const open = [0, ...glyphs];
  for (let glyph = open.pop(); glyph !== undefined; glyph = open.pop()) {
    if (kept.has(glyph)) continue;
    kept.add(glyph);
    open.push(...partsOf(outlines[glyph]));
  }
  return kept;
}

function partsOf(outline: Buffer): number[] {
  if (outline.length === 0 || outline.readInt16BE(0) >= 0) return [];
  const parts: number[] = [];
  let at = 10;
  let flags = hasMore;
  while (flags & hasMore) {
    flags = outline.readUInt16BE(at);
    parts.push(outline.readUInt16BE(at + 2));
    at += flags & argumentsAreWords ? 8 : 6;
    if (flags & scaled) at += 2;
    else if (flags & scaledBothWays) at += 4;
    else if (flags & turned) at += 8;
  }
  return parts;
}

/** A font file of tables (OpenType, "Organization of an OpenType Font"), with its check sums. */
function sfntOf(tables: ReadonlyMap<string, Buffer>): Buffer {
  const sorted = [...tables].sort(([a], [b]) => (a < b ? -1 : 1));
  const headLength = 12 + 16 * sorted.length;
  const length = sorted.reduce((sum, [, data]) => sum + ((data.length + 3) & ~3), headLength);
  const sfnt = Buffer.alloc(length);
  const power = Math.floor(Math.log2(sorted.length));
  sfnt.writeUInt32BE(0x00010000, 0);
  const search = 16 << power;
  for (const [index, word] of [sorted.length, search, power, 16 * sorted.length - search].entries())
    sfnt.writeUInt16BE(word, 4 + 2 * index);
  let at = headLength;
  let adjustmentAt = 0;
  sorted.forEach(([tag, data], index) => {
    const entry = 12 + 16 * index;
    data.copy(sfnt, at);
    if (tag === 'head') {
      adjustmentAt = at + 8;
      sfnt.writeUInt32BE(0, adjustmentAt);
    }
    const end = at + ((data.length + 3) & ~3);
    sfnt.write(tag, entry, 'latin1');
    sfnt.writeUInt32BE(checkSum(sfnt.subarray(at, end)), entry + 4);
    sfnt.writeUInt32BE(at, entry + 8);
    sfnt.writeUInt32BE(data.length, entry + 12);
    at = end;
  });
  sfnt.writeUInt32BE((0xb1b0afba - checkSum(sfnt)) >>> 0, adjustmentAt);
  return sfnt;
}

function checkSum(bytes: Buffer): number {
  let sum = 0;
  for (let at = 0; at < bytes.length; at += 4) sum = (sum + bytes.readUInt32BE(at)) >>> 0;
  return sum;
}
