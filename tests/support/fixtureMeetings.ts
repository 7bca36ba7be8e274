import type { ReportPair, ReportUnderbase } from '../../src/report/reportJson.ts';

export type MeasuredEdge = readonly (readonly [overlapMm: number, lengthMm: number])[];

const stepMm = 0.05;

/** A pair whose common edge reads so along such lengths: gaps negative, butts 0. Shares no area beyond its traps. */
export function pairFixture(
  plateIds: readonly [string, string],
  edge: MeasuredEdge,
  more: Partial<ReportPair> = {},
): ReportPair {
  const overlaps = edge.filter(([mm]) => mm > 0);
  const gaps = edge.filter(([mm]) => mm < 0);
  const trapAreaMm2 = overlaps.reduce((sum, [mm, lengthMm]) => sum + mm * lengthMm, 0);
  const spread = spreadOf(edge);
  return {
    plateIds,
    touchingLengthMm: lengthOf(edge) - lengthOf(gaps),
    minOverlapMm: overlaps.length > 0 ? Math.min(...overlaps.map(([mm]) => mm)) : null,
    medianOverlapMm: spreadOf(overlaps)?.medianMm ?? null,
    maxOverlapMm: overlaps.length > 0 ? Math.max(...overlaps.map(([mm]) => mm)) : null,
    maxGapMm: gaps.length > 0 ? -Math.min(...gaps.map(([mm]) => mm)) : null,
    buttedLengthMm: lengthOf(edge.filter(([mm]) => mm === 0)),
    gapLengthMm: lengthOf(gaps),
    searchedToMm: 1.25,
    plusMinusMm: 0.02,
    overlapByLength: binsOf(edge),
    overlapSpread: spread,
    sharedAreaMm2: trapAreaMm2,
    trapAreaMm2,
    overprintAreaMm2: 0,
    overprintPercent: [0, 0],
    knockOuts: { firstInSecond: noShapes, secondInFirst: noShapes },
    leftOut: { areaMm2: 0, sharedAreaMm2: 0, outlineMm: 0 },
    ...more,
  };
}

const noShapes = { count: 0, boundaryMm: 0, areaMm2: 0 };

/** A base choked by 0.25 mm along most of the colours, with one of each thing that can be wrong. */
export function underbaseFixture(
  basePlateId: string,
  topPlateIds: readonly string[],
  more: Partial<ReportUnderbase> = {},
): ReportUnderbase {
  const edge: MeasuredEdge = [
    [-0.12, 14],
    [0, 6],
    [0.17, 80],
    [0.26, 900],
  ];
  return {
    basePlateId,
    topPlateIds,
    plusMinusMm: 0.02,
    minChokeMm: 0,
    medianChokeMm: 0.26,
    insetLengthMm: 980,
    flushLengthMm: 6,
    peekLengthMm: 14,
    chokeByLength: binsOf(edge),
    chokeSpread: spreadOf(edge),
    tops: topPlateIds.map((plateId, index) => ({
      plateId,
      areaMm2: 9000 - 100 * index,
      bareAreaMm2: 240 + 20 * index,
    })),
    unbased: [{ boxMm: { xMm: 40, yMm: 81.6, widthMm: 10, heightMm: 10 }, areaMm2: 62.5, plateId: topPlateIds[0] }],
    unbasedTotal: 1,
    bareStrips: [
      {
        boxMm: { xMm: 60, yMm: 20, widthMm: 0.4, heightMm: 30 },
        xMm: 60.2,
        yMm: 35,
        widthMm: 0.42,
        lengthMm: 30,
        plateIds: [topPlateIds[0]],
      },
    ],
    bareStripsTotal: 1,
    exposedAreaMm2: 118,
    exposed: [{ boxMm: { xMm: 145, yMm: 135, widthMm: 10, heightMm: 10 }, areaMm2: 78.5 }],
    exposedTotal: 1,
    ...more,
  };
}

/** How the inks of the fixture job meet: each with the next ones round; the first plate is the base. */
export function meetingsFixture(plateIds: readonly string[]): {
  readonly pairs: ReportPair[];
  readonly underbase: ReportUnderbase;
} {
  const [base, ...tops] = plateIds;
  const pairs = tops.flatMap((first, index) =>
    tops.slice(index + 1).map((second, after) => pairFixture([first, second], edgeOf(index, after))),
  );
  pairs[1] = { ...pairs[1], ...overprinted };
  const under = tops.map((top) => pairFixture([base, top], [], { sharedAreaMm2: 5000, overprintAreaMm2: 5000 }));
  return { pairs: [...under, ...pairs], underbase: underbaseFixture(base, tops) };
}

const overprinted: Partial<ReportPair> = {
  overprintAreaMm2: 148.7,
  overprintPercent: [2.9, 99.99],
  knockOuts: { firstInSecond: noShapes, secondInFirst: { count: 8, boundaryMm: 412.5, areaMm2: 15226 } },
};

/** The first two overlap by far too little along 60 mm; the others are as they should be, and differ a little. */
function edgeOf(index: number, after: number): MeasuredEdge {
  if (index === 0 && after === 0) {
    return [
      [0.08, 60],
      [0.27, 140],
    ];
  }
  const most = 0.3 + 0.01 * ((7 * index + 3 * after) % 20);
  return [
    [most - 0.04, 20 + 3 * index],
    [most, 120 + 5 * after],
  ];
}

function lengthOf(edge: MeasuredEdge): number {
  return edge.reduce((sum, [, lengthMm]) => sum + lengthMm, 0);
}

/** In steps of 0.05 mm, which no reading of a fixture lies upon; 0 has its own. */
function binsOf(edge: MeasuredEdge): ReportPair['overlapByLength'] {
  const bins = new Map<number, { fromMm: number; toMm: number; lengthMm: number }>();
  for (const [mm, lengthMm] of [...edge].sort(([a], [b]) => a - b)) {
    const step = Math.floor(mm / stepMm);
    const [fromMm, toMm] = mm === 0 ? [0, 0] : [step * stepMm, (step + 1) * stepMm].map((at) => Number(at.toFixed(4)));
    const key = mm === 0 ? -0.5 : step;
    bins.set(key, { fromMm, toMm, lengthMm: (bins.get(key)?.lengthMm ?? 0) + lengthMm });
  }
  return [...bins.values()];
}

function spreadOf(edge: MeasuredEdge): ReportPair['overlapSpread'] {
  if (edge.length === 0) return null;
  const sorted = [...edge].sort(([a], [b]) => a - b);
  const upTo = (share: number) => {
    let walked = 0;
    return sorted.find(([, lengthMm]) => {
      walked += lengthMm;
      return walked >= share * lengthOf(edge);
    })![0];
  };
  return { p5Mm: upTo(0.05), p25Mm: upTo(0.25), medianMm: upTo(0.5), p75Mm: upTo(0.75), p95Mm: upTo(0.95) };
}
