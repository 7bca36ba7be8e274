import { describe, expect, it } from 'vitest';
import { drawFilm, readFilm, readFilms } from './support/drawFilm.ts';
import { spot, tinyPdf } from './support/tinyPdf.ts';

const resources = `/ColorSpace<</L ${spot('Lagoon')}>>`;
const key = 'spot:Lagoon';
const mark = '/L cs 1 scn 120 30 20 10 re f';
const pt = 25.4 / 72;

async function markBox(page: string, mediaBox: readonly number[]) {
  const film = await readFilm(tinyPdf({ content: mark, resources, page, mediaBox }));
  const { xMm, yMm, widthMm, heightMm } = film.objects[0].boxMm;
  const inPoints = [film.widthMm, film.heightMm, xMm, yMm, widthMm, heightMm].map(
    (mm) => Math.round((mm / pt) * 1000) / 1000,
  );
  const drawn = await drawFilm(film, [key], 72);
  const [x, y] = [inPoints[2], inPoints[3]];
  const seen = [drawn.at(key, x, y), drawn.at(key, x + inPoints[4] - 1, y + inPoints[5] - 1), drawn.area(key)];
  return { inPoints, seen, film };
}

describe('page geometry', () => {
  // Page 100…300 by 0…100; the mark is 20…40 from the left and 60…70 from the top.
  it('puts the origin at the top left of the page box', async () => {
    const { inPoints, seen } = await markBox('', [100, 0, 300, 100]);
    expect(inPoints).toEqual([200, 100, 20, 60, 20, 10]);
    expect(seen).toEqual([255, 255, 200]);
  });

  it('turns clockwise by Rotate', async () => {
    expect((await markBox('/Rotate 90', [100, 0, 300, 100])).inPoints).toEqual([100, 200, 30, 20, 10, 20]);
    expect((await markBox('/Rotate 180', [100, 0, 300, 100])).inPoints).toEqual([200, 100, 160, 30, 20, 10]);
    expect((await markBox('/Rotate -90', [100, 0, 300, 100])).inPoints).toEqual([100, 200, 60, 160, 10, 20]);
    expect((await markBox('/Rotate 450', [100, 0, 300, 100])).seen).toEqual([255, 255, 200]);
  });

  it('takes the crop box for the film and says when the trim box differs', async () => {
    const { inPoints, seen, film } = await markBox(
      '/CropBox[110 20 200 90]/TrimBox[115 25 195 85]',
      [100, 0, 300, 100],
    );
    expect(inPoints).toEqual([90, 70, 10, 50, 20, 10]);
    expect(seen).toEqual([255, 255, 200]);
    expect(film.notes.map(({ code }) => code)).toContain('trim-differs');
  });

  it('scales by UserUnit', async () => {
    const { inPoints, film } = await markBox('/UserUnit 2', [100, 0, 300, 100]);
    expect(inPoints).toEqual([400, 200, 40, 120, 40, 20]);
    expect(film.scaleKnown).toBe(true);
  });

  it('inherits boxes, rotation and resources from the page tree', async () => {
    const text = Buffer.from(tinyPdf({ content: mark, resources, mediaBox: [100, 0, 300, 100] })).toString('latin1');
    const moved = text
      .replace('/MediaBox[100 0 300 100]', '')
      .replace(/\/Resources<<\/ColorSpace<<.*?>>>>/s, '')
      .replace('/Type/Pages', `/Type/Pages/Rotate 90/MediaBox[100 0 300 100]/Resources<<${resources}>>`);
    expect(moved).not.toBe(text);
    const film = await readFilm(Buffer.from(moved, 'latin1'));
    expect(Math.round(film.widthMm / pt)).toBe(100);
    expect(film.inks.map(({ name }) => name)).toEqual(['Lagoon']);
  });

  it('gives every page a film', async () => {
    const films = await readFilms(
      tinyPdf([
        { content: mark, resources, mediaBox: [0, 0, 200, 100] },
        { content: '', mediaBox: [0, 0, 50, 60] },
      ]),
    );
    expect(films.map(({ page, pageCount }) => [page, pageCount])).toEqual([
      [1, 2],
      [2, 2],
    ]);
    expect(films[1].notes.map(({ code }) => code)).toContain('empty-page');
  });

  it('allows a page of ten metres, and says so', async () => {
    const { film } = await markBox('', [0, 0, 28346, 28346]);
    expect(film.notes.map(({ code }) => code)).toContain('very-large-page');
  });
});
