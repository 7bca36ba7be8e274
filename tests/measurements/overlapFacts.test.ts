import { describe, expect, it } from 'vitest';
import { measureDetail } from '../../src/measurements/measureDetail.ts';
import { measureOverlap } from '../../src/measurements/measureOverlap.ts';
import type { Overlap } from '../../src/measurements/overlap.ts';
import { lengthBins, lengthSpread } from '../../src/measurements/overlapLength.ts';
import { bitCount } from '../../src/raster/bitCount.ts';
import { drawHalftone } from '../support/halftone.ts';
import {
  both,
  circle,
  drawPlate,
  either,
  gridOf,
  grownBy,
  outside,
  rectangle,
  type Shape,
  sector,
} from '../support/overlapPlates.ts';

const grid = gridOf(24, 20, 720);
const pitchMm = grid.pitchXMm;
const searchToMm = 1;

function measured(a: Shape, b: Shape): Overlap {
  return measureOverlap(drawPlate('a', grid, a), drawPlate('b', grid, b), { searchToMm })!;
}

describe('how a boundary is spread over its readings', () => {
  it('is counted by length, in steps of 0.05 mm and one for butts', () => {
    const readings = [
      { overlapMm: 0.26, lengthMm: 3 },
      { overlapMm: 0, lengthMm: 2 },
      { overlapMm: -0.12, lengthMm: 1 },
      { overlapMm: 0.29, lengthMm: 4 },
      { overlapMm: 0.02, lengthMm: 0.5 },
    ];
    const bins = lengthBins(readings).map(({ fromMm, toMm, lengthMm }) => [
      Number(fromMm.toFixed(3)),
      Number(toMm.toFixed(3)),
      lengthMm,
    ]);
    expect(bins).toEqual([
      [-0.15, -0.1, 1],
      [0, 0, 2],
      [0, 0.05, 0.5],
      [0.25, 0.3, 7],
    ]);
    expect(lengthSpread(readings)).toEqual({ p5Mm: -0.12, p25Mm: 0, medianMm: 0.26, p75Mm: 0.29, p95Mm: 0.29 });
    expect(lengthSpread([])).toBeNull();
  });

  it('is that of a knock-out out of place: the cosine of the way it slipped', () => {
    const slipMm = 0.4;
    const overlap = measured(circle(12, 10, 7), outside(circle(12 + slipMm, 10, 7)));
    const totalMm = 2 * Math.PI * 7;
    const readMm = overlap.overlapByLength.reduce((sum, { lengthMm }) => sum + lengthMm, 0);
    expect(Math.abs(readMm / totalMm - 1)).toBeLessThan(0.02);
    // Seen from the middle, the overlap at an angle t from the slip is −slip · cos t.
    for (const limitMm of [-0.3, -0.2, -0.1, 0.1, 0.2, 0.3]) {
      const share = 1 - Math.acos(limitMm / slipMm) / Math.PI;
      const belowMm = overlap.overlapByLength
        .filter(({ toMm }) => toMm <= limitMm + 1e-9)
        .reduce((sum, { lengthMm }) => sum + lengthMm, 0);
      expect(Math.abs(belowMm / totalMm - share), `below ${limitMm} mm`).toBeLessThan(0.05);
    }
    const spread = overlap.overlapSpread!;
    for (const [read, share] of [
      [spread.p5Mm, 0.05],
      [spread.p25Mm, 0.25],
      [spread.medianMm, 0.5],
      [spread.p75Mm, 0.75],
      [spread.p95Mm, 0.95],
    ]) {
      expect(Math.abs(read + slipMm * Math.cos(Math.PI * share)), `share ${share}`).toBeLessThan(pitchMm);
    }
  });

  it('is even for edges that lean against each other', () => {
    // Edges at 2.5° cross in the middle of 20 mm, so that the overlap runs from −0.44 to 0.44 mm.
    const lean = (2.5 * Math.PI) / 180;
    const overlap = measured(
      (x) => x - 12,
      (x, y) => -((x - 12) * Math.cos(lean) + (y - 10) * Math.sin(lean)),
    );
    const spread = overlap.overlapSpread!;
    for (const [read, share] of [
      [spread.p5Mm, 0.05],
      [spread.p25Mm, 0.25],
      [spread.p75Mm, 0.75],
      [spread.p95Mm, 0.95],
    ]) {
      const drawnMm = (20 * share - 10) * Math.tan(lean);
      expect(Math.abs(read - drawnMm), `share ${share}`).toBeLessThan(pitchMm);
    }
  });
});

describe('knock-outs and overprint', () => {
  const trapMm = 0.25;
  const discs = [circle(5, 5, 2), circle(12, 6, 3.1), rectangle(18.5, 13, 4, 5, 25)];
  const areaMm2 = Math.PI * (2 ** 2 + 3.1 ** 2) + 4 * 5;
  const outlineMm = 2 * Math.PI * (2 + 3.1) + 2 * (4 + 5);
  const panel = rectangle(12, 10, 22, 18);
  const ground = both(panel, outside(either(...discs)));

  it('tells which plate stands in openings of the other, with their area and boundary', () => {
    const spread = either(...discs.map((disc) => grownBy(disc, trapMm)));
    for (const [swapped, overlap] of [
      [false, measured(spread, ground)],
      [true, measured(ground, spread)],
    ] as const) {
      const { firstInSecond, secondInFirst } = overlap.knockOuts;
      const [standing, none] = swapped ? [secondInFirst, firstInSecond] : [firstInSecond, secondInFirst];
      expect(none.count).toBe(0);
      expect(standing.count).toBe(3);
      const grownMm2 = Math.PI * (2.25 ** 2 + 3.35 ** 2) + 4.5 * 5.5;
      expect(Math.abs(standing.areaMm2 / grownMm2 - 1)).toBeLessThan(0.01);
      expect(Math.abs(standing.boundaryMm / (outlineMm + (6 * Math.PI * trapMm) / 2) - 1)).toBeLessThan(0.03);
      expect(Math.abs(overlap.trapAreaMm2 / overlap.sharedAreaMm2 - 1)).toBeLessThan(0.03);
      expect(overlap.overprintAreaMm2).toBe(0);
      expect(overlap.overprintPercent).toEqual([0, 0]);
    }
  });

  it('finds none where inks lie side by side', () => {
    const overlap = measured(rectangle(7, 10, 10, 12), rectangle(16.8, 10, 10, 12));
    expect(overlap.touchingLengthMm).toBeGreaterThan(11.7);
    expect(overlap.knockOuts.firstInSecond.count + overlap.knockOuts.secondInFirst.count).toBe(0);
    expect(overlap.overprintAreaMm2).toBe(0);
  });

  it('measures full overprint and its share of each ink, apart from the traps beside it', () => {
    const printedOver = circle(7, 15, 1.5);
    const knockedOut = grownBy(discs[1], trapMm);
    const overlap = measured(either(printedOver, knockedOut), both(panel, outside(discs[1])));
    const overprintMm2 = Math.PI * 1.5 ** 2;
    expect(Math.abs(overlap.overprintAreaMm2 / overprintMm2 - 1)).toBeLessThan(0.03);
    const firstMm2 = overprintMm2 + Math.PI * 3.35 ** 2;
    const secondMm2 = 22 * 18 - Math.PI * 3.1 ** 2;
    expect(Math.abs(overlap.overprintPercent[0] - (100 * overprintMm2) / firstMm2)).toBeLessThan(0.5);
    expect(Math.abs(overlap.overprintPercent[1] - (100 * overprintMm2) / secondMm2)).toBeLessThan(0.1);
    expect(overlap.knockOuts.firstInSecond.count).toBe(1);
    expect(Math.abs(overlap.touchingLengthMm / (2 * Math.PI * 3.225) - 1)).toBeLessThan(0.02);
  });

  it('takes ink that lies on the other all over for overprint and for nothing else', () => {
    const overlap = measured(either(...discs), panel);
    expect(Math.abs(overlap.overprintAreaMm2 / areaMm2 - 1)).toBeLessThan(0.01);
    expect(overlap.overprintPercent[0]).toBeCloseTo(100, 6);
    expect([overlap.overlaps, overlap.butts, overlap.gaps]).toEqual([[], [], []]);
    expect(overlap.overlapSpread).toBeNull();
    expect(overlap.trapAreaMm2).toBe(0);
  });

  it('leaves registration marks out of overprint', () => {
    const mark = rectangle(3, 17, 2, 2);
    const plates = [either(discs[1], mark), either(rectangle(20, 5, 4, 4), mark)].map((shape, index) =>
      drawPlate(`p${index}`, grid, shape),
    );
    const box = { xMm: 1.5, yMm: 15.5, widthMm: 3, heightMm: 3 };
    const overlap = measureOverlap(plates[0], plates[1], { searchToMm, ignoreBoxes: [box] })!;
    expect(Math.abs(overlap.sharedAreaMm2 / 4 - 1)).toBeLessThan(0.05);
    expect(overlap.overprintAreaMm2).toBe(0);
    expect(overlap.leftOut).toEqual({ areaMm2: 0, sharedAreaMm2: 0, outlineMm: 0 });
  });
});

describe('halftones', () => {
  const dotsIn = (id: string, bounds: readonly [number, number, number, number], more?: Shape) => {
    const plate = drawPlate(id, grid, more ?? (() => 1));
    drawHalftone(plate.bits, 720, { rulingLpi: 45, angleDeg: 22.5, shape: 'round', toneAt: () => 0.3, bounds });
    const opaque = bitCount(plate.bits.words);
    plate.toneHistogram[255] = opaque;
    plate.toneHistogram[0] = grid.widthPx * grid.heightPx - opaque;
    return plate;
  };
  const bounds = [120, 100, 480, 440] as const;

  it('give no traps, and what was left out is told', () => {
    const tone = dotsIn('tone', bounds);
    const screened = measureDetail(tone, { searchToMm: 1, refineBelowMm: 0.5 }).screened.boxesMm;
    expect(screened.length).toBeGreaterThan(0);
    const solid = drawPlate('solid', grid, rectangle(12, 10, 22, 18));
    const overlap = measureOverlap(tone, solid, { searchToMm, screenedBoxes: screened })!;
    expect([overlap.overlaps, overlap.butts, overlap.gaps]).toEqual([[], [], []]);
    expect(overlap.overprintAreaMm2).toBe(0);
    const boxesMm2 = screened.reduce((sum, box) => sum + box.widthMm * box.heightMm, 0);
    expect(overlap.leftOut.areaMm2).toBeGreaterThan(360 * 340 * pitchMm ** 2);
    expect(overlap.leftOut.areaMm2).toBeLessThan(boxesMm2 + 1);
    expect(overlap.leftOut.sharedAreaMm2).toBeCloseTo(bitCount(tone.bits.words) * pitchMm ** 2, 6);
  });

  it('are told of even where nothing else of the two plates meets', () => {
    const box = { xMm: 120 * pitchMm, yMm: 100 * pitchMm, widthMm: 360 * pitchMm, heightMm: 340 * pitchMm };
    const left = dotsIn('left', [120, 100, 296, 440]);
    const right = dotsIn('right', [304, 100, 480, 440]);
    const overlap = measureOverlap(left, right, { searchToMm, screenedBoxes: [box] })!;
    expect(overlap.touchingLengthMm + overlap.gapLengthMm + overlap.sharedAreaMm2).toBe(0);
    expect(overlap.leftOut.areaMm2).toBeCloseTo(box.widthMm * box.heightMm, 6);
    // Dots of 30 % at 45 lpi are discs of 0.349 mm; those of the left within reach of the right edge have 1.096 mm of
    // outline each, in tiles of 32 px: from one to three tiles' width of them.
    const perMm2 = (45 / 25.4) ** 2 * 2 * Math.PI * Math.sqrt((0.3 * (25.4 / 45) ** 2) / Math.PI);
    const stripMm2 = 340 * pitchMm * 32 * pitchMm;
    expect(overlap.leftOut.outlineMm).toBeGreaterThan(perMm2 * stripMm2);
    expect(overlap.leftOut.outlineMm).toBeLessThan(3.5 * perMm2 * stripMm2);
  });

  it('measure the outlines left out as long as they are drawn', () => {
    const disc = drawPlate('disc', grid, circle(12, 10, 6));
    const ground = drawPlate('ground', grid, outside(circle(12, 10, 5.8)));
    const all = { xMm: 0, yMm: 0, widthMm: 24, heightMm: 20 };
    const upper = { xMm: 0, yMm: 0, widthMm: 24, heightMm: 10 };
    const whole = measureOverlap(disc, ground, { searchToMm, screenedBoxes: [all, upper] })!;
    expect(Math.abs(whole.leftOut.outlineMm / (12 * Math.PI) - 1)).toBeLessThan(0.01);
    expect(whole.leftOut.areaMm2).toBeCloseTo(24 * 20, 0);
    expect(whole.touchingLengthMm).toBe(0);
    const half = measureOverlap(disc, ground, { searchToMm, screenedBoxes: [upper] })!;
    expect(Math.abs(half.leftOut.outlineMm / (6 * Math.PI) - 1)).toBeLessThan(0.01);
    expect(Math.abs(half.leftOut.sharedAreaMm2 / ((Math.PI * (36 - 5.8 ** 2)) / 2) - 1)).toBeLessThan(0.01);
    expect(Math.abs(half.touchingLengthMm / (5.9 * Math.PI) - 1)).toBeLessThan(0.02);
  });
});

describe('corners where three inks meet', () => {
  const growMm = 0.1;
  /** A wedge from a point to the right, half as wide on either side; the two others above and below it and its point. */
  const wedge = (halfDeg: number): Shape => both(sector(6, 10, -halfDeg, halfDeg), (x) => x - 22);
  const frame = rectangle(12, 10, 20, 16);

  it('are no gap of the two that part there, when the third prints between', () => {
    for (const halfDeg of [3, 8, 20, 45]) {
      const between = wedge(halfDeg);
      const above = both(frame, (_, y) => y - 10, outside(between));
      const below = both(frame, (_, y) => 10 - y, outside(between));
      const plates = [above, below].map((shape, index) => drawPlate(`p${index}`, grid, grownBy(shape, growMm)));
      const third = drawPlate('third', grid, grownBy(between, growMm));
      const bare = measureOverlap(plates[0], plates[1], { searchToMm })!;
      const covered = measureOverlap(plates[0], plates[1], { searchToMm, covers: [third] })!;
      const label = `wedge of ${2 * halfDeg} deg`;
      expect(covered.gapLengthMm, label).toBe(0);
      expect(covered.butts, label).toEqual([]);
      // Edges that lean less than the slope that counts as alongside open to a gap where nothing prints between.
      if (halfDeg <= 8) expect(bare.gapLengthMm, label).toBeGreaterThan(0.5);
      expect(Math.abs(covered.overlapSpread!.medianMm - 2 * growMm), label).toBeLessThan(pitchMm);
      expect(covered.touchingLengthMm, label).toBeGreaterThan(3.5);
    }
  });

  it('are a gap where the third leaves film open', () => {
    const between = wedge(5);
    const above = both(frame, (_, y) => y - 10, outside(between));
    const below = both(frame, (_, y) => 10 - y, outside(between));
    const plates = [above, below].map((shape, index) => drawPlate(`p${index}`, grid, shape));
    const third = drawPlate(
      'third',
      grid,
      both(between, (x) => 9.5 - x),
    );
    const overlap = measureOverlap(plates[0], plates[1], { searchToMm, covers: [third] })!;
    // The wedge is 0.61 mm wide where the third begins and as wide as the search 11.4 mm from its point.
    expect(overlap.gapLengthMm).toBeGreaterThan(2);
    expect(Math.max(...overlap.gaps.map(({ xMm }) => xMm))).toBeLessThan(9.6);
  });

  it('where four inks meet at a point leave nothing but their traps', () => {
    const plates = [0, 90, 180, 270].map((fromDeg) =>
      drawPlate(
        `p${fromDeg}`,
        grid,
        grownBy(
          both(frame, sector(12, 10, fromDeg === 270 ? -90 : fromDeg, (fromDeg === 270 ? -90 : fromDeg) + 90)),
          growMm,
        ),
      ),
    );
    for (let first = 0; first < 4; first++) {
      for (let second = first + 1; second < 4; second++) {
        const covers = plates.filter((_, index) => index !== first && index !== second);
        const overlap = measureOverlap(plates[first], plates[second], { searchToMm, covers })!;
        const label = `quarters ${first} and ${second}`;
        expect(overlap.gapLengthMm, label).toBe(0);
        if ((second - first) % 2 === 1) {
          expect(overlap.touchingLengthMm, label).toBeGreaterThan(7.5);
          expect(Math.abs(overlap.minOverlapMm! - 2 * growMm), label).toBeLessThan(pitchMm);
          expect(Math.abs(overlap.maxOverlapMm! - 2 * growMm), label).toBeLessThan(pitchMm);
        } else expect(overlap.touchingLengthMm, label).toBeLessThan(1);
      }
    }
  });
});
