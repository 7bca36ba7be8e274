import { describe, expect, it } from 'vitest';
import { convertPostscript } from '../../../cli/postscript.ts';
import { byteSourceOf } from '../../../src/artwork/byteSource.ts';
import type { ReadFilm } from '../../../src/artwork/film.ts';
import { allReaders } from '../../../src/readers/allReaders.ts';
import { type ConvertPostscript, postscriptReader } from '../../../src/readers/postscript/postscriptReader.ts';
import type { Reader } from '../../../src/readers/reader.ts';
import { readFilms } from '../../../src/readers/readFilms.ts';
import { hasOracle } from '../../support/oraclePrograms.ts';

const program = new TextEncoder().encode('%!PS-Adobe-3.0 EPSF-3.0\n0 0 10 10 rectfill\n');
const pdf = new TextEncoder().encode('%PDF-1.7 stands for what the interpreter wrote');

/** Stands for the PDF reader: it keeps what it was handed. */
function pdfReaderThatKeeps(handed: Uint8Array[]): Reader {
  return {
    formats: ['pdf'],
    recognises: () => false,
    read: async (source) => {
      handed.push(await source.read(0, source.sizeBytes));
      return [{ file: source.name, format: 'pdf', notes: [] } as unknown as ReadFilm];
    },
  };
}

/** The binary header of EPSF 3.0: PostScript from byte 32 on, a preview after it. */
function withPreview(start: number, length: number): Uint8Array {
  const bytes = new Uint8Array(32 + program.length + 16);
  bytes.set([0xc5, 0xd0, 0xd3, 0xc6]);
  const view = new DataView(bytes.buffer);
  view.setUint32(4, start, true);
  view.setUint32(8, length, true);
  bytes.set(program, 32);
  return bytes;
}

async function read(bytes: Uint8Array, convert: ConvertPostscript | null, handed: Uint8Array[] = []) {
  return postscriptReader(convert, pdfReaderThatKeeps(handed)).read(byteSourceOf('band.eps', bytes), {});
}

describe('PostScript', () => {
  it('is recognised plain, after a Ctrl-D, and with a preview', () => {
    const { recognises } = postscriptReader(null, pdfReaderThatKeeps([]));
    expect(recognises(program)).toBe(true);
    expect(recognises(Uint8Array.from([4, ...program]))).toBe(true);
    expect(recognises(withPreview(32, program.length))).toBe(true);
    expect(recognises(pdf)).toBe(false);
  });

  it('is refused without an interpreter, with what to do', async () => {
    const refusal = { code: 'interpreter-missing', remedy: expect.stringContaining('Ghostscript') };
    await expect(read(program, null)).rejects.toMatchObject(refusal);
    await expect(read(program, async () => null)).rejects.toMatchObject(refusal);
  });

  it('is handed to the interpreter, its PDF to the PDF reader, and the film says so', async () => {
    const run: Uint8Array[] = [];
    const handed: Uint8Array[] = [];
    const convert: ConvertPostscript = async (bytes) => {
      run.push(bytes);
      return { pdf, program: 'Interpreter 9' };
    };
    const [film] = await read(withPreview(32, program.length), convert, handed);
    expect(run).toEqual([program]);
    expect(handed).toEqual([pdf]);
    expect(film.format).toBe('eps');
    expect(film.notes).toEqual([
      expect.objectContaining({ code: 'converted-from-postscript', message: expect.stringContaining('Interpreter 9') }),
    ]);
  });

  it('is refused when the interpreter refuses it or its header points past its end', async () => {
    const failing: ConvertPostscript = async () => {
      throw new Error('undefined in rectfil');
    };
    await expect(read(program, failing)).rejects.toMatchObject({
      code: 'damaged-file',
      message: expect.stringContaining('undefined in rectfil'),
    });
    await expect(read(withPreview(32, 5000), failing)).rejects.toMatchObject({ code: 'truncated-file' });
  });
});

describe('an EPS film with an interpreter at hand', () => {
  it('keeps its spot ink and its bounding box', async () => {
    if (!hasOracle('gs')) return;
    const eps = `%!PS-Adobe-3.0 EPSF-3.0
%%BoundingBox: 0 0 144 72
[/Separation (Coral) /DeviceCMYK { 0 exch dup 0.7 mul exch 0.6 mul 0 }] setcolorspace 1 setcolor
10 10 50 20 rectfill
showpage
`;
    const source = byteSourceOf('band.eps', new TextEncoder().encode(eps));
    const [film] = await readFilms(source, {}, allReaders(convertPostscript));
    expect(film.format).toBe('eps');
    expect(film.inks.filter((ink) => ink.used).map((ink) => [ink.name, ink.kind])).toEqual([['Coral', 'spot']]);
    expect([film.widthMm, film.heightMm]).toEqual([expect.closeTo(50.8, 3), expect.closeTo(25.4, 3)]);
    expect(film.notes[0].message).toContain('Ghostscript');
  });
});
