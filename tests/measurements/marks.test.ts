import { describe, expect, it } from 'vitest';
import { marksBoxesMm, measureMarks } from '../../src/measurements/measureMarks.ts';
import {
  boxPart,
  cornerPart,
  discPart,
  drawParts,
  type MarkDesign,
  markDesigns,
  markPart,
  type Part,
  seededNumbers,
} from '../support/marksPlates.ts';
import { gridOf } from '../support/overlapPlates.ts';

describe('measureMarks on drawn marks', () => {
  for (const dpi of [600, 720, 1200]) {
    it(`finds every design, size and weight at ${dpi} dpi, its centre to a fraction of a pixel`, () => {
      const next = seededNumbers(dpi);
      const pitchMm = 25.4 / dpi;
      for (const design of markDesigns) {
        let squares = 0;
        let worst = 0;
        let count = 0;
        for (const sizeMm of dpi === 1200 ? [4] : [4, 9]) {
          for (const lineMm of [0.12, 0.2, 0.35]) {
            if (lineMm > 0.05 * sizeMm) continue;
            for (const turnDeg of [0, 0.13, -0.7, 1]) {
              const grid = gridOf(sizeMm + 5, 2 * sizeMm + 8, dpi);
              const at = [1, 2].map((i) => [
                sizeMm / 2 + 2 + 3 * pitchMm * next(),
                (i - 0.5) * (sizeMm + 3) + 3 * pitchMm * next(),
              ]);
              const parts = at.map(([x, y]) => markPart(design, x, y, sizeMm, lineMm, turnDeg));
              const found = measureMarks([drawParts('a', grid, parts), drawParts('b', grid, parts)]);
              const label = `${design} of ${sizeMm} mm, line ${lineMm}, turned ${turnDeg}`;
              expect(found[0].marks, label).toHaveLength(2);
              expect(found[0].missing, label).toEqual([]);
              found[0].marks.forEach((mark, i) => {
                expect(mark.kind, label).toBe(design === 'cross' ? 'crosshair' : 'target');
                expect(Math.abs(mark.sizeMm - sizeMm), label).toBeLessThan(0.02 * sizeMm + 2 * pitchMm);
                expect(Math.abs(mark.lineWeightMm - lineMm), label).toBeLessThan(1.2 * pitchMm);
                for (const off of [mark.xMm - at[i][0], mark.yMm - at[i][1]]) {
                  expect(Math.abs(off), label).toBeLessThan(mark.plusMinusMm);
                  squares += (off / pitchMm) ** 2;
                  worst = Math.max(worst, Math.abs(off / pitchMm));
                  count++;
                }
              });
            }
          }
        }
        // Half a disc carries its centre by half the edge.
        const [rms, most] =
          design === 'cross' ? [0.25, 0.51] : design === 'quarteredDisc' ? [0.12, 0.35] : [0.05, 0.15];
        expect(Math.sqrt(squares / count), `${design} rms, px`).toBeLessThan(rms);
        expect(worst, `${design} worst, px`).toBeLessThan(most);
      }
    });
  }

  it('finds marks on unequal pixels', () => {
    const grid = gridOf(30, 30, 720, 360);
    for (const design of markDesigns) {
      const plate = drawParts('a', grid, [
        markPart(design, 9.03, 8.02, 9, 0.25, 0.4),
        markPart(design, 21, 20, 9, 0.25),
      ]);
      const [found] = measureMarks([plate, { ...plate, id: 'b' }]);
      expect(found.marks, design).toHaveLength(2);
      expect(Math.hypot(found.marks[0].xMm - 9.03, found.marks[0].yMm - 8.02), design).toBeLessThan(0.03);
    }
  });
});

describe('measureMarks on two plates', () => {
  const grid = gridOf(90, 70, 600);
  const places = [
    [7, 7],
    [83, 7],
    [7, 63],
    [83, 63],
  ];
  const marksOf = (design: MarkDesign, leaveOut = -1): Part[] =>
    places.filter((_, i) => i !== leaveOut).map(([x, y]) => markPart(design, x, y, 8, 0.2));

  it('takes corner brackets and ticks in mirrored pairs for marks, and lone ones for lettering', () => {
    const corners = [
      cornerPart(6, 6, 5, 0.2, 1, 1),
      cornerPart(84, 6, 5, 0.2, -1, 1),
      cornerPart(6, 64, 5, 0.2, 1, -1),
      cornerPart(84, 64, 5, 0.2, -1, -1),
    ];
    const ticks = [
      boxPart(45, 3, 6, 0.2),
      boxPart(45, 5.9, 0.2, 6),
      boxPart(45, 67, 6, 0.2),
      boxPart(45, 64.1, 0.2, 6),
    ];
    const lone = cornerPart(30, 40, 6, 0.25, 1, -1);
    const parts = [...corners, ...ticks, lone];
    const [found] = measureMarks([drawParts('a', grid, parts), drawParts('b', grid, parts)]);
    expect(found.marks.map((mark) => mark.kind).sort()).toEqual([
      'corner',
      'corner',
      'corner',
      'corner',
      'other',
      'other',
    ]);
    const first = found.marks.find((mark) => mark.kind === 'corner')!;
    expect(Math.hypot(first.xMm - 6, first.yMm - 6)).toBeLessThan(grid.pitchXMm);
    expect(found.unconfirmed).toEqual([]);
  });

  it('does not take a repeat of crosses on one plate for marks', () => {
    const repeat: Part[] = [];
    for (let i = 0; i < 6; i++)
      for (let k = 0; k < 4; k++) repeat.push(markPart('ring', 20 + 10 * i, 18 + 10 * k, 6, 0.2));
    const found = measureMarks([
      drawParts('a', grid, [...marksOf('ring'), ...repeat]),
      drawParts('b', grid, [...marksOf('ring'), discPart(45, 35, 12)]),
    ]);
    expect(found[0].marks).toHaveLength(4);
    expect(found[0].unconfirmed).toHaveLength(24);
    expect(found[1].marks).toHaveLength(4);
    expect(found[1].missing).toEqual([]);
  });

  it('tells a missing mark from one it cannot see', () => {
    for (const design of markDesigns) {
      const found = measureMarks([
        drawParts('a', grid, marksOf(design)),
        drawParts('b', grid, marksOf(design, 2)),
        drawParts('c', grid, [...marksOf(design), boxPart(80, 8, 22, 16)]),
      ]);
      expect(found[0].missing, design).toEqual([]);
      expect(found[1].marks, design).toHaveLength(3);
      expect(found[1].missing, design).toHaveLength(1);
      expect(found[1].missing[0], design).toMatchObject({ looked: true, why: null });
      expect(Math.hypot(found[1].missing[0].xMm - 7, found[1].missing[0].yMm - 63), design).toBeLessThan(0.1);
      expect(found[2].marks, design).toHaveLength(3);
      expect(found[2].missing, design).toHaveLength(1);
      expect(found[2].missing[0].looked, design).toBe(false);
      expect(found[2].missing[0].why, design).toBeTruthy();
    }
  });

  it('finds a mark overprinted by lettering or touched by art', () => {
    const lettering = [
      boxPart(9, 8.5, 1, 3),
      boxPart(10, 7.6, 2, 0.6),
      boxPart(11.5, 9, 0.8, 3),
      boxPart(13, 8.4, 2, 0.5),
    ];
    const art = [boxPart(88, 66, 9, 5)];
    for (const design of markDesigns) {
      const found = measureMarks([
        drawParts('a', grid, marksOf(design)),
        drawParts('b', grid, [...marksOf(design), ...lettering, ...art]),
      ]);
      expect(found[1].missing, design).toEqual([]);
      expect(found[1].marks, design).toHaveLength(4);
      for (const mark of found[1].marks) {
        const apart = found[0].marks.map((other) => Math.hypot(mark.xMm - other.xMm, mark.yMm - other.yMm));
        const off = Math.min(...apart);
        const label = `${design} at ${mark.xMm.toFixed(1)}, ${mark.yMm.toFixed(1)}`;
        expect(off, label).toBeLessThan(1.5 * grid.pitchXMm);
        expect(off, label).toBeLessThanOrEqual(mark.plusMinusMm + found[0].marks[apart.indexOf(off)].plusMinusMm);
      }
    }
  });

  it('brings films together that lie far off', () => {
    const far = drawParts(
      'b',
      grid,
      places.slice(0, 3).map(([x, y]) => markPart('ring', x + 2.4, y - 2.1, 8, 0.2)),
    );
    const [a, b] = measureMarks([drawParts('a', grid, marksOf('ring')), far]);
    expect(a.marks).toHaveLength(4);
    expect(b.marks).toHaveLength(3);
    expect(Math.min(...b.marks.map((mark) => mark.xMm))).toBeCloseTo(9.4, 2);
    expect(b.missing).toHaveLength(1);
    expect(b.missing[0].looked).toBe(true);
    expect(b.missing[0].xMm).toBeCloseTo(85.4, 1);
    expect(b.missing[0].yMm).toBeCloseTo(60.9, 1);
  });

  it('gives boxes that hold the marks of all plates', () => {
    const found = measureMarks([drawParts('a', grid, marksOf('ring')), drawParts('b', grid, marksOf('ring', 0))]);
    const boxes = marksBoxesMm(found);
    expect(boxes).toHaveLength(4);
    for (const [x, y] of places) {
      expect(
        boxes.some(
          (b) => b.xMm <= x - 4 && b.yMm <= y - 4 && b.xMm + b.widthMm >= x + 4 && b.yMm + b.heightMm >= y + 4,
        ),
      ).toBe(true);
    }
  });
});

describe('measureMarks on a lone plate', () => {
  const grid = gridOf(90, 70, 600);

  it('confirms two marks outside the art, not crosses inside it or a single one', () => {
    const art = boxPart(45, 35, 40, 30);
    const two = [markPart('ring', 45, 6, 8, 0.2), markPart('ring', 45, 64, 8, 0.2)];
    expect(measureMarks([drawParts('a', grid, [art, ...two])])[0].marks).toHaveLength(2);
    const [one] = measureMarks([drawParts('a', grid, [art, two[0]])]);
    expect(one.marks).toEqual([]);
    expect(one.unconfirmed).toHaveLength(1);
    const frame = [boxPart(45, 12, 70, 2), boxPart(45, 58, 70, 2)];
    const inside = [markPart('cross', 40, 35, 6, 0.2), markPart('cross', 55, 35, 6, 0.2)];
    expect(measureMarks([drawParts('a', grid, [...frame, ...inside])])[0].marks).toEqual([]);
  });

  it('finds none on lettering-like art, dots, rules and wheels on two plates', () => {
    const next = seededNumbers(11);
    const letters: Part[] = [];
    for (let i = 0; i < 8; i++) {
      for (let k = 0; k < 6; k++) {
        const x = 6 + 10.5 * i;
        const y = 7 + 11 * k;
        const size = 3 + 5 * next();
        const stroke = size * (0.1 + 0.1 * next());
        const bars: Part[] = [
          boxPart(x - size / 2, y, stroke, size),
          boxPart(x + size / 2, y, stroke, size),
          boxPart(x, y - size / 2, size, stroke),
          boxPart(x, y, size, stroke),
          boxPart(x, y + size / 2, size, stroke),
          boxPart(x, y, stroke, size, 30),
          discPart(x, y, size / 2),
        ];
        for (const bar of bars) if (next() < 0.45) letters.push(bar);
      }
    }
    const dots: Part[] = [];
    for (let i = 0; i < 60; i++)
      for (let k = 0; k < 40; k++) dots.push(discPart(5 + 0.5 * i, 5 + 0.5 * k, 0.12 + 0.003 * i));
    const wheels = [20, 60].flatMap((x) => [
      markPart('ring', x, 35, 18, 0.4),
      boxPart(x, 35, 12, 0.4, 45),
      boxPart(x, 35, 12, 0.4, -45),
    ]);
    const rules = [boxPart(45, 35, 80, 0.3), boxPart(45, 40, 80, 0.2), boxPart(20, 35, 0.3, 60)];
    for (const parts of [letters, dots, rules, wheels]) {
      const found = measureMarks([drawParts('a', grid, parts), drawParts('b', grid, parts)]);
      expect(found[0].marks).toEqual([]);
    }
  });

  it('gives nothing for clear plates and for none', () => {
    expect(measureMarks([])).toEqual([]);
    const clear = drawParts('a', grid, []);
    expect(measureMarks([clear, { ...clear, id: 'b' }]).every((p) => p.marks.length + p.missing.length === 0)).toBe(
      true,
    );
  });
});
