import { promisify } from 'node:util';
import { deflate } from 'node:zlib';

/** An indirect object as another names it: `12 0 R`. */
export type Reference = `${number} 0 R`;

const deflated = promisify(deflate);
/** Content and outlines pack as small as at higher levels, in half of their time. */
const level = 4;

/** Objects gathered into a PDF file (ISO 32000-1, 7.5), in the order they were asked for. */
export class PdfFile {
  private readonly bodies: (string | Promise<Buffer>)[] = [];

  /** A reference to an object whose body is given later. */
  reserve(): Reference {
    this.bodies.push('null');
    return `${this.bodies.length} 0 R`;
  }

  add(body: string): Reference {
    this.bodies.push(body);
    return `${this.bodies.length} 0 R`;
  }

  put(reference: Reference, body: string): void {
    this.bodies[Number.parseInt(reference, 10) - 1] = body;
  }

  /** Adds a stream that is packed already; `entries` says how. */
  addStream(entries: string, data: Uint8Array): Reference {
    this.bodies.push(Promise.resolve(streamOf(entries, data)));
    return `${this.bodies.length} 0 R`;
  }

  /** Adds a stream that is packed while the rest is written. */
  addPacked(entries: string, data: Uint8Array): Reference {
    const packing = deflated(data, { level });
    this.bodies.push(packing.then((packed) => streamOf(`${entries} /Filter /FlateDecode`, packed)));
    return `${this.bodies.length} 0 R`;
  }

  /** The whole file. */
  async finish(root: Reference, info: Reference): Promise<Buffer> {
    const parts: Buffer[] = [Buffer.from('%PDF-1.4\n%\xe2\xe3\xcf\xd3\n', 'latin1')];
    let length = parts[0].length;
    const entries: string[] = [];
    for (const [index, body] of (await Promise.all(this.bodies)).entries()) {
      entries.push(`${String(length).padStart(10, '0')} 00000 n \n`);
      const content = typeof body === 'string' ? Buffer.from(body, 'latin1') : body;
      const [start, end] = [Buffer.from(`${index + 1} 0 obj\n`), Buffer.from('\nendobj\n')];
      parts.push(start, content, end);
      length += start.length + content.length + end.length;
    }
    const size = entries.length + 1;
    parts.push(
      Buffer.from(
        `xref\n0 ${size}\n0000000000 65535 f \n${entries.join('')}` +
          `trailer\n<< /Size ${size} /Root ${root} /Info ${info} >>\nstartxref\n${length}\n%%EOF\n`,
      ),
    );
    return Buffer.concat(parts);
  }
}

function streamOf(entries: string, data: Uint8Array): Buffer {
  return Buffer.concat([
    Buffer.from(`<< ${entries} /Length ${data.length} >>\nstream\n`, 'latin1'),
    data,
    Buffer.from('\nendstream'),
  ]);
}

/** Text as it stands in an object, in letters of ASCII or in UTF-16 (7.9.2.2). */
export function pdfText(text: string): string {
  if (/^[\x20-\x7e]*$/.test(text)) return `(${text.replace(/[\\()]/g, '\\$&')})`;
  return `<feff${Buffer.from(text, 'utf16le').swap16().toString('hex')}>`;
}

/** A number as operators and objects take it: at most three decimals. */
export function pdfNumber(value: number): string {
  return String(Math.round(value * 1000) / 1000 + 0);
}

/** `#rrggbb` as operands of a colour. */
export function pdfColour(hex: string): string {
  const channels = [1, 3, 5].map((at) => Number.parseInt(hex.slice(at, at + 2), 16) / 255);
  return channels.map(pdfNumber).join(' ');
}
