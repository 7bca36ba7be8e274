import { PDFDocument, PDFName } from '@cantoo/pdf-lib';
import { seededRandom } from '../support/seededRandom.ts';

const widthMm = 300;
const heightMm = 360;
const pointsPerMm = 72 / 25.4;
const inks: readonly (readonly [string, readonly number[]])[] = [
  ['Honey', [0, 0.25, 0.9, 0]],
  ['Lagoon', [0.8, 0.1, 0.2, 0]],
  ['Coral', [0, 0.7, 0.6, 0]],
  ['Night', [1, 0.8, 0.4, 0.5]],
];

/**
 * A film of curved shapes and lines in four inks that knock each other out, the last one overprinting: ten shapes to
 * a line.
 */
export async function drawBenchFilm(shapesPerInk: number): Promise<Uint8Array> {
  const random = seededRandom(7);
  const between = (from: number, to: number) => from + (to - from) * random();
  const number = (value: number) => value.toFixed(3);
  const content = [`${pointsPerMm} 0 0 ${pointsPerMm} 0 0 cm`];
  for (const [name] of inks) {
    content.push(`/${name} cs 1 scn /${name} CS 1 SCN${name === 'Night' ? ' /Over gs' : ''}`);
    for (let shape = 0; shape < shapesPerInk; shape++) {
      const x = between(20, widthMm - 20);
      const y = between(20, heightMm - 20);
      const r = between(1.5, 9);
      const points = Array.from({ length: 12 }, (_, at) => {
        const turn = (at * Math.PI) / 6;
        const reach = r * between(0.7, 1.1);
        return `${number(x + reach * Math.cos(turn))} ${number(y + reach * Math.sin(turn))}`;
      });
      content.push(
        `${points[0]} m ${points[1]} ${points[2]} ${points[3]} c ${points[4]} ${points[5]} ${points[6]} c ${points[7]} ${points[8]} ${points[9]} c ${points[10]} ${points[11]} ${points[0]} c f`,
      );
    }
    for (let line = 0; line < shapesPerInk / 10; line++) {
      content.push(
        `${number(between(0.2, 2))} w ${number(between(10, 290))} ${number(between(10, 350))} m ${number(between(10, 290))} ${number(between(10, 350))} l S`,
      );
    }
  }
  const pdf = await PDFDocument.create({ updateMetadata: false });
  const page = pdf.addPage([widthMm * pointsPerMm, heightMm * pointsPerMm]);
  page.node.set(PDFName.of('Contents'), pdf.context.register(pdf.context.flateStream(content.join('\n'))));
  page.node.set(
    PDFName.of('Resources'),
    pdf.context.obj({
      ColorSpace: Object.fromEntries(
        inks.map(([name, cmyk]) => [
          name,
          [
            'Separation',
            name,
            'DeviceCMYK',
            { FunctionType: 2, Domain: [0, 1], C0: [0, 0, 0, 0], C1: [...cmyk], N: 1 },
          ],
        ]),
      ),
      ExtGState: { Over: { OP: true, op: true } },
    }),
  );
  return pdf.save({ useObjectStreams: false });
}
