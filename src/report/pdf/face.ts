import { type FontSubset, type FontWeight, loadFont } from '../assets/loadFonts.ts';
import { subsetTypeface } from '../typeface/subsetTypeface.ts';
import { Typeface } from '../typeface/typeface.ts';
import { type PdfFile, pdfNumber, pdfText, type Reference } from './pdfFile.ts';

/** Text ready to be drawn: the operand of TJ, and its width in thousandths of the size of type. */
export interface SetText {
  readonly shown: string;
  readonly width: number;
}

const styleNames: Readonly<Record<FontWeight, string>> = { 400: 'Regular', 600: 'SemiBold' };
/** Glyphs are named by their numbers, which no symbol font's standard list has. */
const symbolicFlag = 4;

/** One of the bundled faces in a PDF; it goes into the file with the glyphs that were set and no others. */
export class Face {
  /** Its name among the resources of a page. */
  readonly name: string;
  private readonly typeface: Typeface;
  private readonly weight: FontWeight;
  private readonly lettersOf = new Map<number, string>();
  private readonly known = new Map<string, SetText>();

  constructor(name: string, subset: FontSubset, weight: FontWeight) {
    this.name = name;
    this.weight = weight;
    this.typeface = new Typeface(loadFont(subset, weight, 'woff'));
  }

  has(codePoint: number): boolean {
    return this.typeface.has(codePoint);
  }

  /** Whether anything was set with it. */
  get isUsed(): boolean {
    return this.lettersOf.size > 0;
  }

  set(text: string): SetText {
    const known = this.known.get(text);
    if (known !== undefined) return known;
    const { glyphs, kerns, width } = this.typeface.shape(text, (glyph, letters) => this.lettersOf.set(glyph, letters));
    let shown = '[<';
    glyphs.forEach((glyph, index) => {
      shown += hex4(glyph);
      if (kerns[index] !== 0) shown += `>${pdfNumber(-kerns[index])}<`;
    });
    const set = { shown: `${shown}>]`, width };
    this.known.set(text, set);
    return set;
  }

  /** Writes the font and all it needs (ISO 32000-1, 9.7: a composite font whose codes are glyph numbers). */
  embed(file: PdfFile, index: number): Reference {
    const name = `${subsetTag(index)}+SourceSans3-${styleNames[this.weight]}`;
    const used = [...this.lettersOf.keys()].sort((a, b) => a - b);
    const program = subsetTypeface(this.typeface, used);
    const outlines = file.addPacked(`/Length1 ${program.length}`, program);
    const widths = used.map((glyph) => `${glyph} [${pdfNumber(this.typeface.advanceOf(glyph))}]`);
    const font = file.add(
      `<< /Type /Font /Subtype /CIDFontType2 /BaseFont /${name} /CIDToGIDMap /Identity /DW 1000 ` +
        `/CIDSystemInfo << /Registry ${pdfText('Adobe')} /Ordering ${pdfText('Identity')} /Supplement 0 >> ` +
        `/FontDescriptor ${file.add(this.descriptor(name, outlines))} /W [${widths.join(' ')}] >>`,
    );
    const letters = file.addPacked('', Buffer.from(lettersMap(this.lettersOf, used), 'latin1'));
    return file.add(
      `<< /Type /Font /Subtype /Type0 /BaseFont /${name} /Encoding /Identity-H /DescendantFonts [${font}] ` +
        `/ToUnicode ${letters} >>`,
    );
  }

  private descriptor(name: string, outlines: Reference): string {
    const { typeface } = this;
    const length = (tag: string, at: number) => pdfNumber(typeface.table(tag).readInt16BE(at) * typeface.scale);
    const box = [36, 38, 40, 42].map((at) => length('head', at)).join(' ');
    return (
      `<< /Type /FontDescriptor /FontName /${name} /Flags ${symbolicFlag} /FontBBox [${box}] /ItalicAngle 0 ` +
      `/Ascent ${length('hhea', 4)} /Descent ${length('hhea', 6)} /CapHeight ${length('OS/2', 88)} /StemV 0 ` +
      `/FontFile2 ${outlines} >>`
    );
  }
}

/** Six capitals that tell the subsets of a file apart. */
function subsetTag(index: number): string {
  return `${String.fromCharCode(65 + index)}AAAAA`;
}

/** The letters each glyph stands for, so that text can be searched and copied (9.10.3). */
function lettersMap(lettersOf: ReadonlyMap<number, string>, used: readonly number[]): string {
  const blocks: string[] = [];
  for (let start = 0; start < used.length; start += 100) {
    const lines = used
      .slice(start, start + 100)
      .map((glyph) => `<${hex4(glyph)}> <${Buffer.from(lettersOf.get(glyph)!, 'utf16le').swap16().toString('hex')}>`);
    blocks.push(`${lines.length} beginbfchar\n${lines.join('\n')}\nendbfchar`);
  }
  return `/CIDInit /ProcSet findresource begin
12 dict begin
begincmap
/CIDSystemInfo << /Registry (Adobe) /Ordering (UCS) /Supplement 0 >> def
/CMapName /Adobe-Identity-UCS def
/CMapType 2 def
1 begincodespacerange
<0000> <ffff>
endcodespacerange
${blocks.join('\n')}
endcmap
CMapName currentdict /CMap defineresource pop
end
end
`;
}

function hex4(value: number): string {
  return value.toString(16).padStart(4, '0');
}
