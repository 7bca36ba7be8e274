import { describe, expect, it } from 'vitest';
import { type LengthChart, lengthChart, lengthScale } from '../../src/report/lengthChart.ts';
import type { Shape } from '../../src/report/shapes.ts';

const bin = (fromMm: number, toMm: number, lengthMm: number) => ({ fromMm, toMm, lengthMm });
const chart: LengthChart = {
  bins: [bin(-0.1, -0.05, 20), bin(0, 0, 50), bin(0.1, 0.15, 25), bin(0.3, 0.35, 100), bin(0.35, 0.4, 0.1)],
  limitMm: 0.25,
  sides: ['gap', 'overlap'],
};

/** Rectangles of a path: left edge, top, width, height. */
function boxesOf(shape: Shape | undefined): number[][] {
  if (shape?.kind !== 'path') return [];
  return [...shape.d.matchAll(/M([\d.]+) ([\d.]+)h([\d.]+)v([\d.]+)h-[\d.]+z/g)].map((match) =>
    match.slice(1).map(Number),
  );
}

function columnsOf(drawn: LengthChart, form: 'full' | 'small' = 'full', scale = lengthScale([drawn])) {
  const { shapes } = lengthChart(drawn, scale, form);
  const filledAs = (fill: string, stroke: string) =>
    boxesOf(shapes.find((shape) => shape.kind === 'path' && shape.fill === fill && shape.stroke === stroke));
  return {
    overlaps: filledAs('quiet', 'none'),
    gaps: filledAs('table', 'text'),
    butts: filledAs('text', 'table'),
  };
}

describe('the chart of an edge', () => {
  it.each(['full', 'small'] as const)(
    'draws columns as high as their length, the shortest still to be seen: %s',
    (form) => {
      const { overlaps, gaps, butts } = columnsOf(chart, form);
      const [quarter, whole, least] = overlaps.map(([, , , height]) => height);
      expect(quarter / whole).toBeCloseTo(0.25, 2);
      expect(gaps[0][3] / whole).toBeCloseTo(0.2, 2);
      expect(butts[0][3] / whole).toBeCloseTo(0.5, 2);
      expect(least).toBe(1.5);
    },
  );

  it('tells overlap, gap and butt by form, not by tone alone', () => {
    const { overlaps, gaps, butts } = columnsOf(chart);
    expect([overlaps.length, gaps.length, butts.length]).toEqual([3, 1, 1]);
    expect(butts[0][2]).toBeLessThan(overlaps[0][2]);
    const right = gaps[0][0] + gaps[0][2];
    const middle = butts[0][0] + butts[0][2] / 2;
    expect(right).toBeLessThan(middle);
    expect(overlaps[0][0]).toBeGreaterThan(middle);
  });

  it('lets charts of one scale be compared', () => {
    const other: LengthChart = { ...chart, bins: [bin(0.3, 0.35, 7), bin(1.2, 1.25, 2)], limitMm: null };
    const scale = lengthScale([chart, other]);
    expect(scale.fromMm).toBeLessThanOrEqual(-0.1);
    expect(scale.toMm).toBeGreaterThanOrEqual(1.25);
    const at = (drawn: LengthChart, index: number) => columnsOf(drawn, 'full', scale).overlaps[index][0];
    expect(at(chart, 1)).toBe(at(other, 0));
  });

  it('hatches the side of the limit that fails, and nothing where there is no limit', () => {
    const scale = lengthScale([chart]);
    const hatched = (drawn: LengthChart) =>
      lengthChart(drawn, scale).shapes.filter((shape) => shape.kind === 'path' && shape.strokeWidth === 0.6);
    const [band] = boxesOf(hatched(chart)[0]);
    const x = (mm: number) => 10 + ((mm - scale.fromMm) / (scale.toMm - scale.fromMm)) * 244;
    expect(band[0]).toBe(10);
    expect(band[0] + band[2]).toBeCloseTo(x(0.25), 2);
    expect(hatched({ ...chart, limitMm: null })).toHaveLength(0);
  });

  it('says the same to those who do not see it', () => {
    expect(lengthChart(chart, lengthScale([chart])).label).toBe(
      'Length by width: gap 20.0 mm, on the edge 50.0 mm, overlap 125.1 mm, most at 0.30 to 0.35 mm, needs 0.25 mm',
    );
  });

  it('keeps its words within its width', () => {
    for (const limitMm of [0.05, 0.25, 1.2]) {
      const drawn = { ...chart, bins: [...chart.bins, bin(1.2, 1.25, 1234.5)], limitMm };
      for (const shape of lengthChart(drawn, lengthScale([drawn])).shapes) {
        if (shape.kind !== 'text') continue;
        // Half an em a letter is more than figures and lower case take in this face.
        const half = (shape.text.length * shape.size * 0.5) / 2;
        expect(shape.x - half, shape.text).toBeGreaterThanOrEqual(0);
        expect(shape.x + half, shape.text).toBeLessThanOrEqual(264);
      }
    }
  });
});
