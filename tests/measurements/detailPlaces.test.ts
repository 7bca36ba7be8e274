import { describe, expect, it } from 'vitest';
import type { Detail, NarrowPlace } from '../../src/measurements/detail.ts';
import { measureDetail } from '../../src/measurements/measureDetail.ts';
import {
  box,
  disc,
  drawShapes,
  minus,
  plateOf,
  polygon,
  reversed,
  ring,
  type Shape,
  star,
  strip,
  wedge,
} from '../support/analyticShapes.ts';
import { seededRandom } from '../support/seededRandom.ts';

const dpi = 600;
const pitchMm = 25.4 / dpi;

function detailOf(shapes: readonly Shape[], sidePx = 700, isReversed = false): Detail {
  const plane = drawShapes(sidePx, sidePx, shapes);
  return measureDetail(plateOf(isReversed ? reversed(plane) : plane, dpi), { searchToMm: 1, refineBelowMm: 0.6 });
}

const px = (mm: number) => mm / pitchMm;
const linesOf = (places: readonly NarrowPlace[]) => places.filter(({ kind }) => kind === 'line');
const tapersOf = (places: readonly NarrowPlace[]) => places.filter(({ kind }) => kind === 'taper');
const isAbout = (value: number, expected: number, within: number, what: string) =>
  expect(Math.abs(value - expected), `${what}: ${value.toFixed(2)} for ${expected}`).toBeLessThanOrEqual(within);

describe('lines', () => {
  it('a ring is one line as long as its middle circle', () => {
    for (const width of [3.3, 6, 9.4, 14, 20.5]) {
      const { lines, gaps } = detailOf([ring(350.2, 350.4, 300, width)]);
      expect([lines.length, gaps.length], `${width} px`).toEqual([1, 0]);
      isAbout(px(lines[0].minWidthMm), width, 0.5, 'width');
      isAbout(px(lines[0].medianWidthMm), width, 0.3, 'median');
      isAbout(px(lines[0].lengthMm), Math.PI * 300, 0.03 * Math.PI * 300, 'length');
    }
  });

  it('a wedge is a line as narrow as its narrow end, found there', () => {
    for (const angle of [10, 33, 71, 118]) {
      const { lines } = detailOf([wedge(350, 350, 300, 20, 5, angle)]);
      expect(lines.map(({ kind }) => kind)).toEqual(['line']);
      const [dx, dy] = [Math.cos((angle * Math.PI) / 180), -Math.sin((angle * Math.PI) / 180)];
      const fromEnd = 150 - (px(lines[0].xMm) - 350) * dx - (px(lines[0].yMm) - 350) * dy;
      expect(fromEnd, `way from the narrow end at ${angle}°`).toBeLessThan(25);
      isAbout(px(lines[0].minWidthMm), 5 + (15 * fromEnd) / 300, 0.4, `width there at ${angle}°`);
      isAbout(px(lines[0].medianWidthMm), 12.5, 1.2, 'median');
    }
  });

  it('two lines that cross stay two lines, a grid as many as were drawn', () => {
    const cross = detailOf([strip(350, 350, 400, 6, 10), strip(350, 350, 400, 6, 97)]);
    expect(linesOf(cross.lines).length).toBe(2);
    for (const line of cross.lines) {
      isAbout(px(line.minWidthMm), 6, 0.5, 'width');
      isAbout(px(line.lengthMm), 400, 8, 'length');
    }
    expect(cross.lines.map(({ directionDeg }) => Math.round(directionDeg)).sort((a, b) => a - b)).toEqual([10, 97]);
    const bars = [1, 2, 3, 4, 5].flatMap((k) => [strip(350, 100 * k, 600, 4, 3), strip(100 * k, 350, 600, 4, 93)]);
    const grid = detailOf(bars);
    expect(grid.lines.length).toBe(10);
    for (const line of grid.lines) isAbout(px(line.minWidthMm), 4, 0.5, 'width');
    expect(linesOf(grid.gaps)).toEqual([]);
  });

  it('a bent line is one line', () => {
    const bent = detailOf([strip(300, 350, 260, 5, 0), strip(427, 417.5, 140, 5, 90)]);
    expect(bent.lines.map(({ kind }) => kind)).toEqual(['line']);
    isAbout(px(bent.lines[0].lengthMm), 260 + 135, 15, 'length');
  });

  it('a thin arm on a broad body is a line as long as it stands out', () => {
    const { lines, gaps } = detailOf([box(100, 300, 400, 500), box(400, 398, 440, 404)]);
    expect([lines.length, gaps.length]).toEqual([1, 0]);
    isAbout(px(lines[0].minWidthMm), 6, 0.5, 'width');
    isAbout(px(lines[0].lengthMm), 40, 10, 'length');
    isAbout(lines[0].directionDeg, 0, 2, 'direction');
  });

  it('a thin bridge between bodies is a line; so is a waist', () => {
    for (const width of [3, 5, 9, 13]) {
      const bridge = detailOf([disc(200, 350, 160), disc(420, 350, 160), strip(310, 350, 200, width, 0)]);
      expect(linesOf(bridge.lines).length, `${width} px`).toBe(1);
      isAbout(px(bridge.lines[0].minWidthMm), width, 1, 'width');
      isAbout(px(bridge.lines[0].lengthMm), 60, 22, 'length');
    }
    // Two discs of 30 px whose centres lie 28.5 px apart share a chord of 2·√(15² − 14.25²) = 9.4 px.
    const waist = detailOf([disc(250, 350, 30), disc(278.5, 350, 30)]);
    expect(linesOf(waist.lines).length).toBe(1);
    const chord = 2 * Math.sqrt(15 ** 2 - 14.25 ** 2);
    expect(Math.abs(px(waist.lines[0].minWidthMm) - chord)).toBeLessThanOrEqual(px(waist.lines[0].plusMinusMm));
  });

  it('a place lies where it was drawn', () => {
    const { lines } = detailOf([strip(200, 500, 120, 5, 30)]);
    const { boxMm, xMm, yMm } = lines[0];
    // Half the length along 30°: 52 px across, 30 px up.
    isAbout(px(boxMm.xMm), 200 - 52 - 1, 4, 'left');
    isAbout(px(boxMm.xMm + boxMm.widthMm), 200 + 52 + 1, 4, 'right');
    isAbout(px(boxMm.yMm), 500 - 30 - 2, 4, 'top');
    isAbout(px(boxMm.yMm + boxMm.heightMm), 500 + 30 + 2, 4, 'bottom');
    const across = (px(xMm) - 200) * 0.5 + (px(yMm) - 500) * Math.sqrt(0.75);
    isAbout(across, 0, 2, 'beside the middle line');
  });
});

describe('gaps', () => {
  it('a slit between two blocks, whichever way the film is read', () => {
    const slit = detailOf([box(100, 100, 300, 500), box(305, 100, 500, 500)]);
    expect([slit.lines.length, slit.gaps.length]).toEqual([0, 1]);
    isAbout(px(slit.gaps[0].minWidthMm), 5, 0.5, 'width');
    isAbout(px(slit.gaps[0].lengthMm), 400, 12, 'length');
    isAbout(slit.gaps[0].directionDeg, 90, 1, 'direction');
    expect(slit.minGapMm).toBe(slit.gaps[0].minWidthMm);
    expect(slit.minLineMm).toBeNull();
  });

  it('two discs that nearly touch leave a gap as wide as the way between them', () => {
    for (const way of [2.5, 4, 7.5, 12]) {
      const { gaps, lines } = detailOf([disc(250, 350, 200), disc(450 + way, 350, 200)]);
      expect([linesOf(gaps).length, lines.length], `${way} px`).toEqual([1, 0]);
      isAbout(px(gaps[0].minWidthMm), way, 0.7, 'width');
      isAbout(px(gaps[0].xMm), 350 + way / 2, 3, 'x');
      isAbout(px(gaps[0].yMm), 350, 8, 'y');
    }
  });

  it('the strip between art and the edge of the film is none, nor are notches open to it', () => {
    const { lines, gaps } = detailOf([box(4, 4, 690, 300), minus(box(5, 320, 695, 697), box(0, 400, 40, 410))]);
    expect(lines).toEqual([]);
    // What is left is the way between the two blocks, 20 px.
    expect(linesOf(gaps).map(({ minWidthMm }) => Math.round(px(minWidthMm)))).toEqual([10, 20]);
  });

  it('black cut by the film edge is measured as what is left of it', () => {
    const { lines } = detailOf([box(-20, 100, 7, 600)]);
    expect(lines.length).toBe(1);
    isAbout(px(lines[0].minWidthMm), 7, 0.5, 'width');
  });
});

describe('points', () => {
  it('a needle, star points and the wedge between touching discs are tapers, never lines', () => {
    const needle = detailOf([wedge(350, 350, 300, 40, 0, 10)]);
    expect(linesOf(needle.lines).concat(linesOf(needle.gaps))).toEqual([]);
    expect([needle.lines.length, needle.dots.length]).toEqual([1, 0]);
    // 23.6 px = 1 mm wide 177 px from the point; the last few pixels break up.
    isAbout(px(needle.lines[0].lengthMm), 177, 12, 'length');
    expect([needle.minLineMm, needle.minDotMm]).toEqual([null, null]);

    const points = detailOf([star(350, 350, 5, 250, 95)]);
    expect([linesOf(points.lines).length, tapersOf(points.lines).length, points.gaps.length]).toEqual([0, 5, 0]);
    // A point of 36°: 1 mm wide 23.6 / (2 · sin 18°) = 38 px along the bisector by its inscribed discs.
    for (const { lengthMm } of points.lines) isAbout(px(lengthMm), 38, 6, 'length');

    const touching = detailOf([disc(250, 350, 200), disc(449.9, 350, 200)]);
    expect([linesOf(touching.gaps).length, tapersOf(touching.gaps).length]).toEqual([0, 2]);
  });

  it('a stroke that runs out to a point is a line and a taper', () => {
    const { lines } = detailOf([strip(200, 350, 200, 10, 0), wedge(360, 350, 120, 10, 0, 0)]);
    expect([linesOf(lines).length, tapersOf(lines).length]).toEqual([1, 1]);
    isAbout(px(linesOf(lines)[0].medianWidthMm), 10, 0.6, 'width of the line');
    isAbout(px(tapersOf(lines)[0].lengthMm), 115, 20, 'length of the taper');
  });
});

describe('shapes without thin places', () => {
  const random = seededRandom(3);
  const shapes: [string, Shape[]][] = [];
  for (let k = 0; k < 12; k++) {
    const turn = 360 * random();
    const corners = 3 + (k % 5);
    const radius = 60 + 150 * random();
    const at = (angle: number, r: number) =>
      [250 + r * Math.cos((angle * Math.PI) / 180), 250 + r * Math.sin((angle * Math.PI) / 180)] as const;
    const even = Array.from({ length: corners }, (_, i) => at(turn + (360 * i) / corners, radius));
    const open = 55 + 60 * random();
    shapes.push(
      [`a regular shape of ${corners} corners turned by ${turn.toFixed(1)}°`, [polygon(even)]],
      [`a corner of ${open.toFixed(1)}°`, [polygon([[250, 250], at(turn, 230), at(turn + open, 230)])]],
      [`a disc of ${radius.toFixed(1)} px`, [disc(250 + random(), 250 + random(), radius)]],
      [`a broad ring`, [ring(250 + random(), 250 + random(), 150 + 150 * random(), 27 + 30 * random())]],
      [`a broad strip at ${turn.toFixed(1)}°`, [strip(250, 250, 100 + 200 * random(), 27 + 30 * random(), turn)]],
      [`a broad cross at ${turn.toFixed(1)}°`, [strip(250, 250, 400, 40, turn), strip(250, 250, 400, 35, turn + open)]],
      [`a blunt star`, [star(250, 250, 4 + (k % 4), 220, 110 + 40 * random(), turn)]],
    );
  }

  it.each(shapes)('%s gives no line, gap, dot or island', (_, drawn) => {
    for (const isReversed of [false, true]) {
      const detail = detailOf(drawn, 500, isReversed);
      expect([linesOf(detail.lines), linesOf(detail.gaps), detail.dots, detail.islands]).toEqual([[], [], [], []]);
      expect([detail.minLineMm, detail.minGapMm, detail.minDotMm, detail.minIslandMm]).toEqual([
        null,
        null,
        null,
        null,
      ]);
    }
  });

  it('neither do a clear and a black plate', () => {
    for (const isReversed of [false, true]) {
      expect(detailOf([], 200, isReversed)).toMatchObject({ lines: [], gaps: [], dots: [], islands: [] });
    }
  });
});

describe('the measurement as a whole', () => {
  it('gives the same answer a second time, narrowest first, and leaves the plate as it was', () => {
    const plate = plateOf(
      drawShapes(500, 500, [
        star(250, 250, 9, 240, 60),
        ring(250, 250, 300, 4),
        disc(60, 60, 9),
        strip(420, 60, 90, 3, 40),
      ]),
      dpi,
    );
    const before = plate.bits.words.slice();
    const first = measureDetail(plate, { searchToMm: 1, refineBelowMm: 0.6 });
    expect(measureDetail(plate, { searchToMm: 1, refineBelowMm: 0.6 })).toEqual(first);
    expect(plate.bits.words).toEqual(before);
    const widths = first.lines.map(({ minWidthMm }) => minWidthMm);
    expect(widths.length).toBeGreaterThan(3);
    expect(widths).toEqual(widths.toSorted((a, b) => a - b));
  });

  it('takes any search, from less than the eight pixels of the first step to several millimetres', () => {
    const shapes = [strip(250, 100, 300, 4, 12), strip(250, 220, 300, 14, 12), strip(250, 380, 400, 50, 12)];
    for (const [searchToMm, found] of [
      [0.1, []],
      [0.2, [4]],
      [0.5, [4]],
      [0.7, [4, 14]],
      [3, [4, 14, 50]],
    ] as const) {
      const plane = drawShapes(500, 500, shapes);
      const { lines, gaps, searchedToMm } = measureDetail(plateOf(plane, dpi), {
        searchToMm,
        refineBelowMm: searchToMm,
      });
      expect(
        lines.map(({ minWidthMm }) => Math.round(px(minWidthMm))),
        `${searchToMm} mm`,
      ).toEqual(found);
      expect(searchedToMm).toBe(searchToMm);
      // Only the widest search finds the way between the strips, 75 px and more, too.
      expect(linesOf(gaps).length > 0).toBe(false);
    }
  });

  it('takes the smallest plates', () => {
    for (const [widthPx, heightPx] of [
      [1, 1],
      [3, 2],
      [1, 40],
      [65, 1],
    ]) {
      for (const shapes of [[], [box(0, 0, widthPx, heightPx)]]) {
        const detail = measureDetail(plateOf(drawShapes(widthPx, heightPx, shapes), dpi), {
          searchToMm: 1,
          refineBelowMm: 0.6,
        });
        expect([detail.gaps, detail.islands]).toEqual([[], []]);
      }
    }
  });

  it('a mirrored plate has the same details mirrored', () => {
    const shapes = [star(250, 250, 7, 200, 100), strip(120, 420, 160, 6, 25), ring(400, 100, 90, 5), disc(90, 90, 12)];
    const mirrored = shapes.map(
      (shape): Shape => ({ bounds: [0, 0, 500, 500], holds: (x, y) => shape.holds(500 - x, y) }),
    );
    const one = detailOf(shapes, 500);
    const other = detailOf(mirrored, 500);
    expect(other.lines.length).toBe(one.lines.length);
    expect(other.dots.length).toBe(one.dots.length);
    for (const line of linesOf(one.lines)) {
      const twin = linesOf(other.lines).find(
        (place) =>
          Math.abs(
            place.boxMm.xMm + place.boxMm.widthMm / 2 + line.boxMm.xMm + line.boxMm.widthMm / 2 - 500 * pitchMm,
          ) < 0.3,
      );
      expect(twin).toBeDefined();
      isAbout(px(twin!.minWidthMm), px(line.minWidthMm), 0.6, 'width');
      isAbout(px(twin!.lengthMm), px(line.lengthMm), 6, 'length');
    }
  });
});
