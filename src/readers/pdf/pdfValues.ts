import {
  PDFArray,
  PDFBool,
  type PDFContext,
  PDFDict,
  PDFHexString,
  PDFName,
  PDFNull,
  PDFNumber,
  type PDFObject,
  PDFRawStream,
  PDFRef,
  PDFStream,
  PDFString,
} from '@cantoo/pdf-lib';
import type { Matrix } from '../../geometry/matrix.ts';

/** Typed look-ups that follow references and answer null for whatever is missing or of another type. */
export class PdfValues {
  readonly context: PDFContext;

  constructor(context: PDFContext) {
    this.context = context;
  }

  /** The object itself, references followed (at most 32 in a row). */
  resolve(object: PDFObject | null | undefined): PDFObject | null {
    let found: PDFObject | null | undefined = object;
    for (let hops = 0; found instanceof PDFRef; hops++) {
      if (hops > 32) return null;
      found = this.context.lookup(found);
    }
    return !found || found === PDFNull ? null : found;
  }

  get(dict: PDFDict | null, key: string): PDFObject | null {
    return dict ? this.resolve(dict.get(PDFName.of(key))) : null;
  }

  /** As `get`, but a reference stays a reference. */
  raw(dict: PDFDict | null, key: string): PDFObject | null {
    return dict?.get(PDFName.of(key)) ?? null;
  }

  dict(dict: PDFDict | null, key: string): PDFDict | null {
    return asDict(this.get(dict, key));
  }

  stream(dict: PDFDict | null, key: string): PDFRawStream | null {
    return asStream(this.get(dict, key));
  }

  number(dict: PDFDict | null, key: string): number | null {
    const found = this.get(dict, key);
    return found instanceof PDFNumber ? found.asNumber() : null;
  }

  name(dict: PDFDict | null, key: string): string | null {
    return asName(this.get(dict, key));
  }

  flag(dict: PDFDict | null, key: string): boolean | null {
    const found = this.get(dict, key);
    return found instanceof PDFBool ? found.asBoolean() : null;
  }

  /** The elements of an array, references followed; null when it is none. */
  list(object: PDFObject | null | undefined): (PDFObject | null)[] | null {
    const found = this.resolve(object);
    return found instanceof PDFArray ? found.asArray().map((item) => this.resolve(item)) : null;
  }

  listOf(dict: PDFDict | null, key: string): (PDFObject | null)[] | null {
    return this.list(this.raw(dict, key));
  }

  /** An array of numbers; null when it is not one. */
  numbers(object: PDFObject | null | undefined): number[] | null {
    const items = this.list(object);
    if (!items) return null;
    const values: number[] = [];
    for (const item of items) {
      if (!(item instanceof PDFNumber)) return null;
      values.push(item.asNumber());
    }
    return values;
  }

  numbersOf(dict: PDFDict | null, key: string): number[] | null {
    return this.numbers(this.raw(dict, key));
  }

  matrixOf(dict: PDFDict | null, key: string): Matrix {
    const m = this.numbersOf(dict, key);
    return m && m.length >= 6 ? [m[0], m[1], m[2], m[3], m[4], m[5]] : [1, 0, 0, 1, 0, 0];
  }
}

export function asDict(object: PDFObject | null): PDFDict | null {
  if (object instanceof PDFStream) return object.dict;
  return object instanceof PDFDict ? object : null;
}

export function asStream(object: PDFObject | null): PDFRawStream | null {
  return object instanceof PDFRawStream ? object : null;
}

/** The name as one character a byte, `#` escapes undone. */
export function asName(object: PDFObject | null): string | null {
  return object instanceof PDFName ? nameText(object) : null;
}

export function nameText(name: PDFName): string {
  const bytes = name.asBytes();
  let text = '';
  for (const byte of bytes) text += String.fromCharCode(byte);
  return text;
}

export function asNumber(object: PDFObject | null): number | null {
  return object instanceof PDFNumber ? object.asNumber() : null;
}

/** Bytes of a string object. */
export function asBytes(object: PDFObject | null): Uint8Array | null {
  return object instanceof PDFString || object instanceof PDFHexString ? object.asBytes() : null;
}

/** A text string as people read it. */
export function asText(object: PDFObject | null): string | null {
  const bytes = asBytes(object);
  return bytes ? decodeText(bytes) : null;
}

/**
 * Text of names and strings: UTF-16 with a byte order mark, UTF-8 where the bytes are valid UTF-8, else Latin-1.
 */
export function decodeText(bytes: Uint8Array): string {
  if (bytes[0] === 0xfe && bytes[1] === 0xff) return cleaned(new TextDecoder('utf-16be').decode(bytes.subarray(2)));
  if (bytes[0] === 0xff && bytes[1] === 0xfe) return cleaned(new TextDecoder('utf-16le').decode(bytes.subarray(2)));
  try {
    return cleaned(new TextDecoder('utf-8', { fatal: true }).decode(bytes));
  } catch {
    return cleaned(Array.from(bytes, (byte) => String.fromCharCode(byte)).join(''));
  }
}

/** As `decodeText` for text that holds one character a byte. */
export function decodeByteText(text: string): string {
  return decodeText(Uint8Array.from(text, (c) => c.charCodeAt(0)));
}

function cleaned(text: string): string {
  // biome-ignore lint/suspicious/noControlCharactersInRegex: control characters are what is removed
  return text.replace(/[\u0000-\u001f\u007f-\u009f\ufeff]/g, '').trim();
}
