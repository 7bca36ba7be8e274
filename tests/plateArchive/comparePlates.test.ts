import { describe, expect, it } from 'vitest';
import { byteSourceOf } from '../../src/artwork/byteSource.ts';
import { archivePlate } from '../../src/plateArchive/archivePlate.ts';
import { comparePlates } from '../../src/plateArchive/comparePlates.ts';
import { PlateArchive } from '../../src/plateArchive/openArchive.ts';
import { restorePlate } from '../../src/plateArchive/restorePlate.ts';
import type { Plate } from '../../src/plates/plate.ts';
import { bitAt, createBitPlane, setBit } from '../../src/raster/bitPlane.ts';
import { toneAt } from '../../src/raster/tonePlane.ts';
import { plateOf } from '../support/analyticShapes.ts';
import { disc, either, type Shape } from '../support/paintedTones.ts';
import { seededRandom } from '../support/seededRandom.ts';
import { platePainted } from '../support/tonePlates.ts';

const square =
  (xMm: number, yMm: number, sideMm: number): Shape =>
  (x, y) =>
    x >= xMm && x < xMm + sideMm && y >= yMm && y < yMm + sideMm;
/** A film of 60 by 40 mm, each pixel by its middle. */
function drawn(shape: Shape, dpi: number): Plate {
  const pitchMm = 25.4 / dpi;
  const bits = createBitPlane(Math.round(60 / pitchMm), Math.round(40 / pitchMm));
  for (let row = 0; row < bits.heightPx; row++)
    for (let column = 0; column < bits.widthPx; column++)
      if (shape((column + 0.5) * pitchMm, (row + 0.5) * pitchMm)) setBit(bits, column, row);
  return plateOf(bits, dpi);
}

async function opened(plate: Plate): Promise<PlateArchive> {
  const { facts, bytes } = archivePlate(plate);
  return PlateArchive.open(facts, byteSourceOf('p1.plate', bytes));
}

const gridOf = ({ grid }: Plate) => grid;

describe('comparing two plates', () => {
  const art = either(square(4, 4, 10), disc(30, 20, 8), square(21.6, 1, 0.3));

  it('finds what is gone and what was added, where and how much, and nothing else', async () => {
    // Over the corner where four tiles meet: 512 px at 600 dpi are 21.67 mm.
    const before = drawn(either(art, square(50, 30, 2)), 600);
    const after = drawn(either(art, square(21, 21, 1.5), disc(45, 10, 0.5)), 600);
    const change = await comparePlates({ before: await opened(before), after: await opened(after) }, gridOf(after));
    expect(change.leastChangeMm).toBe(0);
    expect(change.places).toHaveLength(3);
    const at = (xMm: number, yMm: number, widthMm: number) => ({
      xMm: expect.closeTo(xMm, 1),
      yMm: expect.closeTo(yMm, 1),
      widthMm: expect.closeTo(widthMm, 1),
      heightMm: expect.closeTo(widthMm, 1),
    });
    const [gone, added, dot] = change.places;
    expect(gone).toMatchObject(at(50, 30, 2));
    expect([gone.goneMm2, gone.addedMm2]).toEqual([expect.closeTo(4, 0), 0]);
    // The disc of the art lies under a part of it: only what sticks out was added.
    expect(added.goneMm2).toBe(0);
    expect(added.xMm).toBeCloseTo(21, 1);
    expect(dot).toMatchObject(at(44.5, 9.5, 1));
    expect(dot.addedMm2).toBeCloseTo(Math.PI / 4, 1);
  });

  it('counts each pixel that differs, as counting one by one does', async () => {
    const random = seededRandom(5);
    const [before, after] = [drawn(art, 600), drawn(art, 600)];
    for (let n = 0; n < 300; n++) {
      const [column, row] = [Math.floor(random() * 1417), Math.floor(random() * 945)];
      setBit(random() < 0.5 ? before.bits : after.bits, column, row);
    }
    let [gone, added] = [0, 0];
    for (let row = 0; row < 945; row++)
      for (let column = 0; column < 1417; column++) {
        const [was, is] = [bitAt(before.bits, column, row), bitAt(after.bits, column, row)];
        if (was > is) gone++;
        if (is > was) added++;
      }
    const change = await comparePlates({ before: await opened(before), after: await opened(after) }, gridOf(after));
    const pixelMm2 = (25.4 / 600) ** 2;
    expect(change.goneMm2 / pixelMm2).toBeCloseTo(gone, 6);
    expect(change.addedMm2 / pixelMm2).toBeCloseTo(added, 6);
    let reduced = 0;
    for (let row = 0; row < change.added.heightPx; row++)
      for (let column = 0; column < change.added.widthPx; column++) reduced += bitAt(change.added, column, row);
    expect(reduced).toBeGreaterThan(0);
    expect(reduced).toBeLessThanOrEqual(added);
  });

  it('takes one drawing at two resolutions for the same, and still finds what was added', async () => {
    const before = drawn(art, 600);
    const same = drawn(art, 720);
    const grid = gridOf(same);
    const nothing = await comparePlates({ before: await opened(before), after: await opened(same) }, grid);
    expect(nothing.places).toEqual([]);
    expect(nothing.leastChangeMm).toBeCloseTo((3 * 25.4) / 600, 6);
    const after = drawn(either(art, square(50, 30, 2)), 720);
    const { places } = await comparePlates({ before: await opened(before), after: await opened(after) }, grid);
    expect(places).toHaveLength(1);
    expect(places[0]).toMatchObject({ xMm: expect.closeTo(50, 1), widthMm: expect.closeTo(2, 1), goneMm2: 0 });
    expect(places[0].addedMm2).toBeCloseTo(4, 0);
  });

  it('tells tones apart by more than an eighth, and a plate from none', async () => {
    const tones = (patch: number) =>
      platePainted(800, 700, 600, (column, row) => (column > 600 && row > 600 ? patch : column < 40 ? 255 : 60));
    const [before, after] = [await opened(tones(60)), await opened(tones(120))];
    const grid = gridOf(tones(60));
    const { places, goneMm2 } = await comparePlates({ before, after }, grid);
    expect(places).toHaveLength(1);
    expect(goneMm2).toBe(0);
    expect(places[0].xMm).toBeCloseTo((601 * 25.4) / 600, 6);
    expect((await comparePlates({ before, after: await opened(tones(80)) }, grid)).places).toEqual([]);
    const gone = await comparePlates({ before: await opened(drawn(square(4, 4, 10), 600)), after: null }, grid);
    expect(gone.goneMm2).toBeCloseTo(100, -1);
  });
});

describe('a plate out of its archive', () => {
  it.each(['bits', 'tones'] as const)('is the plate that was put in, pixel by pixel (%s)', async (kind) => {
    const plate =
      kind === 'bits'
        ? drawn(disc(30, 20, 15), 600)
        : platePainted(1100, 700, 600, (column, row) =>
            column < 300 ? 255 : row < 200 ? 0 : (column * 7 + row) % 256,
          );
    const restored = await restorePlate(await opened(plate), plate);
    expect(Buffer.from(restored.bits.words.buffer).equals(Buffer.from(plate.bits.words.buffer))).toBe(true);
    expect(restored.grid).toEqual(plate.grid);
    expect(restored.tone === null).toBe(kind === 'bits');
    if (plate.tone === null || restored.tone === null) return;
    let different = 0;
    for (let row = 0; row < 700; row++)
      for (let column = 0; column < 1100; column++)
        if (toneAt(plate.tone, column, row) !== toneAt(restored.tone, column, row)) different++;
    expect(different).toBe(0);
  });
});
