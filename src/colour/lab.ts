import { converter } from 'culori';

/** CIELAB of the D65 white point, L 0–100. */
export interface Lab {
  readonly l: number;
  readonly a: number;
  readonly b: number;
}

const toLab65 = converter('lab65');

/** Lab of an sRGB colour written `#rrggbb` or `#rgb`. Throws a RangeError for anything else. */
export function hexToLab(hex: string): Lab {
  const lab = /^#(?:[0-9a-f]{3}|[0-9a-f]{6})$/iu.test(hex) ? toLab65(hex) : undefined;
  if (lab === undefined) throw new RangeError(`Not a colour of the form #rrggbb: ${hex}`);
  return { l: lab.l, a: lab.a, b: lab.b };
}

/** Lightness L* of an sRGB colour, 0 (black) to 100 (white). */
export function lightnessOfHex(hex: string): number {
  return hexToLab(hex).l;
}

/** Light and nearly without hue: a white ink, as a display colour shows it. */
export function isWhiteish(hex: string): boolean {
  const { l, a, b } = hexToLab(hex);
  return l >= 92 && Math.hypot(a, b) <= 8;
}

/** Dark enough that colours need a white base under them: L* below 60. Common practice, no source for the figure. */
export function isDarkGround(hex: string): boolean {
  return lightnessOfHex(hex) < 60;
}
