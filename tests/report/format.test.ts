import { describe, expect, it } from 'vitest';
import {
  bytesWords,
  decimalsFor,
  fixed,
  meshLongWords,
  quantity,
  readingWords,
  sizeWords,
  unitsKept,
} from '../../src/report/format.ts';
import { shownText } from '../../src/report/words.ts';

describe('numbers with units', () => {
  it('keeps as many decimals as the error bar needs', () => {
    expect(decimalsFor('mm', [0.21, 0.35], 0.02)).toBe(2);
    expect(decimalsFor('mm', [0.21, 0.35], 0.004)).toBe(3);
    expect(decimalsFor('mm', [300.2, 305], 0.1)).toBe(1);
  });

  it('never lets a small limit read nought', () => {
    expect(decimalsFor('percent', [10, 0.02])).toBe(2);
    expect(decimalsFor('percent', [10, 0])).toBe(0);
    // A reading within its own error bar may read nought.
    expect(decimalsFor('mm', [0.0001, 0.25], 0.0134)).toBe(2);
  });

  it('never lets a reading and the limit it misses read alike', () => {
    const decimals = decimalsFor('mm', [0.3496, 0.35], 0.02);
    expect(fixed(0.3496, decimals)).not.toBe(fixed(0.35, decimals));
  });

  it('parts number and unit by a space that does not break, and degrees by none', () => {
    expect(quantity(0.21, 'mm', 2)).toBe('0.21\u00a0mm');
    expect(quantity(22.5, 'deg', 1)).toBe('22.5°');
    expect(quantity(7, 'count', 0)).toBe('7');
  });

  it('writes a true minus and no negative nought', () => {
    expect(fixed(-0.12, 2)).toBe('−0.12');
    expect(fixed(-0.001, 2)).toBe('0.00');
  });

  it('leaves the error bar of exact readings away', () => {
    expect(readingWords({ value: 7, unit: 'count', plusMinus: 0 }, 0)).toBe('7');
    expect(readingWords({ value: 0.21, unit: 'mm', plusMinus: 0.02 }, 2, ' ')).toBe('0.21 ± 0.02 mm');
    // As from vector art: half a micrometre more or less.
    expect(decimalsFor('mm', [0.21, 0.35], 0.0005)).toBe(2);
    expect(readingWords({ value: 0.21, unit: 'mm', plusMinus: 0.0005 }, 2, ' ')).toBe('0.21 mm');
    expect(readingWords({ value: 0.21, unit: 'mm', plusMinus: 0.0012 }, 4, ' ')).toBe('0.2100 ± 0.0012 mm');
  });

  it('says sizes, meshes and bytes as the trade does', () => {
    expect(sizeWords(300, 352.04, ' ')).toBe('300 × 352 mm');
    // 43 threads a centimetre are 43 × 2.54 = 109.2 an inch.
    expect(meshLongWords({ threadsPerCm: 43, threadUm: 80 }, ' ')).toBe('43/cm (109/in), 80 µm thread');
    expect(bytesWords(184_220, ' ')).toBe('184.2 kB');
  });

  it('ends no line between a number and its unit', () => {
    expect(unitsKept('needs 0.18 mm or 8 pt, in all')).toBe('needs 0.18\u00a0mm or 8\u00a0pt, in all');
    expect(unitsKept('2 members')).toBe('2 members');
  });

  it('shows no control characters and nothing that turns the writing round', () => {
    expect(shownText('a\u001b[31mb\u0007\u202ec\nd')).toBe('a[31mbc d');
  });
});
