/** A name in a content stream, its `#xx` escapes undone. */
export class ContentName {
  readonly value: string;
  constructor(value: string) {
    this.value = value;
  }
}

/** The object kinds a content stream may hold (ISO 32000-1, 7.8.2); strings are bytes, dictionaries are maps. */
export type Operand = number | boolean | null | ContentName | Uint8Array | Operand[] | Map<string, Operand>;

/** Called for each operator with its operands; the array is reused, so keep no reference to it. */
export type OperatorSink = (operator: string, operands: Operand[], inlineData: Uint8Array | null) => void;

const whitespace = 1;
const delimiter = 2;
const classOf = new Uint8Array(256);
for (const c of [0, 9, 10, 12, 13, 32]) classOf[c] = whitespace;
for (const c of '()<>[]{}/%') classOf[c.charCodeAt(0)] = delimiter;

const operatorNames = new Map<number, string>();
const maxNesting = 64;

/**
 * Splits a content stream into operators. Malformed pieces are skipped; the number of those is returned, so that
 * damage is never silent.
 */
export function readContent(bytes: Uint8Array, sink: OperatorSink): number {
  return new ContentLexer(bytes).run(sink);
}

class ContentLexer {
  private readonly bytes: Uint8Array;
  private at = 0;
  private flaws = 0;

  constructor(bytes: Uint8Array) {
    this.bytes = bytes;
  }

  run(sink: OperatorSink): number {
    const { bytes } = this;
    const operands: Operand[] = [];
    while (true) {
      this.skipSpace();
      if (this.at >= bytes.length) return this.flaws;
      const c = bytes[this.at];
      if ((c >= 48 && c <= 57) || c === 45 || c === 43 || c === 46) {
        operands.push(this.readNumber());
      } else if (c === 47 || c === 40 || c === 60 || c === 91) {
        operands.push(this.readObject(0));
      } else if (classOf[c] === delimiter) {
        this.at++;
        this.flaws++;
      } else {
        const word = this.readWord();
        if (word === 'true') operands.push(true);
        else if (word === 'false') operands.push(false);
        else if (word === 'null') operands.push(null);
        else if (word === 'BI') {
          const dict = this.readInlineDictionary();
          const data = this.readInlineData(dict);
          sink('BI', [dict], data);
          operands.length = 0;
        } else {
          sink(word, operands, null);
          operands.length = 0;
        }
      }
      if (operands.length > 4096) {
        operands.length = 0;
        this.flaws++;
      }
    }
  }

  private skipSpace(): void {
    const { bytes } = this;
    while (this.at < bytes.length) {
      const c = bytes[this.at];
      if (classOf[c] === whitespace) this.at++;
      else if (c === 37) while (this.at < bytes.length && bytes[this.at] !== 10 && bytes[this.at] !== 13) this.at++;
      else return;
    }
  }

  private readNumber(): number {
    const { bytes } = this;
    let at = this.at;
    let negative = false;
    while (bytes[at] === 45 || bytes[at] === 43) {
      if (bytes[at] === 45) negative = true;
      at++;
    }
    let value = 0;
    let scale = 0;
    let digits = 0;
    for (; at < bytes.length; at++) {
      const c = bytes[at];
      if (c >= 48 && c <= 57) {
        digits++;
        if (scale === 0) value = value * 10 + (c - 48);
        else if (scale < 1e15) {
          value = value * 10 + (c - 48);
          scale *= 10;
        }
      } else if (c === 46 && scale === 0) scale = 1;
      else if (c === 45) {
        // "12-34" is seen from faulty writers: the rest is dropped, as common readers do.
        while (at < bytes.length && classOf[bytes[at]] === 0) at++;
        break;
      } else break;
    }
    if (digits === 0) this.flaws++;
    if (at === this.at) at++;
    this.at = at;
    const absolute = scale > 1 ? value / scale : value;
    return negative ? -absolute : absolute;
  }

  private readWord(): string {
    const { bytes } = this;
    const start = this.at;
    while (this.at < bytes.length && classOf[bytes[this.at]] === 0) this.at++;
    const length = this.at - start;
    if (length <= 3) {
      const code =
        bytes[start] | ((length > 1 ? bytes[start + 1] : 0) << 8) | ((length > 2 ? bytes[start + 2] : 0) << 16);
      let name = operatorNames.get(code);
      if (name === undefined) {
        name = latin1(bytes.subarray(start, this.at));
        operatorNames.set(code, name);
      }
      return name;
    }
    return latin1(bytes.subarray(start, Math.min(this.at, start + 64)));
  }

  private readObject(nesting: number): Operand {
    const { bytes } = this;
    this.skipSpace();
    const c = bytes[this.at];
    if (c === undefined) return null;
    if ((c >= 48 && c <= 57) || c === 45 || c === 43 || c === 46) return this.readNumber();
    if (c === 47) return this.readName();
    if (c === 40) return this.readString();
    if (nesting > maxNesting) {
      this.at++;
      this.flaws++;
      return null;
    }
    if (c === 60) return bytes[this.at + 1] === 60 ? this.readDictionary(nesting) : this.readHexString();
    if (c === 91) {
      this.at++;
      const list: Operand[] = [];
      while (true) {
        this.skipSpace();
        if (this.at >= bytes.length) return list;
        if (bytes[this.at] === 93) {
          this.at++;
          return list;
        }
        list.push(this.readObject(nesting + 1));
      }
    }
    if (classOf[c] === delimiter) {
      this.at++;
      this.flaws++;
      return null;
    }
    const word = this.readWord();
    return word === 'true' ? true : word === 'false' ? false : null;
  }

  private readName(): ContentName {
    const { bytes } = this;
    const start = ++this.at;
    let escaped = false;
    while (this.at < bytes.length && classOf[bytes[this.at]] === 0) {
      if (bytes[this.at] === 35) escaped = true;
      this.at++;
    }
    const text = latin1(bytes.subarray(start, this.at));
    return new ContentName(escaped ? unescapeName(text) : text);
  }

  private readString(): Uint8Array {
    const { bytes } = this;
    const out: number[] = [];
    let depth = 1;
    this.at++;
    while (this.at < bytes.length) {
      const c = bytes[this.at++];
      if (c === 40) depth++;
      else if (c === 41 && --depth === 0) break;
      if (c !== 92) {
        out.push(c);
        continue;
      }
      const e = bytes[this.at++];
      if (e === 110) out.push(10);
      else if (e === 114) out.push(13);
      else if (e === 116) out.push(9);
      else if (e === 98) out.push(8);
      else if (e === 102) out.push(12);
      else if (e === 13) {
        if (bytes[this.at] === 10) this.at++;
      } else if (e === 10) continue;
      else if (e >= 48 && e <= 55) {
        let code = e - 48;
        for (let k = 0; k < 2 && bytes[this.at] >= 48 && bytes[this.at] <= 55; k++)
          code = code * 8 + bytes[this.at++] - 48;
        out.push(code & 255);
      } else if (e !== undefined) out.push(e);
    }
    return Uint8Array.from(out);
  }

  private readHexString(): Uint8Array {
    const { bytes } = this;
    const out: number[] = [];
    let high = -1;
    this.at++;
    while (this.at < bytes.length) {
      const c = bytes[this.at++];
      if (c === 62) break;
      const digit = c <= 57 ? c - 48 : (c | 32) - 87;
      if (digit < 0 || digit > 15) continue;
      if (high < 0) high = digit;
      else {
        out.push(high * 16 + digit);
        high = -1;
      }
    }
    if (high >= 0) out.push(high * 16);
    return Uint8Array.from(out);
  }

  private readDictionary(nesting: number): Map<string, Operand> {
    const { bytes } = this;
    const dict = new Map<string, Operand>();
    this.at += 2;
    while (true) {
      this.skipSpace();
      if (this.at >= bytes.length) return dict;
      if (bytes[this.at] === 62) {
        this.at += bytes[this.at + 1] === 62 ? 2 : 1;
        return dict;
      }
      if (bytes[this.at] !== 47) {
        this.readObject(nesting + 1);
        this.flaws++;
        continue;
      }
      const key = this.readName().value;
      dict.set(key, this.readObject(nesting + 1));
    }
  }

  private readInlineDictionary(): Map<string, Operand> {
    const dict = new Map<string, Operand>();
    while (true) {
      this.skipSpace();
      if (this.at >= this.bytes.length) return dict;
      if (this.bytes[this.at] === 47) {
        const key = this.readName().value;
        dict.set(longKeys[key] ?? key, this.readObject(0));
      } else {
        if (this.readWord() === 'ID') return dict;
        if (classOf[this.bytes[this.at]] === delimiter) this.at++;
        this.flaws++;
      }
    }
  }

  /** Data up to `EI`; for unfiltered samples the length follows from the dictionary and is not guessed. */
  private readInlineData(dict: Map<string, Operand>): Uint8Array {
    const { bytes } = this;
    if (classOf[bytes[this.at]] === whitespace) this.at++;
    const start = this.at;
    const known = unfilteredLength(dict);
    let from = known === null ? start : Math.min(bytes.length, start + known);
    for (; from < bytes.length; from++) {
      if (bytes[from] !== 69 || bytes[from + 1] !== 73) continue;
      const before = from === start || classOf[bytes[from - 1]] === whitespace || known !== null;
      const after = from + 2 >= bytes.length || classOf[bytes[from + 2]] !== 0;
      if (!before || !after || !looksLikeContent(bytes, from + 2)) continue;
      this.at = from + 2;
      const end = known !== null ? Math.min(from, start + known) : from;
      return bytes.subarray(start, end);
    }
    this.flaws++;
    this.at = bytes.length;
    return bytes.subarray(start);
  }
}

/** What follows a true `EI` is text: a byte no content stream holds outside strings shows that it was image data. */
function looksLikeContent(bytes: Uint8Array, from: number): boolean {
  const end = Math.min(bytes.length, from + 12);
  for (let at = from; at < end; at++) {
    const c = bytes[at];
    if (c > 126 || (c < 32 && classOf[c] !== whitespace)) return false;
  }
  return true;
}

const longKeys: Readonly<Record<string, string>> = {
  BPC: 'BitsPerComponent',
  CS: 'ColorSpace',
  D: 'Decode',
  DP: 'DecodeParms',
  F: 'Filter',
  H: 'Height',
  IM: 'ImageMask',
  I: 'Interpolate',
  W: 'Width',
  L: 'Length',
};

function unfilteredLength(dict: Map<string, Operand>): number | null {
  const filter = dict.get('Filter');
  if (filter instanceof ContentName || (Array.isArray(filter) && filter.length > 0)) return null;
  const width = dict.get('Width');
  const height = dict.get('Height');
  if (typeof width !== 'number' || typeof height !== 'number') return null;
  const isMask = dict.get('ImageMask') === true;
  const bits = isMask ? 1 : dict.get('BitsPerComponent');
  const space = dict.get('ColorSpace');
  const name = space instanceof ContentName ? space.value : Array.isArray(space) ? 'Indexed' : 'DeviceGray';
  const components: Readonly<Record<string, number>> = {
    G: 1,
    DeviceGray: 1,
    RGB: 3,
    DeviceRGB: 3,
    CMYK: 4,
    DeviceCMYK: 4,
    Indexed: 1,
  };
  const count = isMask ? 1 : components[name];
  if (typeof bits !== 'number' || count === undefined) return null;
  return Math.ceil((width * bits * count) / 8) * height;
}

function unescapeName(text: string): string {
  return text.replace(/#([0-9A-Fa-f]{2})/g, (_, hex: string) => String.fromCharCode(Number.parseInt(hex, 16)));
}

/** Bytes as text, one character a byte. */
export function latin1(bytes: Uint8Array): string {
  let text = '';
  for (let at = 0; at < bytes.length; at += 8192) text += String.fromCharCode(...bytes.subarray(at, at + 8192));
  return text;
}
