import { expect, it } from 'vitest';
import { drawPass } from '../../src/plates/drawPass.ts';
import { drawPdf } from '../../src/plates/pdfEngine.ts';
import type { Strip } from '../../src/plates/strip.ts';
import { gridOf, readFilm } from '../readers/pdf/support/drawFilm.ts';
import { spot, tinyPdf } from '../readers/pdf/support/tinyPdf.ts';

/** Three inks, so that the renderer needs four bytes a pixel. */
async function squarePass(sizePt: number, dpi: number) {
  const names = ['Lagoon', 'Clay', 'Moss'];
  const content = names.map((name) => `/${name} cs 1 scn 10 10 ${sizePt - 20} ${sizePt - 20} re f`).join('\n');
  const resources = `/ColorSpace<<${names.map((name) => `/${name} ${spot(name)}`).join('')}>>`;
  const film = await readFilm(tinyPdf({ content, resources, mediaBox: [0, 0, sizePt, sizePt] }));
  const [pass] = await film.drawing.plan(
    names.map((name) => `spot:${name}`),
    gridOf(film, dpi),
  );
  return pass;
}

it('a pass is not disturbed by another that makes the renderer take more memory between two of its strips', async () => {
  const pass = await squarePass(200, 144);
  const alone = await drawPass(pass);
  const strips: Strip[] = [];
  for await (const strip of drawPdf(pass)) {
    strips.push(strip);
    if (strips.length === 1) await drawPass(await squarePass(14000, 144));
  }
  expect(strips.length).toBeGreaterThan(2);
  const words = strips.flatMap(({ channels: [, , channel] }) => (channel.kind === 'bits' ? [...channel.words] : []));
  expect(words).toEqual([...alone[2].bits.words]);
});
