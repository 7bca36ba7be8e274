import { performance } from 'node:perf_hooks';
import { measureOverlap } from '../../src/measurements/measureOverlap.ts';
import { measureUnderbase } from '../../src/measurements/measureUnderbase.ts';
import { walkBoundary } from '../../src/measurements/overlapBoundary.ts';
import type { Plate } from '../../src/plates/plate.ts';
import { createBitPlane } from '../../src/raster/bitPlane.ts';
import { findEdgeCells } from '../../src/raster/edgeCells.ts';
import { type EdgedPlane, edgedPlane } from '../../src/raster/griddedPlane.ts';
import { PlainPair } from '../../src/raster/outlines/plainPair.ts';
import { pairOfPlanes } from '../../src/raster/pairOfPlanes.ts';
import type { PlanePair } from '../../src/raster/planePair.ts';
import { drawPlate, gridOf, type Shape } from '../support/overlapPlates.ts';

/**
 * Times `measureOverlap` on a pair of about 60 megapixels: discs of 10 mm, each trapped into its knock-out by 0.25 mm
 * (some 5 m of common boundary), with the edges of both plates found before as a job does; then the walk along their
 * boundary and the area they share by the kernels and by their twin; then `measureOverlap` against a clear plate, and
 * `measureUnderbase` with the discs choked by 0.3 mm as the base. Prints the milliseconds of each of five goes.
 * Run it with `node dist/tests/bench/overlapBench.js` after a build.
 */
const grid = gridOf(254, 300, 720);
const sideMm = 22;
const discs =
  (growMm: number): Shape =>
  (x, y) =>
    Math.hypot((x % sideMm) - sideMm / 2, (y % sideMm) - sideMm / 2) - 5 - growMm;
const inner = discs(-0.125);
const a = drawPlate('p1', grid, discs(0.125));
const b = drawPlate('p2', grid, (x, y) => -inner(x, y));
const base = drawPlate('base', grid, discs(-0.175));
const clear: Plate = { ...a, id: 'p3', bits: createBitPlane(grid.widthPx, grid.heightPx) };
const print = (line: string): boolean => process.stdout.write(`${line}\n`);

function time(name: string, work: () => string): void {
  for (let go = 1; go <= 5; go++) {
    const start = performance.now();
    const said = work();
    print(`${name}, go ${go}: ${(performance.now() - start).toFixed(1)} ms${said}`);
  }
}

print(`plates of ${((grid.widthPx * grid.heightPx) / 1e6).toFixed(1)} Mpx`);
time('edges of a plate', () => `, ${findEdgeCells(a.bits).widthPx} cells wide`);
const edgeCells = [findEdgeCells(a.bits), findEdgeCells(b.bits)] as const;
time('pair', () => {
  const overlap = measureOverlap(a, b, { searchToMm: 1, edgeCells });
  return `, touching ${overlap?.touchingLengthMm.toFixed(0)} mm`;
});
const pairs: readonly (readonly [string, (own: EdgedPlane, other: EdgedPlane) => PlanePair])[] = [
  ['kernels', pairOfPlanes],
  ['twin', (own, other) => new PlainPair(own, other)],
];
for (const [name, laid] of pairs) {
  time(`boundary of the pair by the ${name}`, () => {
    const pair = laid(edgedPlane(a, edgeCells[0]), edgedPlane(b, edgeCells[1]));
    const search = { reachMm: 1, ignoreBoxes: [], covers: [], invertOther: false, seekStrips: false };
    return `, ${walkBoundary(pair, search).stretches.length} stretches, ${pair.sharedAreaMm2().toFixed(0)} mm² shared`;
  });
}
const clearCells = findEdgeCells(clear.bits);
time('against a clear plate', () => {
  measureOverlap(a, clear, { searchToMm: 1, edgeCells: [edgeCells[0], clearCells] });
  return '';
});
time('base under a plate', () => {
  const fit = measureUnderbase(base, [a], { searchToMm: 1 });
  return `, choke ${fit.medianChokeMm?.toFixed(2)} mm`;
});
