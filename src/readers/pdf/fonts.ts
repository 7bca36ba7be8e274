import type { PDFDict } from '@cantoo/pdf-lib';
import { ContentName, readContent } from './contentTokens.ts';
import { asDict, asName, asNumber, asStream, decodeByteText, type PdfValues } from './pdfValues.ts';
import { decodedBytes } from './streamBytes.ts';

/** What is known of a font. Widths are in thousandths of the font size; codes are as they stand in strings. */
export interface FontFacts {
  readonly name: string;
  readonly embedded: boolean;
  readonly isType3: boolean;
  readonly isVertical: boolean;
  /** Widths come from the file, so that positions are exact. */
  readonly widthsKnown: boolean;
  codesOf(bytes: Uint8Array): readonly number[];
  widthOf(code: number): number;
  /** Codes are one byte long, so that word spacing acts on code 32. */
  readonly singleByte: boolean;
  textOf(bytes: Uint8Array): string;
}

/** Fonts of a document, each looked at once. */
export class FontBook {
  private readonly values: PdfValues;
  private readonly known = new Map<PDFDict, FontFacts>();

  constructor(values: PdfValues) {
    this.values = values;
  }

  factsOf(font: PDFDict): FontFacts {
    let facts = this.known.get(font);
    if (!facts) {
      facts = this.values.name(font, 'Subtype') === 'Type0' ? this.composite(font) : this.simple(font);
      this.known.set(font, facts);
    }
    return facts;
  }

  private simple(font: PDFDict): FontFacts {
    const { values } = this;
    const isType3 = values.name(font, 'Subtype') === 'Type3';
    const descriptor = values.dict(font, 'FontDescriptor');
    const first = values.number(font, 'FirstChar') ?? 0;
    const widths = values.listOf(font, 'Widths')?.map((item) => asNumber(item) ?? 0) ?? null;
    const missing = values.number(descriptor, 'MissingWidth') ?? 0;
    // Type 3 widths are in glyph space; the font matrix takes them to text space.
    const unit = isType3 ? 1000 * values.matrixOf(font, 'FontMatrix')[0] : 1;
    return {
      name: cleanName(values.name(font, 'BaseFont') ?? values.name(font, 'Name') ?? 'unnamed font'),
      embedded: isType3 || hasFontFile(values, descriptor),
      isType3,
      isVertical: false,
      widthsKnown: widths !== null,
      singleByte: true,
      codesOf: (bytes) => bytes as unknown as readonly number[],
      widthOf: (code) => unit * (widths ? (widths[code - first] ?? missing) : 556),
      textOf: (bytes) => decodeByteText(String.fromCharCode(...bytes.subarray(0, 60))),
    };
  }

  private composite(font: PDFDict): FontFacts {
    const { values } = this;
    const descendant = asDict(values.listOf(font, 'DescendantFonts')?.[0] ?? null);
    const descriptor = values.dict(descendant, 'FontDescriptor');
    const defaultWidth = values.number(descendant, 'DW') ?? 1000;
    const widths = new Map<number, number>();
    const list = values.listOf(descendant, 'W') ?? [];
    for (let at = 0; at + 1 < list.length; ) {
      const from = asNumber(list[at]) ?? 0;
      const each = values.list(list[at + 1]);
      if (each) {
        for (const [k, item] of each.entries()) widths.set(from + k, asNumber(item) ?? defaultWidth);
        at += 2;
      } else {
        const to = Math.min(asNumber(list[at + 1]) ?? from, from + 65535);
        const width = asNumber(list[at + 2] ?? null) ?? defaultWidth;
        for (let cid = from; cid <= to; cid++) widths.set(cid, width);
        at += 3;
      }
    }
    const encoding = values.get(font, 'Encoding');
    const named = asName(encoding);
    const toUnicode = readToUnicode(values, font);
    const map = named === null ? readCidMap(values, asStream(encoding)) : null;
    const codesOf = (bytes: Uint8Array) => {
      const codes: number[] = [];
      if (map?.oneByte) for (const byte of bytes) codes.push(byte);
      else for (let at = 0; at + 1 < bytes.length; at += 2) codes.push(bytes[at] * 256 + bytes[at + 1]);
      return codes;
    };
    return {
      name: cleanName(values.name(font, 'BaseFont') ?? values.name(descendant, 'BaseFont') ?? 'unnamed font'),
      embedded: hasFontFile(values, descriptor),
      isType3: false,
      isVertical: named?.endsWith('-V') ?? values.number(asDict(encoding), 'WMode') === 1,
      widthsKnown: named === 'Identity-H' || named === 'Identity-V' || map !== null,
      singleByte: map?.oneByte ?? false,
      codesOf,
      widthOf: (code) => widths.get(map?.cids.get(code) ?? code) ?? defaultWidth,
      textOf: (bytes) =>
        codesOf(bytes.subarray(0, 120))
          .map((code) => toUnicode.get(code) ?? '')
          .join(''),
    };
  }
}

function hasFontFile(values: PdfValues, descriptor: PDFDict | null): boolean {
  return ['FontFile', 'FontFile2', 'FontFile3'].some((key) => values.stream(descriptor, key) !== null);
}

/** The name without the tag of a subset (six capitals and a plus sign). */
function cleanName(raw: string): string {
  return decodeByteText(raw).replace(/^[A-Z]{6}\+/, '');
}

function readToUnicode(values: PdfValues, font: PDFDict): Map<number, string> {
  const out = new Map<number, string>();
  forEachMapping(values, values.stream(font, 'ToUnicode'), (code, target) => {
    if (target instanceof Uint8Array) out.set(code, new TextDecoder('utf-16be').decode(target));
  });
  return out;
}

function readCidMap(values: PdfValues, stream: ReturnType<typeof asStream>) {
  if (!stream) return null;
  const cids = new Map<number, number>();
  const oneByte = forEachMapping(values, stream, (code, target) => {
    if (typeof target === 'number') cids.set(code, target);
  });
  return { cids, oneByte };
}

/** Walks the mappings of a CMap; answers whether its codes are one byte long. */
function forEachMapping(
  values: PdfValues,
  stream: ReturnType<typeof asStream>,
  each: (code: number, target: unknown) => void,
): boolean {
  const bytes = stream && decodedBytes(values, stream, 8_000_000);
  if (!bytes) return false;
  let shortest = 4;
  readContent(bytes, (operator, operands) => {
    if (operator === 'endcodespacerange') {
      for (const item of operands) if (item instanceof Uint8Array) shortest = Math.min(shortest, item.length);
    } else if (operator === 'endbfchar' || operator === 'endcidchar') {
      for (let k = 0; k + 1 < operands.length; k += 2) each(codeOf(operands[k]), operands[k + 1]);
    } else if (operator === 'endbfrange' || operator === 'endcidrange') {
      for (let k = 0; k + 2 < operands.length; k += 3) {
        const from = codeOf(operands[k]);
        const to = Math.min(codeOf(operands[k + 1]), from + 65535);
        const target = operands[k + 2];
        for (let code = from; code <= to; code++) each(code, stepped(target, code - from));
      }
    }
  });
  return shortest === 1;
}

function codeOf(operand: unknown): number {
  if (!(operand instanceof Uint8Array)) return 0;
  let code = 0;
  for (const byte of operand) code = code * 256 + byte;
  return code;
}

function stepped(target: unknown, by: number): unknown {
  if (typeof target === 'number') return target + by;
  if (Array.isArray(target)) return target[by];
  if (!(target instanceof Uint8Array) || target instanceof ContentName) return null;
  const copy = target.slice();
  if (copy.length > 0) copy[copy.length - 1] += by;
  return copy;
}
