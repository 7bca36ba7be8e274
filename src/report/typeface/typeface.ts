import { kerningOf } from './kerning.ts';
import { type Ligature, ligaturesOf } from './ligatures.ts';
import { type FontTables, woffTables } from './woffTables.ts';

/** Text as glyphs side by side. Lengths are thousandths of the size of type. */
export interface ShapedText {
  readonly glyphs: readonly number[];
  /** What is added after each glyph before the next. */
  readonly kerns: readonly number[];
  readonly width: number;
}

interface Layout {
  readonly kerning: (left: number, right: number) => number;
  readonly ligatures: ReadonlyMap<number, readonly Ligature[]>;
}

const tablesRead = ['GPOS', 'GSUB', 'OS/2', 'cmap', 'glyf', 'head', 'hhea', 'hmtx', 'loca', 'maxp'];

/** A font with TrueType outlines, as far as setting type with it asks (OpenType, chapters on the tables named). */
export class Typeface {
  readonly tables: FontTables;
  /** Thousandths of the size of type a font unit. */
  readonly scale: number;
  /** Of each glyph; those after the last have the last one's. */
  private readonly advances: readonly number[];
  private readonly glyphOf: ReadonlyMap<number, number>;
  private layout: Layout | null = null;

  /** Opens the font of a WOFF file. Throws RangeError when it is none, or lacks a table. */
  constructor(woff: Buffer) {
    this.tables = woffTables(woff, tablesRead);
    this.scale = 1000 / this.table('head').readUInt16BE(18);
    this.glyphOf = glyphsByLetter(this.table('cmap'));
    const hmtx = this.table('hmtx');
    const count = this.table('hhea').readUInt16BE(34);
    this.advances = Array.from({ length: count }, (_, glyph) => hmtx.readUInt16BE(glyph * 4) * this.scale);
  }

  table(tag: string): Buffer {
    const table = this.tables.get(tag);
    if (table === undefined) throw new RangeError(`The font has no table ${tag}.`);
    return table;
  }

  has(codePoint: number): boolean {
    return this.glyphOf.has(codePoint);
  }

  /** The letters each glyph stands for, of the glyphs a text is set with, are told to `used`. */
  shape(text: string, used: (glyph: number, letters: string) => void = () => {}): ShapedText {
    const letters = [...text];
    const plain = letters.map((letter) => this.glyphOf.get(letter.codePointAt(0)!) ?? 0);
    const { ligatures, kerning } = this.layoutOf();
    const glyphs: number[] = [];
    for (let at = 0; at < plain.length; ) {
      const ligature = ligatures
        .get(plain[at])
        ?.find(({ rest }) => rest.every((glyph, index) => plain[at + 1 + index] === glyph));
      const length = ligature === undefined ? 1 : 1 + ligature.rest.length;
      const glyph = ligature?.glyph ?? plain[at];
      used(glyph, letters.slice(at, at + length).join(''));
      glyphs.push(glyph);
      at += length;
    }
    const kerns = glyphs.map((glyph, index) =>
      index + 1 < glyphs.length ? kerning(glyph, glyphs[index + 1]) * this.scale : 0,
    );
    const width = glyphs.reduce((sum, glyph, index) => sum + this.advanceOf(glyph) + kerns[index], 0);
    return { glyphs, kerns, width };
  }

  /** Read when the first text is set: a face may only be asked whether it has a letter. */
  private layoutOf(): Layout {
    this.layout ??= {
      kerning: this.tables.has('GPOS') ? kerningOf(this.table('GPOS')) : () => 0,
      ligatures: this.tables.has('GSUB') ? ligaturesOf(this.table('GSUB')) : new Map(),
    };
    return this.layout;
  }

  /** Advance of a glyph, thousandths of the size of type. */
  advanceOf(glyph: number): number {
    return this.advances[Math.min(glyph, this.advances.length - 1)];
  }
}

/** Glyphs by code point, of the Unicode subtable of format 4. */
function glyphsByLetter(cmap: Buffer): Map<number, number> {
  const glyphs = new Map<number, number>();
  const count = cmap.readUInt16BE(2);
  for (let at = 4; at < 4 + count * 8; at += 8) {
    const table = cmap.subarray(cmap.readUInt32BE(at + 4));
    if (cmap.readUInt32BE(at) !== 0x00030001 || table.readUInt16BE(0) !== 4) continue;
    addSegments(table, glyphs);
  }
  if (glyphs.size === 0) throw new RangeError('The font has no letters by Unicode that can be read.');
  return glyphs;
}

function addSegments(table: Buffer, glyphs: Map<number, number>): void {
  const doubled = table.readUInt16BE(6);
  for (let segment = 0; segment < doubled; segment += 2) {
    const [lastAt, firstAt] = [14 + segment, 16 + doubled + segment];
    const [deltaAt, rangeAt] = [firstAt + doubled, firstAt + 2 * doubled];
    const range = table.readUInt16BE(rangeAt);
    const delta = table.readUInt16BE(deltaAt);
    const first = table.readUInt16BE(firstAt);
    for (let letter = first; letter <= table.readUInt16BE(lastAt) && letter < 0xffff; letter += 1) {
      const named = range === 0 ? letter : table.readUInt16BE(rangeAt + range + 2 * (letter - first));
      const glyph = named === 0 && range !== 0 ? 0 : (named + delta) & 0xffff;
      if (glyph !== 0) glyphs.set(letter, glyph);
    }
  }
}
