import { performance } from 'node:perf_hooks';
import { measureOverlap } from '../../src/measurements/measureOverlap.ts';
import { createBitPlane } from '../../src/raster/bitPlane.ts';
import { drawPlate, gridOf, type Shape } from '../support/overlapPlates.ts';

/**
 * Times `measureOverlap` on a pair of about 60 megapixels: discs of 10 mm, each trapped into its knock-out by 0.25 mm
 * (some 5 m of common boundary), and prints the milliseconds of each of five goes.
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
const print = (line: string): boolean => process.stdout.write(`${line}\n`);

print(`pair of ${((grid.widthPx * grid.heightPx) / 1e6).toFixed(1)} Mpx`);
for (let go = 1; go <= 5; go++) {
  const start = performance.now();
  const overlap = measureOverlap(a, b, { searchToMm: 1 });
  const ms = performance.now() - start;
  print(`go ${go}: ${ms.toFixed(0)} ms, touching ${overlap?.touchingLengthMm.toFixed(0)} mm`);
}
const clear = { ...a, id: 'p3', bits: createBitPlane(grid.widthPx, grid.heightPx) };
const start = performance.now();
measureOverlap(a, clear, { searchToMm: 1 });
print(`against a clear plate: ${(performance.now() - start).toFixed(0)} ms`);
