import { PDFDocument, PDFName } from '@cantoo/pdf-lib';
import { describe, expect, it } from 'vitest';
import { byteSourceOf } from '../../src/artwork/byteSource.ts';
import type { ReadFilm } from '../../src/artwork/film.ts';
import type { NarrowPlace } from '../../src/measurements/detail.ts';
import { measureDetail } from '../../src/measurements/measureDetail.ts';
import { pdfReader } from '../../src/readers/pdf/pdfReader.ts';
import { svgReader } from '../../src/readers/svg/svgReader.ts';
import { pitchMmFromDpi } from '../../src/units/lengths.ts';
import { drawFilm, gridAt } from '../support/drawFilm.ts';

/**
 * Lines of known width and angle, drawn once as SVG and once as PDF by the programs' own engines and measured: every
 * width within half a pixel, and both films agree within their error bars. The true widths are those drawn.
 */
const angles = [0, 15, 22.5, 45, 90];
const widthsMm = [0.15, 0.25, 0.4, 0.7];
const cellMm = 22;
const lengthMm = 14;

interface Drawn {
  readonly xMm: number;
  readonly yMm: number;
  readonly widthMm: number;
  readonly angleDeg: number;
}

const lines: Drawn[] = angles.flatMap((angleDeg, row) =>
  widthsMm.map((widthMm, column) => ({ xMm: 12.03 + cellMm * column, yMm: 12.07 + cellMm * row, widthMm, angleDeg })),
);
const sheetMm = { width: cellMm * widthsMm.length + 4, height: cellMm * angles.length + 4 };

function ends({ xMm, yMm, angleDeg }: Drawn): [number, number, number, number] {
  const dx = (lengthMm / 2) * Math.cos((angleDeg * Math.PI) / 180);
  const dy = (lengthMm / 2) * Math.sin((angleDeg * Math.PI) / 180);
  return [xMm - dx, yMm + dy, xMm + dx, yMm - dy];
}

async function svgFilm(): Promise<ReadFilm> {
  const strokes = lines.map((line) => {
    const [x1, y1, x2, y2] = ends(line);
    return `<line x1="${x1}" y1="${y1}" x2="${x2}" y2="${y2}" stroke="#000" stroke-width="${line.widthMm}"/>`;
  });
  const markup = `<svg xmlns="http://www.w3.org/2000/svg" width="${sheetMm.width}mm" height="${sheetMm.height}mm" viewBox="0 0 ${sheetMm.width} ${sheetMm.height}">${strokes.join('')}</svg>`;
  return (await svgReader.read(byteSourceOf('lines.svg', new TextEncoder().encode(markup)), {}))[0];
}

async function pdfFilm(): Promise<ReadFilm> {
  const pdf = await PDFDocument.create();
  const scale = 72 / 25.4;
  const page = pdf.addPage([sheetMm.width * scale, sheetMm.height * scale]);
  const strokes = lines.map((line) => {
    const [x1, y1, x2, y2] = ends(line);
    return `${line.widthMm} w ${x1} ${sheetMm.height - y1} m ${x2} ${sheetMm.height - y2} l S`;
  });
  page.node.set(
    PDFName.of('Contents'),
    pdf.context.register(pdf.context.flateStream(`${scale} 0 0 ${scale} 0 0 cm 0 0 0 1 K ${strokes.join(' ')}`)),
  );
  return (await pdfReader.read(byteSourceOf('lines.pdf', await pdf.save()), {}))[0];
}

async function placesOf(film: ReadFilm, dpi: number): Promise<readonly NarrowPlace[]> {
  const grid = gridAt(film, dpi);
  const key = film.inks.find(({ used }) => used)!.key;
  const drawn = (await drawFilm(film, [key], grid)).get(key)!;
  const plate = { ...drawn, id: 'p1', inkId: 'i1', filmId: 'f1', grid, verified: true };
  return measureDetail(plate, { searchToMm: 1, refineBelowMm: 1 }).lines;
}

function placeOf(places: readonly NarrowPlace[], line: Drawn): NarrowPlace {
  const near = places.filter(({ xMm, yMm }) => Math.hypot(xMm - line.xMm, yMm - line.yMm) < cellMm / 2);
  expect(near, `${line.widthMm} mm at ${line.angleDeg}°: one place`).toHaveLength(1);
  return near[0];
}

describe('drawn lines', () => {
  for (const dpi of [600, 720, 1200]) {
    it(`are measured to half a pixel at ${dpi} dpi, from SVG and from PDF`, async () => {
      const pitchMm = pitchMmFromDpi(dpi);
      const [fromSvg, fromPdf] = [await placesOf(await svgFilm(), dpi), await placesOf(await pdfFilm(), dpi)];
      expect(fromSvg).toHaveLength(lines.length);
      expect(fromPdf).toHaveLength(lines.length);
      for (const line of lines) {
        const svg = placeOf(fromSvg, line);
        const pdf = placeOf(fromPdf, line);
        for (const [source, place] of Object.entries({ svg, pdf })) {
          const label = `${source}: ${line.widthMm} mm at ${line.angleDeg}°`;
          expect(place.kind, label).toBe('line');
          // Along the grid a 1-bit line is a whole number of pixels wide, at 45° a whole number of half diagonals:
          // the film itself may then be off by up to one such step, wherever the line lies.
          const sampled = line.angleDeg % 90 === 0 ? 1 : line.angleDeg === 45 ? Math.SQRT1_2 : 0.5;
          expect(Math.abs(place.medianWidthMm - line.widthMm) / pitchMm, label).toBeLessThanOrEqual(sampled);
          expect(Math.abs(place.minWidthMm - line.widthMm), label).toBeLessThanOrEqual(
            Math.max(place.plusMinusMm, sampled * pitchMm),
          );
          expect(place.lengthMm, label).toBeGreaterThan(lengthMm - 3 * line.widthMm - 4 * pitchMm);
        }
        expect(Math.abs(svg.minWidthMm - pdf.minWidthMm)).toBeLessThanOrEqual(svg.plusMinusMm + pdf.plusMinusMm);
      }
    });
  }
});
