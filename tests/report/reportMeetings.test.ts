import { describe, expect, it } from 'vitest';
import { buildReport } from '../../src/report/buildReport.ts';
import { askOf, boxAt, overlapOf, underbaseOf } from '../support/askFixture.ts';

const rest = {
  version: '0.1.0',
  checks: [],
  plan: { order: [], stationsNeeded: 0, stationsOwned: 6, notes: [], cautions: [] },
  sourceFiles: [],
  notLookedAt: [],
  timings: {},
};

describe('the report JSON of how plates meet', () => {
  it('tells of a pair how its boundary is spread, what stands in openings, and what was left out', () => {
    const overlap = overlapOf('Coral', 'Night', {
      overlapByLength: [
        { fromMm: -0.1, toMm: -0.05, lengthMm: 1.23456 },
        { fromMm: 0, toMm: 0, lengthMm: 2 },
        { fromMm: 3 * 0.05, toMm: 0.2, lengthMm: 3 },
      ],
      overlapSpread: { p5Mm: -0.07, p25Mm: 0, medianMm: 0.16, p75Mm: 0.17, p95Mm: 0.18 },
      overprintAreaMm2: 12.5,
      overprintPercent: [5, 2.5],
      knockOuts: {
        firstInSecond: { count: 3, boundaryMm: 40, areaMm2: 20 },
        secondInFirst: { count: 0, boundaryMm: 0, areaMm2: 0 },
      },
      leftOut: { areaMm2: 300, sharedAreaMm2: 40, outlineMm: 512.34 },
    });
    const [pair] = buildReport({ ...rest, ask: askOf({ inks: ['Coral', 'Night'], overlaps: [overlap] }) }).pairs;
    expect(pair).toMatchObject({
      plateIds: ['p-Coral', 'p-Night'],
      touchingLengthMm: 800,
      overlapByLength: [
        { fromMm: -0.1, toMm: -0.05, lengthMm: 1.2346 },
        { fromMm: 0, toMm: 0, lengthMm: 2 },
        { fromMm: 0.15, toMm: 0.2, lengthMm: 3 },
      ],
      overlapSpread: { p5Mm: -0.07, p25Mm: 0, medianMm: 0.16, p75Mm: 0.17, p95Mm: 0.18 },
      overprintAreaMm2: 12.5,
      overprintPercent: [5, 2.5],
      knockOuts: { firstInSecond: { count: 3, boundaryMm: 40, areaMm2: 20 } },
      leftOut: { areaMm2: 300, sharedAreaMm2: 40, outlineMm: 512.34 },
    });
    expect(pair).not.toHaveProperty('overlaps');
  });

  it('tells of the base its choke and what is bare or exposed, with fifty places at most', () => {
    const ask = askOf({
      inks: ['White base', 'Coral'],
      underbase: underbaseOf('White base', ['Coral'], {
        insetLengthMm: 90,
        peekLengthMm: 10,
        chokeByLength: [{ fromMm: 0.25, toMm: 0.3, lengthMm: 90 }],
        unbased: Array.from({ length: 60 }, () => ({ boxMm: boxAt(1, 1), areaMm2: 2, plateId: 'p-Coral' })),
        exposed: [{ boxMm: boxAt(5, 5), areaMm2: 4 }],
        exposedAreaMm2: 4.5,
      }),
    });
    const { underbase } = buildReport({ ...rest, ask });
    expect(underbase).toMatchObject({
      basePlateId: 'p-White base',
      insetLengthMm: 90,
      peekLengthMm: 10,
      unbasedTotal: 60,
      bareStripsTotal: 0,
      exposedAreaMm2: 4.5,
      exposed: [{ areaMm2: 4 }],
    });
    expect(underbase!.unbased).toHaveLength(50);
    expect(buildReport({ ...rest, ask: askOf() }).underbase).toBeNull();
  });
});
