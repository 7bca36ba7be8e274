import { inflateRawSync } from 'node:zlib';
import { describe, expect, it } from 'vitest';
import { byteSourceOf } from '../../src/artwork/byteSource.ts';
import { archiveTilePx, levelSize } from '../../src/plateArchive/archiveFormat.ts';
import { archivePlate } from '../../src/plateArchive/archivePlate.ts';
import { DamagedArchiveError, PlateArchive } from '../../src/plateArchive/openArchive.ts';
import type { Plate } from '../../src/plates/plate.ts';
import { bitAt, createBitPlane, setBit } from '../../src/raster/bitPlane.ts';
import { plateOf } from '../support/analyticShapes.ts';
import { seededRandom } from '../support/seededRandom.ts';
import { platePainted } from '../support/tonePlates.ts';

/** A plate with a hairline, a solid block over whole tiles, and specks. */
function busyPlate(): Plate {
  const bits = createBitPlane(5000, 2300);
  const random = seededRandom(71);
  for (let column = 0; column < 5000; column++) setBit(bits, column, 17);
  for (let row = 512; row < 1536; row++) for (let column = 1024; column < 2048; column++) setBit(bits, column, row);
  for (let k = 0; k < 4000; k++) setBit(bits, Math.floor(random() * 5000), Math.floor(random() * 2300));
  return plateOf(bits, 720);
}

async function opened(plate: Plate): Promise<PlateArchive> {
  const { facts, bytes } = archivePlate(plate);
  return PlateArchive.open(facts, byteSourceOf('p1.plate', bytes));
}

describe('the archive of a plate', () => {
  it('gives every pixel back', async () => {
    const plate = busyPlate();
    const archive = await opened(plate);
    const plane = await archive.readBits(-20, -10, 5100, 2400);
    let different = 0;
    for (let row = 0; row < 2400; row++)
      for (let column = 0; column < 5100; column++)
        if (bitAt(plane, column, row) !== bitAt(plate.bits, column - 20, row - 10)) different++;
    expect(different).toBe(0);
  });

  it('keeps solid and clear tiles without bytes', async () => {
    const plate = plateOf(createBitPlane(3000, 3000), 720);
    for (let row = 0; row < 1024; row++) for (let column = 0; column < 512; column++) setBit(plate.bits, column, row);
    const archive = await opened(plate);
    expect(await archive.keptTile(0, 0, 1)).toEqual({ kind: 'solid' });
    expect(await archive.keptTile(0, 3, 3)).toEqual({ kind: 'clear' });
    expect(await archive.keptTile(0, 6, 0)).toBeNull();
  });

  it.each(['bits', 'tones'] as const)('reduces %s to the share of each pixel that is covered', async (kind) => {
    const bits = busyPlate();
    const plate =
      kind === 'bits'
        ? bits
        : platePainted(5000, 2300, 720, (column, row) => (bitAt(bits.bits, column, row) ? 255 : 40));
    const archive = await opened(plate);
    const valueAt = (column: number, row: number) => {
      if (column >= 5000 || row >= 2300) return 0;
      return bitAt(bits.bits, column, row) === 1 ? 255 : kind === 'bits' ? 0 : 40;
    };
    for (let level = 1; level < archive.facts.levels; level++) {
      const side = 2 ** level;
      const { widthPx, heightPx } = levelSize(archive.facts, level);
      const values = await archive.coverTile(level, 0, 0);
      for (const [column, row] of [
        [0, 0],
        [3, 17 >> level],
        [1100 >> level, 600 >> level],
        [300 >> level, 5],
      ]) {
        if (column >= Math.min(widthPx, 512) || row >= Math.min(heightPx, 512)) continue;
        let sum = 0;
        for (let y = 0; y < side; y++) for (let x = 0; x < side; x++) sum += valueAt(column * side + x, row * side + y);
        const value = values[row * archiveTilePx + column];
        // Rounding at each of the halvings.
        expect(Math.abs(value - sum / (side * side))).toBeLessThanOrEqual(level + 1);
        if (sum > 0) expect(value).toBeGreaterThan(0);
        if (sum < 255 * side * side) expect(value).toBeLessThan(255);
      }
    }
  });

  it('packs tiles as raw deflate that another decoder reads', async () => {
    const archive = await opened(busyPlate());
    const tile = await archive.keptTile(0, 0, 0);
    expect(tile?.kind).toBe('packed');
    if (tile?.kind !== 'packed') return;
    const bits = inflateRawSync(tile.bytes);
    expect(bits.length).toBe(512 * 64);
    expect(bits.subarray(17 * 64, 18 * 64).every((byte) => byte === 255)).toBe(true);
  });

  it('refuses a file that is cut off or points beyond itself', async () => {
    const { facts, bytes } = archivePlate(busyPlate());
    await expect(PlateArchive.open(facts, byteSourceOf('p1.plate', bytes.subarray(0, 100)))).rejects.toThrow(
      DamagedArchiveError,
    );
    await expect(PlateArchive.open(facts, byteSourceOf('p1.plate', bytes.subarray(bytes.length >> 1)))).rejects.toThrow(
      DamagedArchiveError,
    );
  });
});
