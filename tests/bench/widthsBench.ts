/**
 * The way from opening to widths of all black lines of a plate of line art, against the precise distance transform of
 * OpenCV on the same pixels, one thread each, runs alternating. Needs Debian's python3-opencv.
 * `node dist/tests/bench/widthsBench.js`
 */
import { execFileSync } from 'node:child_process';
import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { performance } from 'node:perf_hooks';
import { findRidges } from '../../src/measurements/detailRidges.ts';
import { readWindow } from '../../src/raster/window.ts';
import { drawLineArt } from './plateSet.ts';

const [widthPx, heightPx, dpi, runs] = [11520, 14400, 720, 5];
const searchPx = dpi / 25.4;
const folder = mkdtempSync(join(tmpdir(), 'plateglass-widths-'));
try {
  const plane = drawLineArt({ widthPx, heightPx, dpi }, 11);
  const file = join(folder, 'plane.raw');
  writeFileSync(file, readWindow(plane, 0, 0, widthPx, heightPx));
  const script = [
    'import cv2, numpy, sys, time',
    'cv2.setNumThreads(1)',
    `image = numpy.fromfile(sys.argv[1], dtype=numpy.uint8).reshape(${heightPx}, ${widthPx})`,
    'start = time.perf_counter()',
    'cv2.distanceTransform(image, cv2.DIST_L2, cv2.DIST_MASK_PRECISE)',
    'print(time.perf_counter() - start)',
  ].join('\n');
  const ratios: number[] = [];
  for (let run = 0; run <= runs; run++) {
    const start = performance.now();
    const { fine, broad } = findRidges(plane, { inverted: false, leftOut: null, searchPx, rowPitch: 1 });
    const ours = (performance.now() - start) / 1000;
    const theirs = Number(execFileSync('/usr/bin/python3', ['-c', script, file], { encoding: 'utf8' }));
    process.stdout.write(
      `${run === 0 ? 'first, not counted: ' : ''}${ours.toFixed(3)} s for ${fine.xs.length + broad.xs.length} widths, ` +
        `${theirs.toFixed(3)} s for the distance transform\n`,
    );
    if (run > 0) ratios.push(ours / theirs);
  }
  ratios.sort((a, b) => a - b);
  const [least, middle, most] = [ratios[0], ratios[runs >> 1], ratios[runs - 1]].map((ratio) => ratio.toFixed(3));
  process.stdout.write(`ratio: median ${middle}, ${least} to ${most}\n`);
} finally {
  rmSync(folder, { recursive: true, force: true });
}
