import { describe, expect, it } from 'vitest';
import { drawFilm, readFilm } from '../readers/pdf/support/drawFilm.ts';
import { spot, tinyPdf } from '../readers/pdf/support/tinyPdf.ts';

/**
 * The truth table of ISO 32000-1, 8.6.7 and table 149: a ground of several inks, an object on it, and what must stand
 * on each plate where both lie (percent). Worked out by hand from the standard.
 */
interface Row {
  readonly what: string;
  readonly state: string;
  readonly object: string;
  /** cyan, magenta, yellow, black, Lagoon, Coral; the ground is 20 30 0 40 % of CMYK, 60 % Lagoon and 50 % Coral. */
  readonly expected: readonly [number, number, number, number, number, number];
}

const keys = ['process:cyan', 'process:magenta', 'process:yellow', 'process:black', 'spot:Lagoon', 'spot:Coral'];
const on = '/OP true/op true';
const rows: readonly Row[] = [
  { what: 'spot, off', state: '/OP false', object: '/L cs 0.8 scn', expected: [0, 0, 0, 0, 80, 0] },
  { what: 'spot tint, on', state: on, object: '/L cs 0.8 scn', expected: [20, 30, 0, 40, 80, 50] },
  { what: 'spot solid, on', state: on, object: '/L cs 1 scn', expected: [20, 30, 0, 40, 100, 50] },
  { what: 'spot without ink, on', state: on, object: '/L cs 0 scn', expected: [20, 30, 0, 40, 0, 50] },
  {
    what: 'only OP given, speaks for fills too',
    state: '/OP true',
    object: '/L cs 0.8 scn',
    expected: [20, 30, 0, 40, 80, 50],
  },
  { what: 'only strokes', state: '/OP true/op false', object: '/L cs 0.8 scn', expected: [0, 0, 0, 0, 80, 0] },
  { what: 'only fills', state: '/op true', object: '/L cs 0.8 scn', expected: [20, 30, 0, 40, 80, 50] },
  { what: 'DeviceCMYK, off', state: '/OPM 1', object: '0.7 0 0.1 0 k', expected: [70, 0, 10, 0, 0, 0] },
  { what: 'DeviceCMYK, on, mode 0', state: `${on}/OPM 0`, object: '0.7 0 0.1 0 k', expected: [70, 0, 10, 0, 60, 50] },
  { what: 'DeviceCMYK, on, mode 1', state: `${on}/OPM 1`, object: '0.7 0 0.1 0 k', expected: [70, 30, 10, 40, 60, 50] },
  { what: 'DeviceGray, on, mode 1', state: `${on}/OPM 1`, object: '0.2 g', expected: [0, 0, 0, 80, 60, 50] },
  {
    what: 'ICC CMYK, on, mode 1',
    state: `${on}/OPM 1`,
    object: '/I cs 0.7 0 0.1 0 scn',
    expected: [70, 0, 10, 0, 60, 50],
  },
  { what: 'DeviceN, on', state: on, object: '/N cs 0.9 0 scn', expected: [20, 30, 0, 40, 90, 0] },
  { what: 'DeviceN, off', state: '', object: '/N cs 0.9 0.1 scn', expected: [0, 0, 0, 0, 90, 10] },
  { what: 'Separation Black, on', state: `${on}/OPM 1`, object: '/K cs 0.9 scn', expected: [20, 30, 0, 90, 60, 50] },
  { what: 'None, off', state: '', object: '/O cs 1 scn', expected: [20, 30, 0, 40, 60, 50] },
  { what: 'DeviceN with None, on', state: on, object: '/M cs 1 0.7 scn', expected: [20, 30, 0, 40, 60, 70] },
  { what: 'All, off', state: '', object: '/R cs 0.9 scn', expected: [90, 90, 90, 90, 90, 90] },
  { what: 'All, on', state: on, object: '/R cs 0.9 scn', expected: [90, 90, 90, 90, 90, 90] },
  { what: 'RGB white, off', state: '', object: '1 1 1 rg', expected: [0, 0, 0, 0, 0, 0] },
  { what: 'RGB white, on', state: on, object: '1 1 1 rg', expected: [20, 30, 0, 40, 60, 50] },
];

const tintTransform = (count: number) =>
  `<</FunctionType 4/Domain[${'0 1 '.repeat(count)}]/Range[0 1 0 1 0 1 0 1]/Length 20>>`;

function film(row: Row): Uint8Array {
  const spaces = [
    `/L ${spot('Lagoon')}`,
    `/C ${spot('Coral')}`,
    `/K ${spot('Black')}`,
    `/O ${spot('None')}`,
    `/R ${spot('All')}`,
    '/N [/DeviceN[/Lagoon/Coral]/DeviceCMYK 11 0 R]',
    '/M [/DeviceN[/None/Coral]/DeviceCMYK 11 0 R]',
    '/G [/DeviceN[/Cyan/Magenta/Yellow/Black/Lagoon/Coral]/DeviceCMYK 12 0 R]',
    '/I [/ICCBased 10 0 R]',
  ];
  const content = `/G cs 0.2 0.3 0 0.4 0.6 0.5 scn 10 10 60 60 re f /X gs ${row.object} 40 40 50 50 re f`;
  return tinyPdf({ content, resources: `/ColorSpace<<${spaces.join('')}>>/ExtGState<</X<<${row.state}>>>>` }, [
    { entries: '/N 4/Alternate/DeviceCMYK', data: 'profile' },
    { entries: tintTransform(2).slice(2).replace('/Length 20>>', ''), data: '{pop pop 0 0 0 0}' },
    { entries: tintTransform(6).slice(2).replace('/Length 20>>', ''), data: '{pop pop pop pop pop pop 0 0 0 0}' },
  ]);
}

describe('overprint', () => {
  for (const row of rows) {
    it(row.what, async () => {
      const drawn = await drawFilm(await readFilm(film(row)), keys, 72);
      const both = keys.map((key) => Math.round((100 * drawn.at(key, 55, 45)) / 255));
      const groundOnly = keys.map((key) => Math.round((100 * drawn.at(key, 20, 80)) / 255));
      expect(groundOnly).toEqual([20, 30, 0, 40, 60, 50]);
      expect(both).toEqual([...row.expected]);
    });
  }

  it('does not depend on which inks are drawn together', async () => {
    const bytes = film(rows[1]);
    const read = await readFilm(bytes);
    const together = await drawFilm(read, keys, 72);
    for (const key of keys) {
      const alone = await drawFilm(read, [key], 72);
      expect(alone.tones.get(key)).toEqual(together.tones.get(key));
    }
  });

  it('keeps inks apart where a translucent tint leaves one alone', async () => {
    const content = '/C cs 0.5 scn 10 10 60 60 re f /X gs /L cs 0.8 scn 40 40 50 50 re f';
    const spaces = `/ColorSpace<</L ${spot('Lagoon')}/C ${spot('Coral')}>>`;
    const read = await readFilm(tinyPdf({ content, resources: `${spaces}/ExtGState<</X<<${on}/ca 0.5>>>>` }));
    const drawn = await drawFilm(read, ['spot:Lagoon', 'spot:Coral'], 72);
    expect(drawn.passes).toBe(2);
    expect(Math.abs(drawn.at('spot:Coral', 55, 45) - 127.5)).toBeLessThanOrEqual(1);
    expect(Math.abs(drawn.at('spot:Lagoon', 55, 45) - 0.4 * 255)).toBeLessThanOrEqual(1.5);
    expect(Math.abs(drawn.at('spot:Lagoon', 80, 20) - 0.4 * 255)).toBeLessThanOrEqual(1.5);
  });

  it('lets an overprinting picture leave the other inks alone', async () => {
    const spaces = `/ColorSpace<</L ${spot('Lagoon')}/C ${spot('Coral')}>>`;
    const image = {
      entries: `/Subtype/Image/Width 2/Height 1/BitsPerComponent 8/ColorSpace ${spot('Lagoon')}`,
      data: Uint8Array.of(0, 128),
    };
    const content = '/C cs 0.5 scn 10 10 60 60 re f /X gs q 40 0 0 40 40 40 cm /I Do Q';
    for (const [state, coral] of [
      [on, 127],
      ['', 0],
    ] as const) {
      const read = await readFilm(
        tinyPdf({ content, resources: `${spaces}/ExtGState<</X<<${state}>>>>/XObject<</I 10 0 R>>` }, [image]),
      );
      const drawn = await drawFilm(read, ['spot:Lagoon', 'spot:Coral'], 72);
      expect(Math.abs(drawn.at('spot:Coral', 50, 45) - coral)).toBeLessThanOrEqual(1);
      expect(drawn.at('spot:Lagoon', 45, 45)).toBe(0);
      expect(Math.abs(drawn.at('spot:Lagoon', 75, 45) - 128)).toBeLessThanOrEqual(1);
    }
  });

  it('overprints strokes and text by their own settings', async () => {
    const spaces = `/ColorSpace<</L ${spot('Lagoon')}/C ${spot('Coral')}>>`;
    const states = '/ExtGState<</A<</OP true/op false>>/B<</OP false/op true>>>>';
    const content = (name: string) =>
      `/C cs 0.5 scn 10 10 60 60 re f /${name} gs /L cs 0.8 scn /L CS 0.8 SCN 10 w 0 30 m 100 30 l S 20 50 30 10 re f`;
    const a = await drawFilm(
      await readFilm(tinyPdf({ content: content('A'), resources: spaces + states })),
      ['spot:Lagoon', 'spot:Coral'],
      72,
    );
    const b = await drawFilm(
      await readFilm(tinyPdf({ content: content('B'), resources: spaces + states })),
      ['spot:Lagoon', 'spot:Coral'],
      72,
    );
    // Row 70 lies in the stroke, row 45 in the fill.
    expect([a.at('spot:Coral', 30, 70), a.at('spot:Coral', 30, 45)]).toEqual([127, 0]);
    expect([b.at('spot:Coral', 30, 70), b.at('spot:Coral', 30, 45)]).toEqual([0, 127]);
  });
});
