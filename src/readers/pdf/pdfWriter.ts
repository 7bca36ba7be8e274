import { deflateSync } from 'node:zlib';
import { PDFArray, PDFDict, type PDFObject, PDFRawStream, PDFRef } from '@cantoo/pdf-lib';
import { nameText, type PdfValues } from './pdfValues.ts';

/** Entries that lead away from what is drawn. */
const strayKeys = new Set([
  'Parent',
  'P',
  'StructParent',
  'StructParents',
  'Metadata',
  'PieceInfo',
  'OC',
  'OPI',
  'Alternates',
]);

/** Writes a small PDF: own objects, and parts copied from the document read. */
export class PdfWriter {
  private readonly values: PdfValues;
  private readonly bodies: (readonly Uint8Array[] | null)[] = [];
  private readonly copies = new Map<string, string>();

  constructor(values: PdfValues) {
    this.values = values;
  }

  /** Adds an object; answers its reference, as written. */
  add(body: string): string {
    this.bodies.push([encoded(body)]);
    return `${this.bodies.length} 0 R`;
  }

  /** A reference to an object that is given later by `put`. */
  reserve(): string {
    this.bodies.push(null);
    return `${this.bodies.length} 0 R`;
  }

  put(reference: string, body: string): void {
    this.bodies[Number.parseInt(reference, 10) - 1] = [encoded(body)];
  }

  /** Adds a stream whose data are already in the form the dictionary entries say. */
  addStream(entries: string, data: Uint8Array): string {
    this.bodies.push([encoded(`<<${entries}/Length ${data.length}>>stream\n`), data, encoded('\nendstream')]);
    return `${this.bodies.length} 0 R`;
  }

  /** Adds a stream, packed. */
  addPacked(entries: string, data: Uint8Array): string {
    return this.addStream(`${entries}/Filter/FlateDecode`, deflateSync(data, { level: 1 }));
  }

  /** The object as it is written within another; what it refers to is copied along, once. */
  copy(object: PDFObject | null, nesting = 0): string {
    if (!object || nesting > 64) return 'null';
    if (object instanceof PDFRef) {
      const known = this.copies.get(object.tag);
      if (known) return known;
      const target = this.values.resolve(object);
      if (!target) return 'null';
      this.bodies.push(null);
      const index = this.bodies.length - 1;
      const reference = `${index + 1} 0 R`;
      this.copies.set(object.tag, reference);
      this.bodies[index] =
        target instanceof PDFRawStream ? this.streamBody(target, nesting) : [encoded(this.copy(target, nesting + 1))];
      return reference;
    }
    if (object instanceof PDFRawStream) {
      this.bodies.push(this.streamBody(object, nesting));
      return `${this.bodies.length} 0 R`;
    }
    if (object instanceof PDFDict) return `<<${this.entries(object, () => true, nesting + 1)}>>`;
    if (object instanceof PDFArray) {
      return `[${object
        .asArray()
        .map((item) => this.copy(item, nesting + 1))
        .join(' ')}]`;
    }
    return object.toString();
  }

  /** Entries of a dictionary whose keys pass. */
  entries(dict: PDFDict, passes: (key: string) => boolean, nesting = 0): string {
    let text = '';
    for (const [key, value] of dict.entries()) {
      const name = nameText(key);
      if (!strayKeys.has(name) && passes(name)) text += `${writtenName(name)} ${this.copy(value, nesting + 1)}`;
    }
    return text;
  }

  /** The file, with the object of this reference as its catalogue. */
  finish(root: string): Uint8Array {
    const parts: Uint8Array[] = [encoded('%PDF-1.7\n')];
    let at = parts[0].length;
    const put = (part: Uint8Array) => {
      parts.push(part);
      at += part.length;
    };
    const offsets: number[] = [];
    for (const [index, body] of this.bodies.entries()) {
      offsets.push(at);
      put(encoded(`${index + 1} 0 obj\n`));
      for (const part of body ?? []) put(part);
      put(encoded('\nendobj\n'));
    }
    const start = at;
    const lines = offsets.map((offset) => `${String(offset).padStart(10, '0')} 00000 n \n`).join('');
    put(encoded(`xref\n0 ${offsets.length + 1}\n0000000000 65535 f \n${lines}`));
    put(encoded(`trailer\n<</Size ${offsets.length + 1}/Root ${root}>>\nstartxref\n${start}\n%%EOF\n`));
    const out = new Uint8Array(at);
    at = 0;
    for (const part of parts) {
      out.set(part, at);
      at += part.length;
    }
    return out;
  }

  private streamBody(stream: PDFRawStream, nesting: number): Uint8Array[] {
    const data = stream.getContents();
    const entries = this.entries(stream.dict, (key) => key !== 'Length', nesting + 1);
    return [encoded(`<<${entries}/Length ${data.length}>>stream\n`), data, encoded('\nendstream')];
  }
}

/** A name as it is written in a file. */
export function writtenName(name: string): string {
  let text = '/';
  for (const c of name) {
    const code = c.charCodeAt(0);
    text += /[A-Za-z0-9_.+\-*]/.test(c) ? c : `#${(code & 255).toString(16).padStart(2, '0')}`;
  }
  return text;
}

function encoded(text: string): Uint8Array {
  return Buffer.from(text, 'latin1');
}
