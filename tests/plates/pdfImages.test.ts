import { deflateSync } from 'node:zlib';
import sharp from 'sharp';
import { describe, expect, it } from 'vitest';
import { drawFilm, readFilm } from '../readers/pdf/support/drawFilm.ts';
import { type Body, spot, tinyPdf } from '../readers/pdf/support/tinyPdf.ts';

const key = 'spot:Lagoon';
const lagoon = spot('Lagoon');

/** A 4 by 1 picture of the samples 0, 64, 128, 255 drawn 40 wide, and what stands in its four cells. */
async function cells(
  entries: string,
  data: Uint8Array,
  wanted = key,
  more: readonly Body[] = [],
  state = '',
): Promise<number[]> {
  const content = `${state} q 40 0 0 10 10 10 cm /I Do Q`;
  const resources = `/XObject<</I 10 0 R>>/ColorSpace<</L ${lagoon}>>/ExtGState<<>>`;
  const film = await readFilm(
    tinyPdf({ content, resources }, [{ entries: `/Subtype/Image${entries}`, data }, ...more]),
  );
  expect(film.notes.filter(({ affects }) => affects === 'plate')).toEqual([]);
  const drawn = await drawFilm(film, [wanted], 72);
  return [15, 25, 35, 45].map((column) => drawn.at(wanted, column, 85));
}

const ramp = Uint8Array.of(0, 64, 128, 255);
const size = '/Width 4/Height 1/BitsPerComponent 8';

describe('pictures on plates', () => {
  it('takes Separation samples as tints, Decode applied', async () => {
    expect(await cells(`${size}/ColorSpace ${lagoon}`, ramp)).toEqual([0, 64, 128, 255]);
    expect(await cells(`${size}/ColorSpace ${lagoon}/Decode[1 0]`, ramp)).toEqual([255, 191, 127, 0]);
  });

  it('takes grey and calibrated grey samples as black', async () => {
    expect(await cells(`${size}/ColorSpace/DeviceGray`, ramp, 'process:black')).toEqual([255, 191, 127, 0]);
    expect(await cells(`${size}/ColorSpace[/CalGray<</WhitePoint[1 1 1]>>]`, ramp, 'process:black')).toEqual([
      255, 191, 127, 0,
    ]);
  });

  it('splits CMYK and DeviceN samples', async () => {
    const cmyk = Uint8Array.from([0, 1, 2, 3].flatMap((k) => [10 * k, 255 - 10 * k, 7 * k, 100 + k]));
    for (const [k, ink] of ['cyan', 'magenta', 'yellow', 'black'].entries()) {
      const expected = [0, 1, 2, 3].map((n) => cmyk[4 * n + k]).map((tone) => (tone <= 3 ? 0 : tone));
      expect(await cells(`${size}/ColorSpace/DeviceCMYK`, cmyk, `process:${ink}`)).toEqual(expected);
    }
    const two = Uint8Array.of(0, 255, 50, 200, 100, 100, 255, 0);
    const transform: Body = { entries: '/FunctionType 4/Domain[0 1 0 1]/Range[0 1 0 1 0 1 0 1]', data: '{0 0}' };
    const space = '/ColorSpace[/DeviceN[/Coral/Lagoon]/DeviceCMYK 11 0 R]';
    expect(await cells(`${size}${space}`, two, 'spot:Coral', [transform])).toEqual([0, 50, 100, 255]);
    expect(await cells(`${size}${space}`, two, key, [transform])).toEqual([255, 200, 100, 0]);
  });

  it('splits samples of more components than a table can hold', async () => {
    const names = ['Lagoon', 'Coral', 'Night', 'Sun', 'Leaf', 'Rose', 'Stone', 'Sand'];
    const samples = Uint8Array.from({ length: 4 * 8 }, (_, k) => (k * 37) % 256);
    const transform: Body = {
      entries: `/FunctionType 4/Domain[${'0 1 '.repeat(8)}]/Range[0 1 0 1 0 1 0 1]`,
      data: '{pop pop pop pop}',
    };
    const space = `/ColorSpace[/DeviceN[${names.map((name) => `/${name}`).join('')}]/DeviceCMYK 11 0 R]`;
    for (const k of [0, 3, 7]) {
      const expected = [0, 1, 2, 3].map((n) => samples[8 * n + k]).map((tone) => (tone <= 3 ? 0 : tone));
      const got = await cells(`${size}${space}`, samples, `spot:${names[k]}`, [transform]);
      for (const n of [0, 1, 2, 3]) expect(Math.abs(got[n] - expected[n])).toBeLessThanOrEqual(1);
    }
  });

  it('looks up Indexed samples', async () => {
    const space = `/ColorSpace[/Indexed ${lagoon} 3 <00FF4080>]`;
    expect(await cells(`/Width 4/Height 1/BitsPerComponent 2${space}`, Uint8Array.of(0b00011011))).toEqual([
      0, 255, 64, 128,
    ]);
    expect(await cells(`${size}${space}`, Uint8Array.of(3, 2, 1, 0))).toEqual([128, 64, 255, 0]);
  });

  it('undoes filters and predictors', async () => {
    const space = `/ColorSpace ${lagoon}`;
    const tones = [0, 64, 128, 255];
    expect(await cells(`${size}${space}/Filter/FlateDecode`, deflateSync(ramp))).toEqual(tones);
    const sub = Uint8Array.of(1, 0, 64, 64, 127);
    expect(
      await cells(`${size}${space}/Filter/FlateDecode/DecodeParms<</Predictor 15/Columns 4>>`, deflateSync(sub)),
    ).toEqual(tones);
    const difference = Uint8Array.of(0, 64, 64, 127);
    expect(
      await cells(`${size}${space}/Filter/FlateDecode/DecodeParms<</Predictor 2/Columns 4>>`, deflateSync(difference)),
    ).toEqual(tones);
    expect(
      await cells(
        `${size}${space}/Filter[/ASCIIHexDecode/FlateDecode]`,
        Buffer.from(`${deflateSync(ramp).toString('hex')}>`),
      ),
    ).toEqual(tones);
    expect(await cells(`${size}${space}/Filter/RunLengthDecode`, Uint8Array.of(3, 0, 64, 128, 255, 128))).toEqual(
      tones,
    );
    // LZW codes of nine bits: clear, the four samples, end.
    const bits = [256, 0, 64, 128, 255, 257]
      .map((code) => code.toString(2).padStart(9, '0'))
      .join('')
      .padEnd(56, '0');
    const lzw = Uint8Array.from(bits.match(/.{8}/g)!, (byte) => Number.parseInt(byte, 2));
    expect(await cells(`${size}${space}/Filter/LZWDecode`, lzw)).toEqual(tones);
  });

  it('decodes grey JPEG in a spot', async () => {
    const pixels = Uint8Array.from({ length: 64 * 16 }, (_, k) => ramp[(k % 64) >> 4]);
    const jpeg = await sharp(pixels, { raw: { width: 64, height: 16, channels: 1 } })
      .toColourspace('b-w')
      .jpeg({ quality: 100 })
      .toBuffer();
    const got = await cells(`/Width 64/Height 16/BitsPerComponent 8/ColorSpace ${lagoon}/Filter/DCTDecode`, jpeg);
    for (const [k, tone] of ramp.entries()) expect(Math.abs(got[k] - tone)).toBeLessThanOrEqual(4);
  });

  it('decodes CMYK JPEG that stores its samples inverted', async () => {
    const pixels = Uint8Array.from({ length: 64 * 16 * 4 }, (_, k) => (k % 4 === 1 ? ramp[((k >> 2) % 64) >> 4] : 20));
    const jpeg = await sharp(pixels, { raw: { width: 64, height: 16, channels: 4 } })
      .pipelineColourspace('cmyk')
      .toColourspace('cmyk')
      .jpeg({ quality: 100, chromaSubsampling: '4:4:4' })
      .toBuffer();
    const { data, info } = await sharp(jpeg).toColourspace('cmyk').raw().toBuffer({ resolveWithObject: true });
    const inverted = jpeg.includes('Adobe') ? '/Decode[1 0 1 0 1 0 1 0]' : '';
    const got = await cells(
      `/Width 64/Height 16/BitsPerComponent 8/ColorSpace/DeviceCMYK${inverted}/Filter/DCTDecode`,
      jpeg,
      'process:magenta',
    );
    for (const k of [0, 1, 2, 3]) {
      const expected = data[info.channels * (8 * 64 + 16 * k + 8) + 1];
      expect(Math.abs(got[k] - expected)).toBeLessThanOrEqual(6);
    }
  });

  it('draws stencils in the current ink, inverted by Decode, and inline pictures', async () => {
    const stencil = '/ImageMask true/Width 4/Height 1/BitsPerComponent 1';
    expect(await cells(stencil, Uint8Array.of(0b01010000), key, [], '/L cs 1 scn')).toEqual([255, 0, 255, 0]);
    expect(await cells(`${stencil}/Decode[1 0]`, Uint8Array.of(0b01010000), key, [], '/L cs 0.5 scn')).toEqual([
      0, 127, 0, 127,
    ]);
    const inline = Buffer.concat([
      Buffer.from('q 40 0 0 10 10 10 cm BI /W 4 /H 1 /BPC 8 /CS /L ID '),
      ramp,
      Buffer.from('\nEI Q 60 60 10 10 re f'),
    ]);
    const film = await readFilm(tinyPdf({ content: inline, resources: `/ColorSpace<</L ${lagoon}>>` }));
    const drawn = await drawFilm(film, [key], 72);
    expect([15, 25, 35, 45].map((column) => drawn.at(key, column, 85))).toEqual([0, 64, 128, 255]);
    expect(film.objects.length).toBe(2);
  });

  it('obeys masks: stencil, soft, and by colour', async () => {
    const soft: Body = {
      entries: '/Subtype/Image/Width 4/Height 1/BitsPerComponent 8/ColorSpace/DeviceGray',
      data: Uint8Array.of(255, 128, 0, 255),
    };
    const solid = Uint8Array.of(255, 255, 255, 255);
    expect(await cells(`${size}/ColorSpace ${lagoon}/SMask 11 0 R`, solid, key, [soft])).toEqual([255, 128, 0, 255]);
    const hard: Body = {
      entries: '/Subtype/Image/ImageMask true/Width 4/Height 1/BitsPerComponent 1',
      data: Uint8Array.of(0b01100000),
    };
    expect(await cells(`${size}/ColorSpace ${lagoon}/Mask 11 0 R`, solid, key, [hard])).toEqual([255, 0, 0, 255]);
    expect(await cells(`${size}/ColorSpace ${lagoon}/Mask[60 130]`, ramp)).toEqual([0, 0, 0, 255]);
  });

  it('does not widen an upright picture', async () => {
    const film = await readFilm(
      tinyPdf({ content: 'q 20.5 0 0 10.25 10.3 10.4 cm /I Do Q', resources: '/XObject<</I 10 0 R>>' }, [
        {
          entries: `/Subtype/Image/Width 1/Height 1/BitsPerComponent 8/ColorSpace ${lagoon}`,
          data: Uint8Array.of(255),
        },
      ]),
    );
    const drawn = await drawFilm(film, [key], 600);
    expect(Math.abs(drawn.area(key) / (600 / 72) ** 2 / (20.5 * 10.25) - 1)).toBeLessThan(0.01);
  });
});

describe('fax and JBIG2 pictures', () => {
  const width = 96;
  const height = 64;
  const opaque = (column: number, row: number) =>
    (column * 7 + row * 13) % 29 < 11 || (column > 20 && column < 40 && row > 10);

  /** Group 4 data of the pattern, taken out of a TIFF; black is 1 there, and its photometric tag says what black means. */
  async function group4(): Promise<{ data: Uint8Array; minIsWhite: boolean }> {
    const pixels = Uint8Array.from({ length: width * height }, (_, k) =>
      opaque(k % width, Math.floor(k / width)) ? 0 : 255,
    );
    const tiff = await sharp(pixels, { raw: { width, height, channels: 1 } })
      .toColourspace('b-w')
      .tiff({ compression: 'ccittfax4', bitdepth: 1 })
      .toBuffer();
    const little = tiff[0] === 0x49;
    const u16 = (at: number) => (little ? tiff.readUInt16LE(at) : tiff.readUInt16BE(at));
    const u32 = (at: number) => (little ? tiff.readUInt32LE(at) : tiff.readUInt32BE(at));
    const directory = u32(4);
    const tags = new Map<number, number>();
    for (let k = 0; k < u16(directory); k++) {
      const at = directory + 2 + 12 * k;
      tags.set(u16(at), u16(at + 2) === 3 ? u16(at + 8) : u32(at + 8));
    }
    const start = tags.get(273)!;
    return { data: new Uint8Array(tiff.subarray(start, start + tags.get(279)!)), minIsWhite: tags.get(262) === 0 };
  }

  async function wrongPixels(entries: string, data: Uint8Array, more: readonly Body[] = []): Promise<number> {
    const film = await readFilm(
      tinyPdf(
        {
          content: `${width} 0 0 ${height} 0 0 cm /I Do`,
          resources: '/XObject<</I 10 0 R>>',
          mediaBox: [0, 0, width, height],
        },
        [
          {
            entries: `/Subtype/Image/Width ${width}/Height ${height}/BitsPerComponent 1/ColorSpace/DeviceGray${entries}`,
            data,
          },
          ...more,
        ],
      ),
    );
    const drawn = await drawFilm(film, ['process:black'], 72);
    let wrong = 0;
    for (let row = 0; row < height; row++) {
      for (let column = 0; column < width; column++) {
        if (drawn.at('process:black', column, row) !== (opaque(column, row) ? 255 : 0)) wrong++;
      }
    }
    return wrong;
  }

  it('decodes Group 4', async () => {
    const { data, minIsWhite } = await group4();
    const parms = `/Filter/CCITTFaxDecode/DecodeParms<</K -1/Columns ${width}/Rows ${height}/BlackIs1 ${!minIsWhite}>>`;
    expect(await wrongPixels(parms, data)).toBe(0);
  });

  it('decodes JBIG2', async () => {
    // A page and one generic region of it coded as Group 4 (ITU-T T.88, 7.4.6, MMR = 1).
    const { data, minIsWhite } = await group4();
    const u32 = (v: number) => [(v >>> 24) & 255, (v >>> 16) & 255, (v >>> 8) & 255, v & 255];
    const segment = (number: number, type: number, body: readonly number[]) => [
      ...u32(number),
      type,
      0,
      1,
      ...u32(body.length),
      ...body,
    ];
    const page = segment(0, 48, [...u32(width), ...u32(height), ...u32(0), ...u32(0), 0, 0, 0]);
    const region = segment(1, 38, [...u32(width), ...u32(height), ...u32(0), ...u32(0), 0, 1, ...data]);
    const decode = minIsWhite ? '' : '/Decode[1 0]';
    expect(await wrongPixels(`/Filter/JBIG2Decode${decode}`, Uint8Array.from([...page, ...region]))).toBe(0);
  });
});

describe('JPEG 2000 pictures', () => {
  // 256 by 64 pixels, written by OpenJPEG through OpenCV: four bars of 0, 64, 128, 255; and three components, the first
  // 30 throughout, the second the bars from right to left, the third the bars.
  const grey = Buffer.from(
    'AAAADGpQICANCocKAAAAFGZ0eXBqcDIgAAAAAGpwMiAAAAAtanAyaAAAABZpaGRyAAAAQAAAAQAAAQcHAAAAAAAPY29scgEAAAAAABEAAAEdanAyY/9P/1EAKQAAAAABAAAAAEAAAAAAAAAAAAAAAQAAAABAAAAAAAAAAAAAAQcBAf9SAAwAAAABAAUEBAAB/1wAE0BASEhQSEhQSEhQSEhQSEhQ/2QAJQABQ3JlYXRlZCBieSBPcGVuSlBFRyB2ZXJzaW9uIDIuNS4w/5AACgAAAAAAnAAB/5PfgIAIfNUwtdxqdnjrBfVVUhBLw+oLAB7uLFkbI/1EN9/sw+oQAEp1Hq6tIZtbIMbJV1nMIn/H2iwAgrIwo7E9MByDXIqv9ACuMujuCFoxIsfaSgCcPjFOQxEq/OxEM1SjjMAAAGNCJJT/aTPBkTlDieamq01rTWtL4fqCP1A4izXQd67/f2yLNjFPwHN//9k=',
    'base64',
  );
  const three = Buffer.from(
    'AAAADGpQICANCocKAAAAFGZ0eXBqcDIgAAAAAGpwMiAAAAAtanAyaAAAABZpaGRyAAAAQAAAAQAAAwcHAAAAAAAPY29scgEAAAAAABAAAAHFanAyY/9P/1EALwAAAAABAAAAAEAAAAAAAAAAAAAAAQAAAABAAAAAAAAAAAAAAwcBAQcBAQcBAf9SAAwAAAABAAUEBAAB/1wAE0BASEhQSEhQSEhQSEhQSEhQ/2QAJQABQ3JlYXRlZCBieSBPcGVuSlBFRyB2ZXJzaW9uIDIuNS4w/5AACgAAAAABPgAB/5PPtCgIkPgjBkAAC/E/34CIDPY+oR8p55ay1dlHY1mcvsPfgIAIfNUwtdxqdnjrBfVVUhBLgMPqCwAMuWVFzqNEq+XuC8PqCwAe7ixZGyP9RDff7IDD6hEAIhnhkDFssVI4tiU9k6LAe4fD6hAASnUerq0hm1sgxslXWcwif4DH2jQANp7G+IZzhNEsmP2ScXAAAaeM4/9JkQYFdT/H2iwAgrIwo7E9MByDXIqv9ACuMujuCFoxIoDH2kAAX6a1tiNX6r68voH1IgOlQ+NCeAji2Vfac1oXAuhL/3/H2koAnD4xTkMRKvzsRDNUo4zAAABjQiSU/2kzwZE5Q4nmpqtNa01rS4Dj9oTfUDiLYTHP/CfXvM+LYTHP/1M/4fqCP1A4izXQd67/f2yLNjFPwHN//9k=',
    'base64',
  );

  it('decodes grey ones, with and without a colour space of the file', async () => {
    const size = '/Width 256/Height 64/Filter/JPXDecode';
    expect(await cells(size, grey, 'process:black')).toEqual([255, 191, 127, 0]);
    expect(await cells(`${size}/ColorSpace/DeviceGray`, grey, 'process:black')).toEqual([255, 191, 127, 0]);
    expect(await cells(`${size}/ColorSpace ${lagoon}`, grey)).toEqual([0, 64, 128, 255]);
  });

  it('splits the components of a DeviceN one', async () => {
    const space = '/ColorSpace[/DeviceN[/Lagoon/Coral/Night]/DeviceCMYK 11 0 R]';
    const transform: Body = { entries: '/FunctionType 4/Domain[0 1 0 1 0 1]/Range[0 1 0 1 0 1 0 1]', data: '{0}' };
    const entries = `/Width 256/Height 64${space}/Filter/JPXDecode`;
    expect(await cells(entries, three, 'spot:Lagoon', [transform])).toEqual([30, 30, 30, 30]);
    expect(await cells(entries, three, 'spot:Coral', [transform])).toEqual([255, 128, 64, 0]);
    expect(await cells(entries, three, 'spot:Night', [transform])).toEqual([0, 64, 128, 255]);
  });
});

describe('pictures that cannot be trusted', () => {
  const codes = async (entries: string, data: Uint8Array) => {
    const film = await readFilm(
      tinyPdf({ content: 'q 40 0 0 10 10 10 cm /I Do Q', resources: '/XObject<</I 10 0 R>>' }, [
        { entries: `/Subtype/Image${entries}`, data },
      ]),
    );
    return film.notes.filter(({ affects }) => affects === 'plate').map(({ code }) => code);
  };

  it('says so of short, cut and unknown data', async () => {
    const noise = Uint8Array.from({ length: 4000 }, (_, k) => (k * k * 31) >> 3);
    const packed = deflateSync(noise);
    const grey = '/Width 80/Height 50/BitsPerComponent 8/ColorSpace/DeviceGray';
    expect(await codes(grey, noise)).toEqual([]);
    expect(await codes(grey, noise.subarray(0, 3000))).toEqual(['damaged-picture']);
    expect(await codes(`${grey}/Filter/FlateDecode`, packed)).toEqual([]);
    expect(await codes(`${grey}/Filter/FlateDecode`, packed.subarray(0, packed.length >> 1))).toEqual([
      'damaged-picture',
    ]);
    expect(await codes(`${grey}/Filter/ZapDecode`, packed)).toEqual(['damaged-picture']);
    const jpeg = await sharp(noise, { raw: { width: 80, height: 50, channels: 1 } })
      .toColourspace('b-w')
      .jpeg()
      .toBuffer();
    expect(await codes(`${grey}/Filter/DCTDecode`, jpeg)).toEqual([]);
    expect(await codes(`${grey.replace('80', '81')}/Filter/DCTDecode`, jpeg)).toEqual(['damaged-picture']);
    expect(await codes(`${grey}/Filter/DCTDecode`, noise)).toEqual(['damaged-picture']);
    for (const filter of ['JPXDecode', 'CCITTFaxDecode', 'JBIG2Decode']) {
      expect(await codes(`${grey}/Filter/${filter}`, new Uint8Array())).toEqual(['damaged-picture']);
    }
  });
});

describe('a page that is one 1-bit picture', () => {
  const width = 203;
  const height = 611;
  const rowBytes = Math.ceil(width / 8);
  const data = new Uint8Array(rowBytes * height);
  let seed = 5;
  for (let k = 0; k < data.length; k++) {
    seed = (seed * 1103515245 + 12345) % 2147483648;
    data[k] = seed >> 16;
  }
  const bit = (column: number, row: number) => (data[row * rowBytes + (column >> 3)] >> (7 - (column & 7))) & 1;
  const [w, h] = [(width * 72) / 300, (height * 72) / 300];
  const page = { mediaBox: [0, 0, w, h], resources: '/XObject<</I 10 0 R>>' };

  it('keeps its own grid and gives its own bits', async () => {
    const image = {
      entries: `/Subtype/Image/Width ${width}/Height ${height}/BitsPerComponent 1/ColorSpace/DeviceGray/Filter/FlateDecode`,
      data: deflateSync(data),
    };
    const film = await readFilm(tinyPdf({ ...page, content: `${w} 0 0 ${h} 0 0 cm /I Do` }, [image]));
    expect(film.nature).toBe('bitmap');
    expect(film.drawing.nativeGrid).toMatchObject({ widthPx: width, heightPx: height });
    const drawn = await drawFilm(film, ['process:black'], 0);
    let wrong = 0;
    for (let row = 0; row < height; row++) {
      for (let column = 0; column < width; column++) {
        if (drawn.at('process:black', column, row) !== (bit(column, row) ? 0 : 255)) wrong++;
      }
    }
    expect(wrong).toBe(0);
  });

  it('does so for stencils, mirrored and turned pages too', async () => {
    const image = { entries: `/Subtype/Image/ImageMask true/Width ${width}/Height ${height}/BitsPerComponent 1`, data };
    const content = `/L cs 1 scn -${w} 0 0 ${h} ${w} 0 cm /I Do`;
    const film = await readFilm(
      tinyPdf({ ...page, resources: `${page.resources}/ColorSpace<</L ${lagoon}>>`, content, page: '/Rotate 90' }, [
        image,
      ]),
    );
    expect(film.drawing.nativeGrid).toMatchObject({ widthPx: height, heightPx: width });
    const drawn = await drawFilm(film, [key], 0);
    let wrong = 0;
    for (let row = 0; row < height; row++) {
      for (let column = 0; column < width; column++) {
        // Mirrored left to right, then turned clockwise: row r comes to column height − 1 − r.
        const opaque = bit(width - 1 - column, row) ? 0 : 255;
        if (drawn.at(key, height - 1 - row, column) !== opaque) wrong++;
      }
    }
    expect(wrong).toBe(0);
  });

  it('joins strips of one picture', async () => {
    const strip = (from: number, rows: number): Body => ({
      entries: `/Subtype/Image/Width ${width}/Height ${rows}/BitsPerComponent 1/ColorSpace/DeviceGray`,
      data: data.subarray(from * rowBytes, (from + rows) * rowBytes),
    });
    const cuts = [0, 200, 400, height];
    let content = '1 1 1 rg 0 0 999 999 re f ';
    for (const k of [0, 1, 2]) {
      const rows = cuts[k + 1] - cuts[k];
      content += `q ${w} 0 0 ${(rows * 72) / 300} 0 ${((height - cuts[k + 1]) * 72) / 300} cm /I${k} Do Q `;
    }
    const film = await readFilm(
      tinyPdf(
        { ...page, content, resources: '/XObject<</I0 10 0 R/I1 11 0 R/I2 12 0 R>>' },
        [0, 1, 2].map((k) => strip(cuts[k], cuts[k + 1] - cuts[k])),
      ),
    );
    expect(film.drawing.nativeGrid).toMatchObject({ widthPx: width, heightPx: height });
    const drawn = await drawFilm(film, ['process:black'], 0);
    let wrong = 0;
    for (let row = 0; row < height; row++) {
      for (let column = 0; column < width; column++) {
        if (drawn.at('process:black', column, row) !== (bit(column, row) ? 0 : 255)) wrong++;
      }
    }
    expect(wrong).toBe(0);
  });

  it('does not when there is anything beside the picture', async () => {
    const image = {
      entries: `/Subtype/Image/Width ${width}/Height ${height}/BitsPerComponent 1/ColorSpace/DeviceGray`,
      data,
    };
    const film = await readFilm(
      tinyPdf({ ...page, content: `q ${w} 0 0 ${h} 0 0 cm /I Do Q 0 g 5 5 5 5 re f` }, [image]),
    );
    expect(film.drawing.nativeGrid).toBeNull();
    expect(film.nature).toBe('vector');
  });
});
