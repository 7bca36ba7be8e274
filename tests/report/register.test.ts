import { inflateSync } from 'node:zlib';
import { describe, expect, it } from 'vitest';
import { takeMarkPictures } from '../../src/inspect/takeMarkPictures.ts';
import { measureMarks } from '../../src/measurements/measureMarks.ts';
import type { Inspection } from '../../src/report/inspection.ts';
import { markPicturesOf } from '../../src/report/markPictures.ts';
import { registerArrows } from '../../src/report/registerArrows.ts';
import { factsOfRegister, type RegisterPlate } from '../../src/report/registerFacts.ts';
import type { ReportJson } from '../../src/report/reportJson.ts';
import { registerLines } from '../../src/report/textRegister.ts';
import { drawParts, markPart } from '../support/marksPlates.ts';
import { gridOf } from '../support/overlapPlates.ts';

const plate: RegisterPlate = {
  plateId: 'p2',
  dxMm: 0.214,
  dyMm: -0.12,
  rotationDeg: 0.0805,
  rotationPlusMinusDeg: 0.0021,
  scale: 1.0004,
  scalePlusMinus: 0.00004,
  residualMm: 0.31,
  marksUsed: 4,
  scaleX: 1.0012,
  scaleY: 0.9996,
  skewDeg: 0,
  model: 'affine',
  residuals: [
    { xMm: 10, yMm: 20, dxMm: 0.3, dyMm: 0 },
    { xMm: 190, yMm: 20, dxMm: 0, dyMm: 0.001 },
  ],
  worstOffsetMm: 0.5,
  plusMinusMm: 0.007,
  movedMark: null,
  worstOnArt: { xMm: 150, yMm: 80, displacementMm: 0.41 },
  worstAfterFit: { xMm: 150, yMm: 80, displacementMm: 0.12 },
  artFit: null,
};

function reportWith(plates: readonly RegisterPlate[]): ReportJson {
  return {
    films: [{ id: 'f1', widthMm: 200, heightMm: 100 }],
    inks: [
      { id: 'i1', name: 'Coral', displayHex: '#ff0000' },
      { id: 'i2', name: 'Night', displayHex: '#000000' },
    ],
    plates: [
      { id: 'p1', inkId: 'i1', filmId: 'f1', marks: [] },
      { id: 'p2', inkId: 'i2', filmId: 'f1', marks: [] },
    ],
    ticket: { press: { registrationMm: 0.25 } },
    registration: plates.length === 0 ? null : { referencePlateId: 'p1', plates },
  } as unknown as ReportJson;
}

describe('the register part', () => {
  it('says every figure of a film to a hundredth of a millimetre', () => {
    const facts = new Map(factsOfRegister(reportWith([plate]), plate, ' ').map(({ term, value }) => [term, value]));
    expect(facts.get('Shift')).toBe('0.21 mm across, −0.12 mm down, ± 0.007 mm');
    expect(facts.get('Turn')).toBe('0.081°, ± 0.002°');
    expect(facts.get('Scale')).toBe('100.120 % across, 99.960 % down, ± 0.004 %');
    expect(facts.get('Left by the fit')).toBe('at most 0.31 mm');
    expect(facts.get('On the art')).toBe('at most 0.41 mm, at 150, 80 mm; 0.12 mm once moved and turned to fit');
  });

  it('draws residuals at the factor it states', () => {
    const drawing = registerArrows(reportWith([plate]), plate)!;
    const words = drawing.shapes.flatMap((shape) => (shape.kind === 'text' ? [shape.text] : []));
    const times = Number(/Arrows (\d+)/.exec(words.join(' '))![1]);
    // The film of 200 mm is 246 units wide.
    const unit = 246 / 200;
    const heads = drawing.shapes.filter((shape) => shape.kind === 'path' && shape.fill === 'text');
    expect(heads, 'an arrow of 0.001 mm is too short to draw').toHaveLength(1);
    const tip = /^M([\d.]+) ([\d.]+)/.exec((heads[0] as { d: string }).d)!;
    expect(Number(tip[1])).toBeCloseTo(20 + 10 * unit + 0.3 * times * unit, 2);
    expect(0.3 * times * unit).toBeLessThanOrEqual(34);
    expect(words).toContain('0.30');
  });

  it('has a line a film in the terminal, and none where nothing was compared', () => {
    expect(registerLines(reportWith([]), 80)).toEqual([]);
    const lines = registerLines(reportWith([plate]), 80).join('\n');
    expect(lines).toContain('register on Coral');
    expect(lines).toMatch(/Night\s+0\.21 mm across, −0\.12 mm down; turned 0\.081°/);
  });

  it('draws the fitted centre where the picture has the mark', async () => {
    const grid = gridOf(60, 40, 600);
    const plates = ['p1', 'p2'].map((id) =>
      drawParts(id, grid, [markPart('ring', 12.3, 20.1, 8, 0.3), markPart('ring', 47.9, 20.1, 8, 0.3)]),
    );
    const marks = measureMarks(plates);
    const crops = takeMarkPictures(marks, plates);
    expect(crops).toHaveLength(4);
    const report = {
      ...reportWith([plate]),
      plates: marks.map((found) => ({ id: found.plateId, inkId: 'i1', filmId: 'f1', marks: found.marks })),
    } as unknown as ReportJson;
    const inspection = { report, pictures: { plates: new Map(), crops: [], marks: crops } } as unknown as Inspection;
    const [shown] = (await markPicturesOf(inspection)).get('p1')!;
    const { widthPx, heightPx, palette, stream } = shown.picture.pixels;
    const rows = inflateSync(stream);
    const bytesAPixel = palette === null ? 3 : 1;
    const redAt = (column: number, row: number): number => {
      const at = rows[row * (1 + bytesAPixel * widthPx) + 1 + bytesAPixel * column];
      return palette === null ? at : palette[3 * at];
    };
    let [sumX, sumY, count] = [0, 0, 0];
    for (let row = 0; row < heightPx; row++) {
      for (let column = 0; column < widthPx; column++) {
        if (redAt(column, row) > 120) continue;
        sumX += column + 0.5;
        sumY += row + 0.5;
        count++;
      }
    }
    const path = shown.overlay[1] as { d: string };
    const lines = [...path.d.matchAll(/M([\d.-]+) ([\d.-]+)L/g)].map((match) => [Number(match[1]), Number(match[2])]);
    const centreX = lines[2][0];
    const centreY = lines[0][1];
    expect((sumX / count / widthPx) * shown.width).toBeCloseTo(centreX, 0);
    expect((sumY / count / heightPx) * shown.height).toBeCloseTo(centreY, 0);
  });
});
