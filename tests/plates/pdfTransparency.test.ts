import { describe, expect, it } from 'vitest';
import { drawFilm, readFilm } from '../readers/pdf/support/drawFilm.ts';
import { type Body, spot, tinyPdf } from '../readers/pdf/support/tinyPdf.ts';

const spaces = `/ColorSpace<</L ${spot('Lagoon')}/C ${spot('Coral')}>>`;
const keys = ['spot:Lagoon', 'spot:Coral'];

/** Percent of Lagoon and Coral at column 55, row 45, in the middle of the page. */
async function middle(content: string, states: string, objects: readonly Body[] = [], more = ''): Promise<number[]> {
  const film = await readFilm(tinyPdf({ content, resources: `${spaces}/ExtGState<<${states}>>${more}` }, objects));
  expect(film.notes).toEqual([]);
  const drawn = await drawFilm(film, keys, 72);
  return keys.map((key) => Math.round((100 * drawn.at(key, 55, 45)) / 255));
}

// The ground is 60 % Coral; the object 80 % Lagoon.
const ground = '/C cs 0.6 scn 0 0 100 100 re f';
const object = '/L cs 0.8 scn 20 20 60 60 re f';

describe('transparency on plates', () => {
  it('mixes by opacity: every channel on its own', async () => {
    expect(await middle(`${ground} /X gs ${object}`, '/X<</ca 0.5>>')).toEqual([40, 30]);
  });

  it('multiplies the light that is left (ISO 32000-1, 11.3.5)', async () => {
    expect(await middle(`${ground} /X gs /C cs 0.5 scn 20 20 60 60 re f`, '/X<</BM/Multiply>>')).toEqual([0, 80]);
    expect(await middle(`${ground} /X gs /C cs 0.5 scn 20 20 60 60 re f`, '/X<</BM/Screen>>')).toEqual([0, 30]);
    expect(await middle(`${ground} /X gs /C cs 0.5 scn 20 20 60 60 re f`, '/X<</BM/Darken>>')).toEqual([0, 60]);
  });

  it('multiplies and overprints together', async () => {
    expect(await middle(`${ground} /X gs ${object}`, '/X<</BM/Multiply/op true>>')).toEqual([80, 60]);
  });

  it('draws a group as one: its parts do not show through each other', async () => {
    const group = (entries: string): Body => ({
      entries: `/Subtype/Form/BBox[0 0 100 100]/Resources<<${spaces}>>/Group<</S/Transparency${entries}>>`,
      data: `/C cs 1 scn 10 10 80 80 re f ${object}`,
    });
    expect(await middle(`${ground} /X gs /F Do`, '/X<</ca 0.5>>', [group('')], '/XObject<</F 10 0 R>>')).toEqual([
      40, 30,
    ]);
    expect(await middle(`${ground} /X gs /F Do`, '/X<</ca 0.5>>', [group('/I true')], '/XObject<</F 10 0 R>>')).toEqual(
      [40, 30],
    );
  });

  it('applies opacity to each part of a form that is no group', async () => {
    const form: Body = {
      entries: `/Subtype/Form/BBox[0 0 100 100]/Resources<<${spaces}>>`,
      data: `/C cs 1 scn 10 10 80 80 re f ${object}`,
    };
    // Coral 60 → 80 by the first part, halved to 40 by the second; Lagoon 0 → 40.
    expect(await middle(`${ground} /X gs /F Do`, '/X<</ca 0.5>>', [form], '/XObject<</F 10 0 R>>')).toEqual([40, 40]);
  });

  it('multiplies within an isolated group against the group only', async () => {
    const group: Body = {
      entries: `/Subtype/Form/BBox[0 0 100 100]/Resources<<${spaces}/ExtGState<</M<</BM/Multiply>>>>>>/Group<</S/Transparency/I true>>`,
      data: '/M gs /C cs 0.5 scn 20 20 60 60 re f',
    };
    expect(await middle(`${ground} /F Do`, '', [group], '/XObject<</F 10 0 R>>')).toEqual([0, 50]);
    const open: Body = { ...group, entries: group.entries.replace('/I true', '') };
    expect(await middle(`${ground} /F Do`, '', [open], '/XObject<</F 10 0 R>>')).toEqual([0, 80]);
  });

  it('obeys luminosity and alpha soft masks, set under a transform', async () => {
    const mask: Body = {
      entries: '/Subtype/Form/BBox[0 0 50 50]/Group<</S/Transparency/CS/DeviceGray>>/Resources<<>>',
      data: '0.25 g 0 0 50 50 re f',
    };
    const state = '/X<</SMask<</Type/Mask/S/Luminosity/G 10 0 R>>>>';
    const [lagoon, coral] = await middle(
      `${ground} q 2 0 0 2 0 0 cm /X gs Q q 2 0 0 2 0 0 cm /X gs 0.5 0 0 0.5 0 0 cm ${object} Q`,
      state,
      [mask],
    );
    expect(Math.abs(lagoon - 20)).toBeLessThanOrEqual(1);
    expect(Math.abs(coral - 45)).toBeLessThanOrEqual(1);
    const alpha: Body = {
      entries: '/Subtype/Form/BBox[0 0 100 100]/Group<</S/Transparency>>/Resources<</ExtGState<</A<</ca 0.25>>>>>>',
      data: '/A gs 0 g 0 0 100 100 re f',
    };
    const other = await middle(`${ground} /X gs ${object}`, state.replace('Luminosity', 'Alpha'), [alpha]);
    expect(Math.abs(other[0] - 20)).toBeLessThanOrEqual(1);
  });

  it('says so when a blend mode cannot be drawn', async () => {
    const film = await readFilm(
      tinyPdf({ content: `${ground} /X gs ${object}`, resources: `${spaces}/ExtGState<</X<</BM/Luminosity>>>>` }),
    );
    expect(film.notes.map(({ code, affects }) => `${code}/${affects}`)).toEqual(['blend-mode/plate']);
  });
});

describe('text on plates', () => {
  const font: Body[] = [
    '<</Type/Font/Subtype/Type3/FontBBox[0 0 1000 1000]/FontMatrix[0.001 0 0 0.001 0 0]/FirstChar 97/LastChar 98/Widths[1000 500]/Encoding<</Differences[97/a/b]>>/CharProcs<</a 11 0 R/b 12 0 R>>/Resources<<>>>>',
    { entries: '', data: '1000 0 0 0 1000 1000 d1 0 0 1000 1000 re f' },
    { entries: '', data: '500 0 0 0 500 1000 d1 0 0 500 500 re f' },
  ];

  it('places letters by widths, spacings, scale, rise and matrices', async () => {
    // Letter a is a full square, b the lower half of half a square.
    const content = '/L cs 1 scn BT /T 10 Tf 2 Tc 50 Tz 3 Ts 2 0 0 1 10 20 Tm (a) Tj [-100 (b)] TJ ET';
    const film = await readFilm(tinyPdf({ content, resources: `${spaces}/Font<</T 10 0 R>>` }, font));
    const drawn = await drawFilm(film, ['spot:Lagoon'], 72);
    // a: 10 wide by 10 high from (10, 23). Then (10 + 2 + 1) · 0.5 · 2 = 13 on: b from 23, 5 wide, 5 high.
    expect(drawn.area('spot:Lagoon')).toBe(100 + 25);
    expect([drawn.at('spot:Lagoon', 10, 76), drawn.at('spot:Lagoon', 19, 67), drawn.at('spot:Lagoon', 20, 70)]).toEqual(
      [255, 255, 0],
    );
    expect([drawn.at('spot:Lagoon', 22, 76), drawn.at('spot:Lagoon', 23, 76), drawn.at('spot:Lagoon', 27, 72)]).toEqual(
      [0, 255, 255],
    );
  });

  const standard = '/Font<</H<</Type/Font/Subtype/Type1/BaseFont/Helvetica-Bold>>>>';

  it('clips to letters as it fills them', async () => {
    const place = 'BT /H 60 Tf 10 30 Td';
    const filled = await readFilm(
      tinyPdf({ content: `/L cs 1 scn ${place} (am) Tj ET`, resources: spaces + standard }),
    );
    const clipped = await readFilm(
      tinyPdf({
        content: `q ${place} 7 Tr (a) Tj (m) Tj ET /L cs 1 scn 0 0 100 100 re f Q`,
        resources: spaces + standard,
      }),
    );
    const [a, b] = [await drawFilm(filled, ['spot:Lagoon'], 300), await drawFilm(clipped, ['spot:Lagoon'], 300)];
    expect(a.area('spot:Lagoon')).toBeGreaterThan(5000);
    expect(Math.abs(b.area('spot:Lagoon') / a.area('spot:Lagoon') - 1)).toBeLessThan(0.01);
  });

  it('keeps the place of letters whose ink is not drawn', async () => {
    const content = 'BT /H 20 Tf 10 30 Td /L cs 1 scn (ma) Tj /X gs /C cs 0.5 scn (ma) Tj /L cs 1 scn (i) Tj ET';
    const film = await readFilm(tinyPdf({ content, resources: `${spaces}${standard}/ExtGState<</X<</op true>>>>` }));
    const alone = await drawFilm(film, ['spot:Lagoon'], 300);
    const turned = await readFilm(
      tinyPdf({
        content: content.replace('/C cs 0.5', '/C cs 1'),
        resources: `${spaces}${standard}/ExtGState<</X<</op true>>>>`,
      }),
    );
    const together = await drawFilm(turned, keys, 300);
    expect(together.passes).toBe(1);
    expect(alone.area('spot:Lagoon')).toBeGreaterThan(500);
    expect(together.tones.get('spot:Lagoon')).toEqual(alone.tones.get('spot:Lagoon'));
    expect((await drawFilm(film, keys, 300)).passes).toBe(2);
  });

  it('places letters of a font without widths alike, whatever changes between them', async () => {
    const plain = await readFilm(
      tinyPdf({ content: '/L cs 1 scn BT /H 20 Tf 5 30 Td (mi) Tj (lw) Tj (am) Tj ET', resources: spaces + standard }),
    );
    const states = '/ExtGState<</M<</BM/Multiply>>/N<</BM/Normal>>>>';
    const changing = await readFilm(
      tinyPdf({
        content:
          '/L cs 1 scn BT /H 20 Tf 5 30 Td (mi) Tj /M gs 3 Tr (lw) Tj 0 Tr (am) Tj ET /N gs BT 5 30 Td 3 Tr (mi) Tj 0 Tr (lw) Tj ET',
        resources: spaces + standard + states,
      }),
    );
    const [a, b] = [await drawFilm(plain, ['spot:Lagoon'], 300), await drawFilm(changing, ['spot:Lagoon'], 300)];
    expect(a.area('spot:Lagoon')).toBeGreaterThan(3000);
    expect(b.tones.get('spot:Lagoon')).toEqual(a.tones.get('spot:Lagoon'));
  });

  it('fills letters with a shading and strokes them at their width', async () => {
    const shading = `/Shading<<>>/Pattern<</P<</PatternType 2/Shading<</ShadingType 2/ColorSpace ${spot('Lagoon')}/Coords[0 0 100 0]/Function<</FunctionType 2/Domain[0 1]/C0[1]/C1[1]/N 1>>/Extend[true true]>>>>>>`;
    const film = await readFilm(
      tinyPdf({
        content: '/Pattern cs /P scn BT /H 60 Tf 10 30 Td (am) Tj ET',
        resources: spaces + standard + shading,
      }),
    );
    const solid = await readFilm(
      tinyPdf({ content: '/L cs 1 scn BT /H 60 Tf 10 30 Td (am) Tj ET', resources: spaces + standard }),
    );
    const [a, b] = [await drawFilm(film, ['spot:Lagoon'], 300), await drawFilm(solid, ['spot:Lagoon'], 300)];
    expect(Math.abs(a.area('spot:Lagoon') / b.area('spot:Lagoon') - 1)).toBeLessThan(0.01);
    // The stem of an "l" in outline: two long edges of 2 pt each, half of it inside the stem.
    const line = await readFilm(
      tinyPdf({
        content: 'q 2 0 0 2 0 0 cm /L CS 1 SCN 1 w 1 Tr BT /H 30 Tf 5 15 Td (l) Tj ET Q',
        resources: spaces + standard,
      }),
    );
    expect(line.objects[0].strokeWidthMm!.max).toBeCloseTo((2 * 25.4) / 72, 6);
    const outline = (await drawFilm(line, ['spot:Lagoon'], 300)).area('spot:Lagoon') / (300 / 72) ** 2;
    // Bold "l" of 60 pt: height 0.72 em = 43 pt, stem about 8.5 pt; the outline is about 2 · (43 + 8.5) long.
    expect(outline).toBeGreaterThan(2 * 95);
    expect(outline).toBeLessThan(2 * 112);
  });
});
