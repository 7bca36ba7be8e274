import { performance } from 'node:perf_hooks';
import { measureDetail } from '../../src/measurements/measureDetail.ts';
import type { BitPlane } from '../../src/raster/bitPlane.ts';
import { visitComponents } from '../../src/raster/components.ts';
import { discOfRadius } from '../../src/raster/disc.ts';
import { erodedByDisc } from '../../src/raster/morphology.ts';
import { visitThinned } from '../../src/raster/thinning.ts';
import { disc, drawShapes, plateOf, ring, type Shape, star, strip } from '../support/analyticShapes.ts';
import { drawHalftone } from '../support/halftone.ts';
import { seededRandom } from '../support/seededRandom.ts';

/**
 * Times `measureDetail` and its kernels on plates of 60 megapixels (300 by 360 mm at 600 dpi): line art, and a 55 lpi
 * halftone ramp. Prints milliseconds and nanoseconds a pixel of each go; the first one includes the compiler's warming up.
 * Run it with `node dist/tests/bench/detailBench.js` after a build.
 */
const [widthPx, heightPx, dpi, goes] = [7087, 8504, 600, 4];
const print = (line: string): boolean => process.stdout.write(`${line}\n`);

/** Some 1500 strokes of 1 to 40 px, rings, stars and solids: 20 m of edges. */
function drawLineArt(): BitPlane {
  const random = seededRandom(81);
  const place = () => [widthPx * random(), heightPx * random()] as const;
  const shapes: Shape[] = [];
  for (let k = 0; k < 1500; k++) {
    const [x, y] = place();
    shapes.push(strip(x, y, 20 + 500 * random() ** 3, 1 + 39 * random() ** 2, 180 * random()));
  }
  for (let k = 0; k < 150; k++) {
    const [x, y] = place();
    const size = 10 + 500 * random() ** 2;
    const turn = 360 * random();
    shapes.push(
      [disc(x, y, size), ring(x, y, size, 2 + 20 * random()), star(x, y, 7, size / 2, size / 4, turn)][k % 3],
    );
  }
  return drawShapes(widthPx, heightPx, shapes);
}

function drawRamp(): BitPlane {
  const plane = drawShapes(widthPx, heightPx, []);
  const bounds = [0, 0, widthPx, heightPx] as const;
  drawHalftone(plane, dpi, { rulingLpi: 55, angleDeg: 22.5, shape: 'ellipse', toneAt: (across) => across, bounds });
  return plane;
}

function time(what: string, work: () => string): void {
  for (let go = 1; go <= goes; go++) {
    const start = performance.now();
    const found = work();
    const ms = performance.now() - start;
    print(
      `${what}, go ${go}: ${ms.toFixed(0)} ms, ${((1e6 * ms) / (widthPx * heightPx)).toFixed(2)} ns a pixel; ${found}`,
    );
  }
}

for (const [what, plane] of [
  ['line art', drawLineArt()],
  ['halftone', drawRamp()],
] as const) {
  const plate = plateOf(plane, dpi);
  time(`${what}: detail to 1 mm`, () => {
    const { lines, gaps, dots, islands, screened } = measureDetail(plate, { searchToMm: 1, refineBelowMm: 0.6 });
    const counts = `${lines.length} lines, ${gaps.length} gaps, ${dots.length} dots, ${islands.length} islands`;
    return `${counts}, ${screened.sharePercent.toFixed(0)} % tone`;
  });
  time(`${what}: erosion by a disc of 9 px`, () => String(erodedByDisc(plane, discOfRadius(4)).words.length));
  time(`${what}: erosion by a disc of 25 px`, () => String(erodedByDisc(plane, discOfRadius(12)).words.length));
  time(`${what}: connected parts`, () => {
    let count = 0;
    visitComponents(plane, { inverted: false, connectivity: 8 }, () => count++);
    return `${count} parts`;
  });
  const kept = erodedByDisc(plane, discOfRadius(4));
  time(`${what}: thinning up to 8 px`, () => {
    let count = 0;
    visitThinned(plane, { inverted: false, kept }, () => count++);
    return `${count} words with lines`;
  });
}
