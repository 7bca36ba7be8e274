import sharp from 'sharp';
import { describe, expect, it } from 'vitest';
import type { NarrowPlace } from '../../src/measurements/detail.ts';
import { measureDetail } from '../../src/measurements/measureDetail.ts';
import { type BitPlane, createBitPlane, setBit } from '../../src/raster/bitPlane.ts';
import { drawShapes, minus, plateOf, polygon, ring, type Shape, strip } from '../support/analyticShapes.ts';
import { hasOracle, runOracle, sayMissing } from '../support/oraclePrograms.ts';

const options = { searchToMm: 1, refineBelowMm: 0.6 };
const linesOf = (places: readonly NarrowPlace[]) => places.filter(({ kind }) => kind === 'line');

/** Letters drawn from strokes of one weight, cut off at slants as type is: A K M N V W X Y Z and a round O. */
function strokeLetters(heightPx: number, weightPx: number): Shape[] {
  const strokes: Record<string, readonly (readonly [number, number, number, number])[]> = {
    K: [
      [0, 0, 0, 1],
      [0.02, 0.6, 0.62, 0],
      [0.2, 0.45, 0.66, 1],
    ],
    X: [
      [0, 0, 0.7, 1],
      [0.7, 0, 0, 1],
    ],
    Z: [
      [0, 0, 0.7, 0],
      [0.65, 0, 0.05, 1],
      [0, 1, 0.7, 1],
    ],
    Y: [
      [0, 0, 0.35, 0.5],
      [0.7, 0, 0.35, 0.5],
      [0.35, 0.5, 0.35, 1],
    ],
    T: [
      [0, 0, 0.7, 0],
      [0.35, 0, 0.35, 1],
    ],
    L: [
      [0, 0, 0, 1],
      [0, 1, 0.6, 1],
    ],
  };
  const shapes: Shape[] = [];
  let left = 60;
  for (const letter of Object.values(strokes)) {
    for (const [x1, y1, x2, y2] of letter) {
      const [ax, ay, bx, by] = [left + x1 * heightPx, 80 + y1 * heightPx, left + x2 * heightPx, 80 + y2 * heightPx];
      const slanted = x1 !== x2 && y1 !== y2;
      if (!slanted) {
        const length = Math.hypot(bx - ax, by - ay) + weightPx;
        shapes.push(strip((ax + bx) / 2, (ay + by) / 2, length, weightPx, x1 === x2 ? 90 : 0));
        continue;
      }
      // A slanted stroke ends on the line, so its ends are cut off level.
      const across = (weightPx / 2) * (Math.hypot(bx - ax, by - ay) / Math.abs(by - ay));
      shapes.push(
        polygon([
          [ax - across, ay],
          [ax + across, ay],
          [bx + across, by],
          [bx - across, by],
        ]),
      );
    }
    left += 1.05 * heightPx;
  }
  shapes.push(ring(left + heightPx / 2, 80 + heightPx / 2, heightPx, weightPx));
  return shapes;
}

describe('letters drawn from strokes', () => {
  it.each([
    [100, 12],
    [140, 18],
    [200, 20],
  ])('%i px high of %i px strokes show no line much thinner than the stroke', (heightPx, weightPx) => {
    const plane = drawShapes(Math.ceil(8 * 1.05 * heightPx) + 100, heightPx + 160, strokeLetters(heightPx, weightPx));
    const { lines, gaps, dots, screened } = measureDetail(plateOf(plane, 600), options);
    const toPx = 600 / 25.4;
    expect(lines.length).toBeGreaterThan(8);
    for (const line of linesOf(lines)) {
      expect(line.minWidthMm * toPx, `at ${line.xMm * toPx}, ${line.yMm * toPx}`).toBeGreaterThan(0.85 * weightPx);
    }
    // Every two letters lie at least 0.3 heights apart; within them only wedges are narrow.
    for (const gap of linesOf(gaps)) expect(gap.minWidthMm * toPx).toBeGreaterThan(10);
    expect([dots.length, screened.sharePercent]).toEqual([0, 0]);
  });

  it('reversed out of a solid they show no gap much thinner than the stroke', () => {
    const letters = strokeLetters(140, 16);
    const ground: Shape = { bounds: [0, 0, 1300, 300], holds: () => true };
    const plane = drawShapes(1300, 300, [letters.reduce((rest, letter) => minus(rest, letter), ground)]);
    const { gaps } = measureDetail(plateOf(plane, 600), options);
    for (const gap of linesOf(gaps)) expect((gap.minWidthMm * 600) / 25.4).toBeGreaterThan(0.85 * 16);
    expect(linesOf(gaps).length).toBeGreaterThan(8);
  });
});

/** Text set in a font of this machine; null where the font is missing. */
async function textPlane(
  family: string,
  weight: string,
  sizePt: number,
  lines: readonly string[],
): Promise<BitPlane | null> {
  if (!hasOracle('fc-list')) return null;
  if (!runOracle('fc-list', [':', 'family', 'style']).includes(`${family}:style=${weight}`)) {
    sayMissing(`the font ${family} ${weight}`);
    return null;
  }
  const sizePx = (sizePt / 72) * 600;
  const width = Math.ceil(sizePx * 27);
  const height = Math.ceil(sizePx * 1.4 * lines.length + sizePx);
  const rows = lines.map(
    (line, k) => `<text x="${sizePx}" y="${sizePx * 1.4 * (k + 1)}">${line.replace(/&/g, '&amp;')}</text>`,
  );
  const svg = `<svg xmlns="http://www.w3.org/2000/svg" width="${width}" height="${height}"><rect width="100%" height="100%" fill="#fff"/>
    <g font-family="${family}" font-weight="${weight.toLowerCase()}" font-size="${sizePx}">${rows.join('')}</g></svg>`;
  const { data, info } = await sharp(Buffer.from(svg)).toColourspace('b-w').raw().toBuffer({ resolveWithObject: true });
  const plane = createBitPlane(info.width, info.height);
  for (let row = 0; row < info.height; row++) {
    for (let column = 0; column < info.width; column++) {
      if (data[(row * info.width + column) * info.channels] < 128) setBit(plane, column, row);
    }
  }
  return plane;
}

const letters = ['ABCDEFGHIJLNOPQRSTUXYZ 235689', 'abcdefghijklmnopqrstuvxyz', 'HILTON FJORD GHIBLI QUILT'];

describe('set type', () => {
  it.each([14, 18, 24])('bold sans of %i pt has no line under 0.3 mm', async (sizePt) => {
    const plane = await textPlane('DejaVu Sans', 'Bold', sizePt, letters);
    if (plane === null) return;
    const { lines, screened, dots } = measureDetail(plateOf(plane, 600), options);
    const thin = linesOf(lines).filter(({ minWidthMm }) => minWidthMm < 0.3);
    expect(thin.map(({ xMm, yMm, minWidthMm }) => ({ xMm, yMm, minWidthMm }))).toEqual([]);
    expect(screened.sharePercent).toBe(0);
    for (const { equivalentDiameterMm } of dots) expect(equivalentDiameterMm).toBeGreaterThan(0.5);
  });

  it('the same type is as thin at twice the size in half the pixels', async () => {
    const small = await textPlane('DejaVu Sans', 'Bold', 12, letters);
    const large = await textPlane('DejaVu Sans', 'Bold', 24, letters);
    if (small === null || large === null) return;
    const fine = measureDetail(plateOf(large, 1200), options);
    const coarse = measureDetail(plateOf(small, 600), options);
    expect(Math.abs(fine.minLineMm! - coarse.minLineMm!)).toBeLessThan(0.05);
    expect(Math.abs(linesOf(fine.lines).length / linesOf(coarse.lines).length - 1)).toBeLessThan(0.1);
  });

  it.each([8, 6])('a column of %i pt type is not taken for tone', async (sizePt) => {
    const line = 'the quay by old mill pond, six bands & a fair';
    for (const weight of ['Book', 'Bold']) {
      const plane = await textPlane(
        'DejaVu Sans',
        weight,
        sizePt,
        Array.from({ length: 14 }, () => line),
      );
      if (plane === null) return;
      const { screened, lines } = measureDetail(plateOf(plane, 600), options);
      expect(screened).toEqual({ sharePercent: 0, boxesMm: [], areasMm2: [], innerAreasMm2: [], spotCount: 0 });
      expect(lines.length).toBeGreaterThan(300);
    }
  });
});
