import { describe, expect, it } from 'vitest';
import { finestLineMm } from '../../src/mesh/detailRules.ts';
import { meshByFormula } from '../../src/mesh/meshGeometry.ts';
import {
  labelPerInch,
  meshesThatHold,
  nameMesh,
  nearestMesh,
  threadsPerCmFromLabel,
} from '../../src/mesh/meshLookup.ts';
import { meshTable } from '../../src/mesh/meshTable.ts';
import { threadsPerInchFromPerCm } from '../../src/units/lengths.ts';

describe('meshTable', () => {
  it('labels every row within the known rounding of 2.54 n', () => {
    for (const row of meshTable) {
      // Published labels are at most 1.4 per inch off; the two finest 2.8 and 2.6.
      const allowed = row.threadsPerCm >= 180 ? 2.81 : 1.41;
      const off = Math.abs(row.labelsPerInch[0] - threadsPerInchFromPerCm(row.threadsPerCm));
      expect(off, `${row.threadsPerCm}-${row.threadUm}`).toBeLessThanOrEqual(allowed);
    }
  });

  it('lists threads that leave an opening, each pair once, one medium thread a count, and where it was seen', () => {
    const pairs = meshTable.map((row) => `${row.threadsPerCm}-${row.threadUm}`);
    expect(new Set(pairs).size).toBe(pairs.length);
    for (const row of meshTable) {
      expect(row.threadUm).toBeLessThan(10_000 / row.threadsPerCm);
      expect(row.provenance).toMatch(/^(?:read|from memory): /u);
      const mediums = meshTable.filter((other) => other.threadsPerCm === row.threadsPerCm && other.thread === 'medium');
      expect(mediums.length, `${row.threadsPerCm}`).toBe(1);
    }
  });
});

describe('nearestMesh', () => {
  it('takes the medium thread when none is named, the nearest when one is', () => {
    expect(nearestMesh(43)?.threadUm).toBe(80);
    expect(nearestMesh(43, 70)?.threadUm).toBe(71);
    expect(nearestMesh(90)?.threadUm).toBe(48);
    expect(nearestMesh(90, 53)?.threadUm).toBe(54);
  });

  it('goes to the nearest count within 3 % and no further', () => {
    expect(nearestMesh(44)?.threadsPerCm).toBe(43); // 2.3 % off
    expect(nearestMesh(44.5)).toBeNull(); // 3.5 % off 43, 7.3 % off 48
    expect(nearestMesh(121)?.threadsPerCm).toBe(120);
    expect(nearestMesh(5)).toBeNull();
    expect(nearestMesh(Number.NaN)).toBeNull();
  });
});

describe('labels per inch', () => {
  it.each([
    [110, 43],
    [156, 62],
    [157, 62],
    [195, 77],
    [196, 77],
    [225, 90],
    [230, 90],
    [305, 120],
    [380, 150],
  ])('%i means %i/cm', (label, threadsPerCm) => expect(threadsPerCmFromLabel(label)).toBe(threadsPerCm));

  it('converts a count that is nobody’s label', () => {
    expect(threadsPerCmFromLabel(120)).toBeCloseTo(120 / 2.54, 9);
  });

  it('labels a metric count, by 2.54 where the table has none', () => {
    expect(labelPerInch(43)).toBe(110);
    expect(labelPerInch(50)).toBe(127);
  });
});

describe('meshesThatHold', () => {
  it('starts with the coarsest that holds the line and leaves out those that do not', () => {
    const held = meshesThatHold(0.2);
    // Of the table only counts from 71 up hold 0.20 mm: 71-55 needs 0.196; 62-64 needs 0.225.
    expect(held[0]).toMatchObject({ threadsPerCm: 71, threadUm: 55 });
    for (const mesh of held) expect(finestLineMm(mesh)).toBeLessThanOrEqual(0.2);
    expect(meshesThatHold(0.05)).toEqual([]);
  });

  it('chooses among the meshes a shop owns', () => {
    const owned = [meshByFormula(120, 34), meshByFormula(43, 80), meshByFormula(77, 48)];
    expect(meshesThatHold(0.21, owned).map(nameMesh)).toEqual(['77/cm, 48 µm', '120/cm, 34 µm']);
  });
});
