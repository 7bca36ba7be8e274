import { describe, expect, it } from 'vitest';
import { flattenedPath } from '../../../src/geometry/flattenedPath.ts';
import { readFilm, readFilms } from './support/drawFilm.ts';
import { spot, tinyPdf } from './support/tinyPdf.ts';

const resources = `/ColorSpace<</L ${spot('Lagoon')}/C ${spot('Coral')}>>`;
const pt = 25.4 / 72;

describe('objects of a PDF', () => {
  it('gives stroke widths under every transform in mm', async () => {
    const content =
      '/L CS 1 SCN 2 w q 3 0 0 1 0 0 cm 5 5 m 20 5 l S Q q 2 0 0 2 0 0 cm 5 20 m 20 20 l S Q q 0 1 -1 0 90 0 cm 5 5 m 9 5 l S Q';
    const film = await readFilm(tinyPdf({ content, resources }));
    const widths = film.objects.map(({ strokeWidthMm }) => [strokeWidthMm!.min / pt, strokeWidthMm!.max / pt]);
    for (const [k, [min, max]] of [
      [2, 6],
      [4, 4],
      [2, 2],
    ].entries()) {
      expect(widths[k][0]).toBeCloseTo(min, 6);
      expect(widths[k][1]).toBeCloseTo(max, 6);
    }
  });

  it('keeps the paths of strokes in film mm, and their pens', async () => {
    const content = '/L CS 1 SCN 1 w 10 10 m 30 10 l 30 30 l s 50 50 m 50 61.0457 41.0457 70 30 70 c S';
    const film = await readFilm(tinyPdf({ content, resources }));
    const [{ points: triangle, closed }] = flattenedPath(
      film.objects[0].outline!.paths,
      film.objects[0].outline!.path,
      0.005,
    );
    expect(triangle.map((mm) => Math.round((mm / pt) * 1000) / 1000)).toEqual([10, 90, 30, 90, 30, 70]);
    expect(closed).toBe(true);
    expect(film.objects[0].outline!.pen!.width).toBe(1);
    const [{ points: arc }] = flattenedPath(film.objects[1].outline!.paths, film.objects[1].outline!.path, 0.005);
    for (let k = 0; k + 3 < arc.length; k += 2) {
      const x = (arc[k] + arc[k + 2]) / 2 - 30 * pt;
      const y = (arc[k + 1] + arc[k + 3]) / 2 - 50 * pt;
      // A quarter circle of 20 pt; the cubic itself strays from it by 0.03 % at most.
      expect(Math.abs(Math.hypot(x, y) - 20 * pt)).toBeLessThan(0.005 + 0.0003 * 20 * pt);
    }
  });

  it('tells of text: font, size under the transform, embedded or not', async () => {
    const fonts = '/Font<</F<</Type/Font/Subtype/Type1/BaseFont/ABCDEF+Helvetica>>>>';
    const content = 'q 2 0 0 2 0 0 cm /L cs 1 scn BT /F 6 Tf 1.5 0 0 1.5 5 20 Tm (Dorf) Tj [(fe) -50 (st)] TJ ET Q';
    const film = await readFilm(tinyPdf({ content, resources: resources + fonts }));
    expect(film.objects.map(({ text }) => text)).toEqual([
      { fontName: 'Helvetica', sizePt: expect.closeTo(18, 6), embedded: false, resolved: false, excerpt: 'Dorf' },
      { fontName: 'Helvetica', sizePt: expect.closeTo(18, 6), embedded: false, resolved: false, excerpt: 'fest' },
    ]);
    const note = film.notes.find(({ code }) => code === 'font-not-embedded');
    expect(note).toMatchObject({ affects: 'plate', inkKeys: ['spot:Lagoon'] });
  });

  it('tells of pictures: pixels, resolution each way, depth and colour', async () => {
    const image = {
      entries: `/Subtype/Image/Width 300/Height 150/BitsPerComponent 1/ColorSpace ${spot('Lagoon')}`,
      data: new Uint8Array(38 * 150),
    };
    const film = await readFilm(
      tinyPdf({ content: 'q 0 72 -36 0 90 10 cm /I Do Q', resources: `/XObject<</I 10 0 R>>` }, [image]),
    );
    const { image: facts, boxMm } = film.objects[0];
    expect(facts).toEqual({
      widthPx: 300,
      heightPx: 150,
      ppiX: expect.closeTo(300, 6),
      ppiY: expect.closeTo(300, 6),
      bitsPerComponent: 1,
      colour: 'bilevel',
    });
    expect([boxMm.widthMm / pt, boxMm.heightMm / pt].map(Math.round)).toEqual([36, 72]);
  });

  it('tells of overprint, opacity, blend mode, tints', async () => {
    const states = '/ExtGState<</X<</OP true/op false/OPM 1/ca 0.4/CA 0.7/BM/Multiply>>>>';
    const film = await readFilm(
      tinyPdf({ content: '/X gs /L cs 0.3 scn 0 0 9 9 re f 0 0 0.2 0 K 0 0 m 9 9 l S', resources: resources + states }),
    );
    expect(
      film.objects.map(({ overprint, opacityRatio, blendMode, inks }) => ({
        overprint,
        opacityRatio,
        blendMode,
        inks,
      })),
    ).toEqual([
      {
        overprint: { fill: false, stroke: true, mode: 1 },
        opacityRatio: 0.4,
        blendMode: 'Multiply',
        inks: [{ key: 'spot:Lagoon', tintRatio: 0.3 }],
      },
      {
        overprint: { fill: false, stroke: true, mode: 1 },
        opacityRatio: 0.7,
        blendMode: 'Multiply',
        inks: [{ key: 'process:yellow', tintRatio: 0.2 }],
      },
    ]);
  });

  it('keeps layers that are off out of the plates and says so', async () => {
    const catalog = '/OCProperties<</OCGs[10 0 R 11 0 R]/D<</OFF[11 0 R]>>>>';
    const content =
      '/OC /A BDC /L cs 1 scn 0 0 10 10 re f EMC /OC /B BDC /C cs 1 scn 0 0 10 10 re f EMC /OC /M BDC /C cs 1 scn 0 0 10 10 re f EMC';
    const film = await readFilm(
      tinyPdf(
        {
          content,
          resources: `${resources}/Properties<</A 10 0 R/B 11 0 R/M<</Type/OCMD/OCGs[10 0 R 11 0 R]/P/AllOn>>>>`,
        },
        ['<</Type/OCG/Name(Colours)>>', '<</Type/OCG/Name(Notes)>>'],
        catalog,
      ),
    );
    expect(film.objects.map(({ hidden, layerPath }) => [hidden, layerPath])).toEqual([
      [null, ['Colours']],
      ['layerOff', ['Notes']],
      ['layerOff', ['Colours']],
    ]);
    expect(film.inks.filter(({ used }) => used).map(({ name }) => name)).toEqual(['Lagoon']);
    expect(film.notes.filter(({ code }) => code === 'layer-off').length).toBe(2);
  });

  it('draws comments that print, and only those', async () => {
    const annotation = (flags: number) => `<</Subtype/Stamp/Rect[20 20 60 40]/F ${flags}/AP<</N 10 0 R>>>>`;
    const form = {
      entries: `/Subtype/Form/BBox[0 0 10 10]/Resources<<${resources}>>`,
      data: '/C cs 1 scn 0 0 10 5 re f',
    };
    const printed = await readFilm(tinyPdf({ content: '', page: `/Annots[${annotation(4)}]` }, [form]));
    const { xMm, yMm, widthMm, heightMm } = printed.objects[0].boxMm;
    expect([xMm, yMm, widthMm, heightMm].map((mm) => Math.round(mm / pt))).toEqual([20, 70, 40, 10]);
    const silent = await readFilm(tinyPdf({ content: '', page: `/Annots[${annotation(0)}]` }, [form]));
    expect(silent.objects).toEqual([]);
    expect(silent.notes.map(({ code }) => code)).toContain('annotation-not-printed');
  });
});

describe('pages that are separations', () => {
  const page = (content: string, more = '') => ({ content, page: more });

  it('takes the name from SeparationInfo', async () => {
    const films = await readFilms(
      tinyPdf([
        page('0 g 0 0 9 9 re f', '/SeparationInfo<</DeviceColorant/Lagoon>>'),
        page('0.5 g 0 0 9 9 re f', '/SeparationInfo<</DeviceColorant(Coral)>>'),
      ]),
    );
    expect(films.map(({ form, separationName, inks }) => [form, separationName, inks.length])).toEqual([
      ['separation', 'Lagoon', 1],
      ['separation', 'Coral', 1],
    ]);
  });

  it('takes several pages in black only for separations, named by page labels', async () => {
    const films = await readFilms(
      tinyPdf(
        [page('0 g 0 0 9 9 re f'), page('0 g 0 0 5 5 re f'), page('1 g 0 0 5 5 re f')],
        [],
        '/PageLabels<</Nums[0<</P(Lagoon)>>1<</P(Coral)>>2<</S/D>>]>>',
      ),
    );
    expect(films.map(({ form, separationName }) => [form, separationName])).toEqual([
      ['separation', 'Lagoon'],
      ['separation', 'Coral'],
      ['separation', null],
    ]);
  });

  it('leaves a single black page and pages in colour composites', async () => {
    expect((await readFilm(tinyPdf({ content: '0 g 0 0 9 9 re f' }))).form).toBe('composite');
    const films = await readFilms(tinyPdf([page('0 g 0 0 9 9 re f'), page('0 1 0 0 k 0 0 9 9 re f')]));
    expect(films.map(({ form }) => form)).toEqual(['composite', 'composite']);
  });
});
