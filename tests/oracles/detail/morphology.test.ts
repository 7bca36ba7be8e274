import { mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { afterAll, describe, expect, it } from 'vitest';
import type { BitPlane } from '../../../src/raster/bitPlane.ts';
import { visitComponents } from '../../../src/raster/components.ts';
import { discOfDiameter } from '../../../src/raster/disc.ts';
import { squaredDistances } from '../../../src/raster/distanceMap.ts';
import { openedByDisc } from '../../../src/raster/morphology.ts';
import { readWindow } from '../../../src/raster/window.ts';
import { disc, drawShapes, polygon, ring, star, strip, wedge } from '../../support/analyticShapes.ts';
import { drawHalftone } from '../../support/halftone.ts';
import { hasPythonPackage, python, runOracle } from '../../support/oraclePrograms.ts';
import { seededRandom } from '../../support/seededRandom.ts';

const script = fileURLToPath(new URL('morphology.py', import.meta.url));
const folder = mkdtempSync(join(tmpdir(), 'plateglass-oracle-'));
afterAll(() => rmSync(folder, { recursive: true, force: true }));

/** Line art, a halftone ramp and noise, wide enough for several words and blocks. */
function drawnPlanes(): [string, BitPlane][] {
  const random = seededRandom(71);
  const art = drawShapes(900, 700, [
    ...Array.from({ length: 40 }, () =>
      strip(900 * random(), 700 * random(), 60 + 300 * random(), 1 + 30 * random(), 180 * random()),
    ),
    ...Array.from({ length: 10 }, () => ring(900 * random(), 700 * random(), 20 + 200 * random(), 2 + 20 * random())),
    ...Array.from({ length: 10 }, () => disc(900 * random(), 700 * random(), 1 + 120 * random())),
    wedge(450, 350, 500, 40, 0, 12),
    star(200, 500, 7, 140, 60),
    polygon([
      [500, 40],
      [880, 60],
      [700, 300],
    ]),
  ]);
  const tone = drawShapes(700, 500, []);
  drawHalftone(tone, 600, {
    rulingLpi: 55,
    angleDeg: 22.5,
    shape: 'euclid',
    toneAt: (across) => across,
    bounds: [0, 0, 700, 500],
  });
  const noise = drawShapes(333, 200, [{ bounds: [0, 0, 333, 200], holds: () => random() < 0.7 }]);
  return [
    ['art', art],
    ['tone', tone],
    ['noise', noise],
  ];
}

const present = hasPythonPackage('cv2');

describe('against OpenCV', () => {
  const planes = drawnPlanes();
  const cases = planes.flatMap(([what, plane]) =>
    [2, 3, 5, 8, 12, 17, 24].map((diameter) => ({ what, plane, name: `${what}-${diameter}`, diameter })),
  );
  let answer: { opencv: string; parts: Record<string, Record<'opaque' | 'clear', number[][]>> } | null = null;
  if (present) {
    for (const { name, plane } of cases) {
      writeFileSync(join(folder, `${name}.raw`), readWindow(plane, 0, 0, plane.widthPx, plane.heightPx));
    }
    const listed = cases.map(({ name, plane, diameter }) => ({
      name,
      width: plane.widthPx,
      height: plane.heightPx,
      diameter,
    }));
    writeFileSync(join(folder, 'cases.json'), JSON.stringify(listed));
    answer = JSON.parse(runOracle(python, [script, folder]));
  }

  it.each(cases)('opening $what by a disc of $diameter pixels keeps the same pixels', ({ name, plane, diameter }) => {
    if (answer === null) return;
    const { widthPx, heightPx } = plane;
    const ours = readWindow(openedByDisc(plane, discOfDiameter(diameter)), 0, 0, widthPx, heightPx);
    const theirs = readFileSync(join(folder, `${name}.opened`));
    expect(Buffer.compare(Buffer.from(ours), theirs)).toBe(0);
  });

  it.each(planes)('%s has the same connected parts, black and clear', (what, plane) => {
    if (answer === null) return;
    for (const kind of ['opaque', 'clear'] as const) {
      const ours: string[] = [];
      const inverted = kind === 'clear';
      visitComponents(plane, { inverted, connectivity: inverted ? 4 : 8 }, (part) => {
        ours.push([part.left, part.top, part.right - part.left, part.bottom - part.top, part.areaPx].join());
      });
      // Left, top, width, height, area, in that order.
      expect(ours.sort()).toEqual(answer.parts[`${what}-5`][kind].map((part) => part.join()).sort());
    }
  });

  it.each(planes)('%s has the same distances', (what, plane) => {
    if (answer === null) return;
    const { widthPx, heightPx } = plane;
    const ours = squaredDistances(readWindow(plane, 0, 0, widthPx, heightPx), widthPx, heightPx);
    const bytes = readFileSync(join(folder, `${what}-5.distance`));
    const theirs = new Float32Array(bytes.buffer, bytes.byteOffset, bytes.length / 4);
    let worst = 0;
    for (let k = 0; k < theirs.length; k++) worst = Math.max(worst, Math.abs(Math.sqrt(ours[k]) - theirs[k]));
    expect(theirs.length).toBe(ours.length);
    expect(worst).toBeLessThan(1e-3);
  });
});
