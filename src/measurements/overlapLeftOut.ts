import type { BoxMm } from '../geometry/box.ts';
import type { PlanePair } from '../raster/planePair.ts';
import type { LeftOut } from './overlap.ts';
import { visitBoxSpans } from './overlapSpans.ts';

/**
 * What lies within boxes that are not measured: their area and what both planes print there, counted in the first's
 * pixels, and the length of the first's outlines in the marked tiles (32 × 32 px). An outline along pixel sides is
 * longer than what it stands for, by 4/π for outlines of every direction (Cauchy and Crofton).
 */
export function measureLeftOut(pair: PlanePair, boxes: readonly BoxMm[], marked: Uint8Array): LeftOut {
  if (boxes.length === 0) return { areaMm2: 0, sharedAreaMm2: 0, outlineMm: 0 };
  const { grid } = pair.own;
  let pixels = 0;
  const { shared, levelSides, uprightSides } = pair.countSpans(marked, (span) =>
    visitBoxSpans(grid, boxes, (row, from, end) => {
      pixels += end - from;
      span(row, from, end);
    }),
  );
  const pixelMm2 = grid.pitchXMm * grid.pitchYMm;
  return {
    areaMm2: pixels * pixelMm2,
    sharedAreaMm2: shared * pixelMm2,
    outlineMm: (Math.PI / 4) * (levelSides * grid.pitchXMm + uprightSides * grid.pitchYMm),
  };
}
