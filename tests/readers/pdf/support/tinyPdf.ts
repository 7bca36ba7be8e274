import { deflateSync } from 'node:zlib';

/** An object body as written; streams carry their data apart. */
export type Body = string | { readonly entries: string; readonly data: string | Uint8Array };

export interface TinyPage {
  readonly content: string | Uint8Array;
  /** Entries of the resource dictionary, as written. */
  readonly resources?: string;
  /** Further entries of the page, as written. */
  readonly page?: string;
  readonly mediaBox?: readonly number[];
}

/**
 * Builds a PDF by hand, byte for byte known. `objects` are numbered from 10 on, so that pages can refer to them as
 * `10 0 R`, `11 0 R`, …
 */
export function tinyPdf(
  pages: readonly TinyPage[] | TinyPage,
  objects: readonly Body[] = [],
  catalog = '',
): Uint8Array {
  const list = Array.isArray(pages) ? (pages as readonly TinyPage[]) : [pages as TinyPage];
  const bodies = new Map<number, Body>();
  for (const [index, object] of objects.entries()) bodies.set(10 + index, object);
  const firstPage = 10 + objects.length;
  const kids: string[] = [];
  for (const [index, page] of list.entries()) {
    const number = firstPage + 2 * index;
    kids.push(`${number} 0 R`);
    const box = (page.mediaBox ?? [0, 0, 100, 100]).join(' ');
    bodies.set(
      number,
      `<</Type/Page/Parent 2 0 R/MediaBox[${box}]/Contents ${number + 1} 0 R/Resources<<${page.resources ?? ''}>>${page.page ?? ''}>>`,
    );
    const raw = typeof page.content === 'string' ? Buffer.from(page.content, 'latin1') : page.content;
    bodies.set(number + 1, { entries: '/Filter/FlateDecode', data: deflateSync(raw) });
  }
  bodies.set(1, `<</Type/Catalog/Pages 2 0 R${catalog}>>`);
  bodies.set(2, `<</Type/Pages/Kids[${kids.join(' ')}]/Count ${list.length}>>`);
  return assemble(bodies);
}

function assemble(bodies: ReadonlyMap<number, Body>): Uint8Array {
  const parts: Buffer[] = [Buffer.from('%PDF-1.7\n%\xe2\xe3\xcf\xd3\n', 'latin1')];
  let at = parts[0].length;
  const put = (part: Buffer) => {
    parts.push(part);
    at += part.length;
  };
  const highest = Math.max(...bodies.keys());
  const offsets = new Array<number>(highest + 1).fill(0);
  for (const [number, body] of [...bodies].sort(([a], [b]) => a - b)) {
    offsets[number] = at;
    if (typeof body === 'string') put(Buffer.from(`${number} 0 obj\n${body}\nendobj\n`, 'latin1'));
    else {
      const data = typeof body.data === 'string' ? Buffer.from(body.data, 'latin1') : Buffer.from(body.data);
      put(Buffer.from(`${number} 0 obj\n<<${body.entries}/Length ${data.length}>>\nstream\n`, 'latin1'));
      put(data);
      put(Buffer.from('\nendstream\nendobj\n', 'latin1'));
    }
  }
  const start = at;
  const lines = offsets.map((offset, k) =>
    offset === 0 ? `0000000000 ${k === 0 ? '65535' : '00000'} f \n` : `${String(offset).padStart(10, '0')} 00000 n \n`,
  );
  put(Buffer.from(`xref\n0 ${highest + 1}\n${lines.join('')}`, 'latin1'));
  put(Buffer.from(`trailer\n<</Size ${highest + 1}/Root 1 0 R>>\nstartxref\n${start}\n%%EOF\n`, 'latin1'));
  return new Uint8Array(Buffer.concat(parts));
}

/** A Separation colour space shown by a CMYK alternate at full tint. */
export function spot(name: string, cmyk = '0 1 0 0'): string {
  return `[/Separation/${name}/DeviceCMYK<</FunctionType 2/Domain[0 1]/C0[0 0 0 0]/C1[${cmyk}]/N 1>>]`;
}
