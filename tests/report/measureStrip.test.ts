import { describe, expect, it } from 'vitest';
import { failingSideOf, failingSideOfPassed } from '../../src/report/failingSide.ts';
import { measureStrip, measureStripSvg, type StripReading } from '../../src/report/measureStrip.ts';
import type { Shape } from '../../src/report/shapes.ts';
import { inspectionFixture } from '../support/inspectionFixture.ts';

const thin: StripReading = { value: 0.21, unit: 'mm', plusMinus: 0.02, limit: 0.35, failingSide: 'below' };

type PathShape = Extract<Shape, { kind: 'path' }>;
const paths = (reading: StripReading) =>
  measureStrip(reading).shapes.filter((shape): shape is PathShape => shape.kind === 'path');
const numbers = (d: string) => [...d.matchAll(/-?\d+(?:\.\d+)?/g)].map(Number);
/** Columns of all points of absolute moves and lines. */
const columns = (d: string) => [...d.matchAll(/[ML](-?[\d.]+) -?[\d.]+/g)].map((match) => Number(match[1]));
const limitTick = (reading: StripReading) => paths(reading).find((shape) => shape.strokeWidth === 1.8)!;
const hatching = (reading: StripReading) => paths(reading).find((shape) => shape.strokeWidth === 0.6);
/** The dot starts at its left edge, 3.4 from its middle. */
const dotColumn = (reading: StripReading) => numbers(paths(reading).find((shape) => shape.fill === 'text')!.d)[0] + 3.4;

describe('the measure strip', () => {
  it('lays reading, error bar and limit on one straight scale', () => {
    const at = { dot: dotColumn(thin), limit: columns(limitTick(thin).d)[0] };
    const bar = columns(paths(thin).find((shape) => shape.strokeWidth === 1.2)!.d);
    const unitsPerMm = (at.limit - at.dot) / (0.35 - 0.21);
    expect(Math.max(...bar) - Math.min(...bar)).toBeCloseTo(0.04 * unitsPerMm, 1);
    expect((Math.max(...bar) + Math.min(...bar)) / 2).toBeCloseTo(at.dot, 1);
  });

  it('hatches the side that fails and stops at the limit', () => {
    const below = columns(hatching(thin)!.d);
    const limit = columns(limitTick(thin).d)[0];
    expect(Math.max(...below)).toBeLessThanOrEqual(limit + 0.01);
    const above = { ...thin, value: 0.4, limit: 0.25, failingSide: 'above' as const };
    expect(Math.min(...columns(hatching(above)!.d))).toBeGreaterThanOrEqual(columns(limitTick(above).d)[0] - 0.01);
    expect(hatching({ ...thin, failingSide: null })).toBeUndefined();
  });

  it('keeps every mark within the strip, whatever the numbers', () => {
    const readings: StripReading[] = [
      thin,
      { value: 0, unit: 'count', plusMinus: 0, limit: 0, failingSide: 'above' },
      { value: -0.12, unit: 'mm', plusMinus: 0.01, limit: 0.25, failingSide: 'below' },
      { value: 301.4, unit: 'mm', plusMinus: 0.1, limit: 300, failingSide: 'above' },
      { value: 0.0004, unit: 'ratio', plusMinus: 0.0001, limit: 12000, failingSide: 'below' },
      { value: 5, unit: 'percent', plusMinus: 20, limit: null, failingSide: null },
    ];
    for (const reading of readings) {
      const { width } = measureStrip(reading);
      for (const shape of paths(reading)) {
        for (const column of columns(shape.d)) {
          expect(Number.isFinite(column)).toBe(true);
          expect(column).toBeGreaterThanOrEqual(0);
          expect(column).toBeLessThanOrEqual(width);
        }
      }
    }
  });

  it('says the same in words', () => {
    expect(measureStripSvg(thin)).toContain('aria-label="0.21 ± 0.02 mm, needs 0.35 mm"');
    expect(measureStripSvg({ ...thin, failingSide: 'above' })).toContain('allows 0.35 mm');
  });
});

describe('the failing side', () => {
  const { checks } = inspectionFixture().report;
  const thinLine = checks.find((check) => check.id === 'thin-line')!;
  const passed = checks.find((check) => check.id === 'small-dot')!;

  it('is the side the check says, also for readings too close to tell', () => {
    const close = { ...thinLine.findings[0], outcome: 'needsReview' as const };
    expect(failingSideOf({ ...thinLine, worse: 'less' }, close)).toBe('below');
    expect(failingSideOf({ ...thinLine, worse: 'less' }, { ...close, worse: 'more' })).toBe('above');
    expect(failingSideOfPassed({ ...passed, worse: 'more' })).toBe('above');
  });

  it('is read off the numbers where no one says it, and left open where they cannot tell', () => {
    const { worse: _worse, ...unsaid } = thinLine;
    const { worse: _own, ...finding } = unsaid.findings[0];
    expect(failingSideOf(unsaid, finding)).toBe('below');
    expect(failingSideOf(unsaid, { ...finding, outcome: 'needsReview' })).toBeNull();
    const { worse: _passed, ...unsaidPassed } = passed;
    // 0.62 mm passed a limit of 0.40 mm: less would have failed.
    expect(failingSideOfPassed(unsaidPassed)).toBe('below');
  });
});
