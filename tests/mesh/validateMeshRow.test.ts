import { describe, expect, it } from 'vitest';
import { validateMeshRow } from '../../src/mesh/validateMeshRow.ts';

describe('validateMeshRow', () => {
  it.each([
    // Published rows of makers who measure: count, thread, opening, open area, thickness, volume.
    [43, 80, 149, 41, 130, 53],
    [77, 55, 67, 27, 88, 24],
    [90, 48, 55, 25, 78, 19],
    [120, 34, 45, 30, 55, 16],
    [120, 40, 37, 20, 65, 13],
    [150, 31, 32, 23, 49, 11],
  ])(
    'accepts the measured row %i-%i',
    (threadsPerCm, threadUm, openingUm, openAreaPercent, fabricThicknessUm, volume) => {
      const row = { threadsPerCm, threadUm, openingUm, openAreaPercent, fabricThicknessUm, inkVolumeCm3PerM2: volume };
      expect(validateMeshRow(row)).toEqual([]);
    },
  );

  it('accepts the twill 190-31 with 16 µm, 9 %, 55 µm (AGH University of Krakow)', () => {
    const row = { threadsPerCm: 190, threadUm: 31, openingUm: 16, openAreaPercent: 9, fabricThicknessUm: 55 };
    expect(validateMeshRow(row)).toEqual([]);
  });

  it('accepts a bare count and thread', () => expect(validateMeshRow({ threadsPerCm: 43, threadUm: 80 })).toEqual([]));

  it('refuses a thread as thick as the pitch', () => {
    expect(validateMeshRow({ threadsPerCm: 100, threadUm: 100 }).map((problem) => problem.key)).toEqual(['threadUm']);
  });

  it('takes openings from 9 µm under to 1 µm over the formula, ends included', () => {
    // 100-40: formula 60 µm.
    const wrong = (openingUm: number) => validateMeshRow({ threadsPerCm: 100, threadUm: 40, openingUm }).length;
    expect([50.9, 51, 60, 61, 61.1].map(wrong)).toEqual([1, 0, 0, 0, 1]);
  });

  it('tells every number that does not fit', () => {
    const row = {
      threadsPerCm: 43,
      threadUm: 80,
      openingUm: 200,
      openAreaPercent: 20,
      fabricThicknessUm: 200,
      inkVolumeCm3PerM2: 10,
    };
    expect(validateMeshRow(row).map((problem) => problem.key)).toEqual([
      'openingUm',
      'openAreaPercent',
      'fabricThicknessUm',
      'inkVolumeCm3PerM2',
    ]);
  });
});
