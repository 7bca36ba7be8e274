import { measureOverlap } from '../../src/measurements/measureOverlap.ts';
import { createBitPlane } from '../../src/raster/bitPlane.ts';
import { drawPlate, gridOf, type Shape } from '../support/overlapPlates.ts';

/**
 * Times `measureOverlap` on a pair of about 60 megapixels: discs of 10 mm, each trapped into its knock-out by
 * 0.25 mm (some 5 m of common boundary), and prints the milliseconds of each of five goes.
 */
export function runOverlapBench(print: (line: string) => void): void {
  const grid = gridOf(254, 300, 720);
  const side = 22;
  const discs =
    (growMm: number): Shape =>
    (x, y) =>
      Math.hypot((x % side) - side / 2, (y % side) - side / 2) - 5 - growMm;
  const a = drawPlate('p1', grid, discs(0.125));
  const inner = discs(-0.125);
  const b = drawPlate('p2', grid, (x, y) => -inner(x, y));
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
}
