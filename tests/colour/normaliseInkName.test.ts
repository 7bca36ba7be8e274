import { describe, expect, it } from 'vitest';
import { foldInkName, normaliseInkName } from '../../src/colour/normaliseInkName.ts';

describe('normaliseInkName', () => {
  it.each([
    ['Lagoon', 'lagoon'],
    ['  LAGOON ', 'lagoon'],
    ['White_base', 'white base'],
    ['White-Base', 'white base'],
    ['Lagoon 321 C', 'lagoon 321'],
    ['Lagoon 321 U', 'lagoon 321'],
    ['Lagoon 321 Uncoated', 'lagoon 321'],
    ['Coral copy', 'coral'],
    ['Coral copy 2', 'coral'],
    ['Coral 2', 'coral'],
    ['Coral (2)', 'coral'],
    ['Night spot ink', 'night'],
    ['7', '7'],
    ['321', '321'],
    ['C', 'c'],
    ['Copy', 'copy'],
    ['Ｌａｇｏｏｎ', 'lagoon'],
    ['Mørk blå', 'mørk blå'],
    ['', ''],
  ])('writes %j as %j', (name, expected) => expect(normaliseInkName(name)).toBe(expected));

  it('is the same when done twice', () => {
    for (const name of ['Coral copy 2 C', 'A1 B2', 'Night copy copy', 'x (1) (2)', '12 c', '..', '- -']) {
      expect(normaliseInkName(normaliseInkName(name))).toBe(normaliseInkName(name));
    }
  });

  it('ends on a long name made to slow it down', () => {
    const started = Date.now();
    normaliseInkName(`${' '.repeat(20_000)}${'a 1'.repeat(5000)}${' '.repeat(20_000)}`);
    expect(Date.now() - started).toBeLessThan(2000);
  });
});

describe('foldInkName', () => {
  it('keeps numbers and endings', () => expect(foldInkName(' Coral_2 C')).toBe('coral 2 c'));
});
