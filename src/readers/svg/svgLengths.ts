import { mmPerCssPixel, mmPerInch, mmPerPica, mmPerPoint } from '../../units/lengths.ts';

/** What relative lengths are relative to, in user units (CSS pixels at the outermost viewport). */
export interface LengthContext {
  readonly viewportWidth: number;
  readonly viewportHeight: number;
  readonly fontSize: number;
  readonly rootFontSize: number;
}

export type LengthAxis = 'x' | 'y' | 'other';

const number = String.raw`[+-]?(?:\d+\.?\d*|\.\d+)(?:e[+-]?\d+)?`;
const lengthPattern = new RegExp(String.raw`^\s*(${number})\s*([a-z]+|%)?\s*$`, 'i');

/** Size of each absolute unit in user units (CSS Values and Units Level 4, 6.2). */
const userUnitsPerUnit: Readonly<Record<string, number>> = {
  px: 1,
  mm: 1 / mmPerCssPixel,
  cm: 10 / mmPerCssPixel,
  q: 0.25 / mmPerCssPixel,
  in: mmPerInch / mmPerCssPixel,
  pt: mmPerPoint / mmPerCssPixel,
  pc: mmPerPica / mmPerCssPixel,
};

/** A length in user units, or null when it is not one. */
export function parseLength(text: string | undefined, axis: LengthAxis, context: LengthContext): number | null {
  const match = text === undefined ? null : lengthPattern.exec(text);
  if (match === null) return null;
  const value = Number(match[1]);
  const unit = match[2]?.toLowerCase();
  if (unit === undefined) return value;
  const factor = userUnitsPerUnit[unit];
  if (factor !== undefined) return value * factor;
  if (unit === '%') return (value / 100) * percentBase(axis, context);
  if (unit === 'em') return value * context.fontSize;
  if (unit === 'ex' || unit === 'ch') return (value * context.fontSize) / 2;
  if (unit === 'rem') return value * context.rootFontSize;
  if (unit === 'vw') return (value / 100) * context.viewportWidth;
  if (unit === 'vh') return (value / 100) * context.viewportHeight;
  return null;
}

/** What 100 % stands for: width, height, or the diagonal over √2 (SVG 2, 8.9). */
function percentBase(axis: LengthAxis, context: LengthContext): number {
  if (axis === 'x') return context.viewportWidth;
  if (axis === 'y') return context.viewportHeight;
  return Math.hypot(context.viewportWidth, context.viewportHeight) / Math.SQRT2;
}

/** The unit a length is written in: '' when bare, null when it is no length. */
export function unitOf(text: string | undefined): string | null {
  const match = text === undefined ? null : lengthPattern.exec(text);
  return match === null ? null : (match[2] ?? '').toLowerCase();
}

export function isLength(text: string): boolean {
  const unit = unitOf(text);
  return unit !== null && (unit === '' || unit in userUnitsPerUnit || /^(%|em|ex|ch|rem|vw|vh)$/.test(unit));
}

export function parseNumberList(text: string): number[] {
  return (text.match(new RegExp(number, 'gi')) ?? []).map(Number);
}

/** A number, or a percentage as a ratio; null when it is neither. */
export function parseRatio(text: string | undefined): number | null {
  const match = text === undefined ? null : lengthPattern.exec(text);
  if (match === null || (match[2] !== undefined && match[2] !== '%')) return null;
  return match[2] === '%' ? Number(match[1]) / 100 : Number(match[1]);
}
