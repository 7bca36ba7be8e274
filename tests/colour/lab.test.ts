import { describe, expect, it } from 'vitest';
import { hexOfColourWord } from '../../src/colour/colourWords.ts';
import { hexToLab, isDarkGround, isWhiteish, lightnessOfHex } from '../../src/colour/lab.ts';

describe('hexToLab', () => {
  it('puts the sRGB white at L 100 and black at L 0, both without hue', () => {
    expect(hexToLab('#ffffff').l).toBeCloseTo(100, 3);
    expect(hexToLab('#fff')).toEqual(hexToLab('#FFFFFF'));
    expect(hexToLab('#000000')).toEqual({ l: 0, a: expect.closeTo(0, 6), b: expect.closeTo(0, 6) });
  });

  it('follows the definition for a mid grey', () => {
    // sRGB 119/255 = 0.466667; linear ((0.466667+0.055)/1.055)^2.4 = 0.184475; L* = 116·0.184475^(1/3) − 16 = 50.034.
    expect(lightnessOfHex('#777777')).toBeCloseTo(50.034, 2);
  });

  it('follows the definition for pure red', () => {
    // IEC 61966-2-1: red has Y = 0.212639, X = 0.412391, Z = 0.019331 under white 0.950456, 1, 1.089058 (D65, x 0.3127 y 0.3290).
    // fY = 0.212639^(1/3) = 0.596867; L* = 116·0.596867 − 16 = 53.24.
    // fX = (0.412391/0.950456)^(1/3) = 0.757029; a* = 500·(0.757029 − 0.596867) = 80.08.
    // fZ = (0.019331/1.089058)^(1/3) = 0.260838; b* = 200·(0.596867 − 0.260838) = 67.2.
    const red = hexToLab('#ff0000');
    expect(red.l).toBeCloseTo(53.24, 1);
    expect(Math.abs(red.a - 80.08)).toBeLessThan(0.05);
    expect(Math.abs(red.b - 67.2)).toBeLessThan(0.05);
  });

  it.each(['', 'ffffff', '#ffff', '#gggggg', 'white', '#fffffff'])('refuses %j', (hex) => {
    expect(() => hexToLab(hex)).toThrow(RangeError);
  });
});

describe('ground and white', () => {
  it('takes paper white and a warm white for white, yellow and grey not', () => {
    expect(isWhiteish('#ffffff')).toBe(true);
    expect(isWhiteish('#f8f6f0')).toBe(true);
    expect(isWhiteish('#ffff00')).toBe(false);
    expect(isWhiteish('#cccccc')).toBe(false);
  });

  it('takes navy and black for dark shirts, cream and white not', () => {
    expect(isDarkGround(hexOfColourWord('Navy') ?? '')).toBe(true);
    expect(isDarkGround('#000000')).toBe(true);
    expect(isDarkGround(hexOfColourWord('cream') ?? '')).toBe(false);
    expect(isDarkGround('#ffffff')).toBe(false);
  });

  it('knows plain colour words only', () => {
    expect(hexOfColourWord('  ROYAL   blue ')).toMatch(/^#[0-9a-f]{6}$/u);
    expect(hexOfColourWord('lagoon')).toBeNull();
    expect(hexOfColourWord('constructor')).toBeNull();
  });
});
