import type { LimitOrigin, Unit } from '../findings/finding.ts';
import { mmPerInch, mmToInches } from '../units/lengths.ts';

/**
 * The gap between a number and its unit. The no-break space of the report's own face is a fifth of an em wide, which is
 * what printers call a thin space, and no line ends there.
 */
export const thinSpace = '\u00a0';

const suffixes: Readonly<Record<Unit, string>> = {
  mm: 'mm',
  um: 'µm',
  ppi: 'ppi',
  lpi: 'lpi',
  deg: '°',
  percent: '%',
  opticalDensity: 'D',
  count: '',
  pt: 'pt',
  deltaE: 'ΔE',
  ratio: '',
};

const usualDecimals: Readonly<Record<Unit, number>> = {
  mm: 2,
  um: 0,
  ppi: 0,
  lpi: 1,
  deg: 1,
  percent: 1,
  opticalDensity: 2,
  count: 0,
  pt: 1,
  deltaE: 1,
  ratio: 2,
};

/** An error bar of less, in mm, says nothing to anybody: no film holds a thousandth. */
const finestBarMm = 0.001;

/** Whether a reading is as good as exact: its error bar is not written. */
function isExact({ unit, plusMinus }: { readonly unit: Unit; readonly plusMinus: number }): boolean {
  return plusMinus === 0 || (unit === 'mm' && plusMinus < finestBarMm);
}

/** The unit as written after a number: `mm`, `µm`, `%`; empty for counts and ratios. */
export function unitSuffix(unit: Unit): string {
  return suffixes[unit];
}

/**
 * Decimals that suit these numbers of one unit: the usual number of that unit, more when the error bar
 * or a number would read nought, or when numbers that differ would read alike, fewer for long lengths and whole
 * shares. At most 4.
 */
export function decimalsFor(unit: Unit, numbers: readonly number[], plusMinus = 0): number {
  if (unit === 'count') return numbers.every(Number.isInteger) ? 0 : 1;
  if (unit === 'percent' && plusMinus === 0 && numbers.every(Number.isInteger)) return 0;
  let decimals = usualDecimals[unit];
  if (unit === 'mm' && numbers.some((n) => Math.abs(n) >= 100)) decimals = 1;
  const hasBar = !isExact({ unit, plusMinus });
  while (decimals < 4 && hasBar && Number(plusMinus.toFixed(decimals)) === 0) decimals += 1;
  const vanishes = (number: number) => Math.abs(number) > plusMinus && Number(number.toFixed(decimals)) === 0;
  while (decimals < 4 && numbers.some(vanishes)) decimals += 1;
  const distinct = new Set(numbers);
  while (decimals < 4 && new Set(numbers.map((n) => n.toFixed(decimals))).size < distinct.size) decimals += 1;
  return decimals;
}

/** A number with a true minus sign and no negative nought. */
export function fixed(value: number, decimals: number): string {
  const text = value.toFixed(decimals);
  const isNought = Number(text) === 0;
  return text.startsWith('-') ? (isNought ? text.slice(1) : `−${text.slice(1)}`) : text;
}

/** `0.21 mm`, with a thin space unless another gap is asked for; degrees carry their sign without one. */
export function quantity(value: number, unit: Unit, decimals: number, gap = thinSpace): string {
  const suffix = suffixes[unit];
  if (suffix === '') return fixed(value, decimals);
  return `${fixed(value, decimals)}${unit === 'deg' ? '' : gap}${suffix}`;
}

/** `0.21 ± 0.02 mm`; an exact reading carries no error bar. */
export function readingWords(
  measured: { readonly value: number; readonly unit: Unit; readonly plusMinus: number },
  decimals: number,
  gap = thinSpace,
): string {
  if (isExact(measured)) return quantity(measured.value, measured.unit, decimals, gap);
  const bar = quantity(measured.plusMinus, measured.unit, decimals, gap);
  return `${fixed(measured.value, decimals)} ± ${bar}`;
}

/** `300 × 352 mm`: whole millimetres where they are whole, else one decimal. */
export function sizeWords(widthMm: number, heightMm: number, gap = thinSpace): string {
  return `${lengthWords(widthMm)} × ${lengthWords(heightMm)}${gap}mm`;
}

/** The same size in inches, as the trade orders prints: `11.8 × 13.9 in`. */
export function sizeInchWords(widthMm: number, heightMm: number, gap = thinSpace): string {
  return `${mmToInches(widthMm).toFixed(1)} × ${mmToInches(heightMm).toFixed(1)}${gap}in`;
}

function lengthWords(mm: number): string {
  const tenth = mm.toFixed(1);
  return tenth.endsWith('.0') ? tenth.slice(0, -2) : tenth;
}

/** A length along edges: one decimal, `188.9 mm`. */
export function runWords(mm: number, gap = thinSpace): string {
  return mm > 0 && mm < 0.05 ? `under 0.1${gap}mm` : quantity(mm, 'mm', 1, gap);
}

/** The same with inches, as the trade orders prints: `188.9 mm (7.4 in)`. */
export function runInchWords(mm: number, gap = thinSpace): string {
  const inches = mmToInches(mm);
  return `${runWords(mm, gap)} (${inches.toFixed(inches < 1 ? 2 : 1)}${gap}in)`;
}

/** An area: `62.3 mm²`, from ten square centimetres on `152.3 cm²`. */
export function areaWords(mm2: number, gap = thinSpace): string {
  if (mm2 > 0 && mm2 < 0.05) return `under 0.1${gap}mm²`;
  return mm2 < 1000 ? `${fixed(mm2, 1)}${gap}mm²` : `${fixed(mm2 / 100, 1)}${gap}cm²`;
}

/** An area in a column of areas: `6.8 cm²`. */
export function areaCmWords(mm2: number, gap = thinSpace): string {
  return mm2 > 0 && mm2 < 5 ? `under 0.1${gap}cm²` : `${fixed(mm2 / 100, 1)}${gap}cm²`;
}

/** A share: `2.9 %`; what is there is never written as nought. */
export function shareWords(percent: number, gap = thinSpace): string {
  return percent > 0 && percent < 0.05 ? `under 0.1${gap}%` : quantity(percent, 'percent', 1, gap);
}

/** `43/cm, 80 µm`. */
export function meshWords(mesh: { readonly threadsPerCm: number; readonly threadUm: number }, gap = thinSpace): string {
  return `${trimmed(mesh.threadsPerCm)}/cm, ${trimmed(mesh.threadUm)}${gap}µm`;
}

/** `43/cm (109/in), 80 µm thread`. */
export function meshLongWords(
  mesh: { readonly threadsPerCm: number; readonly threadUm: number },
  gap = thinSpace,
): string {
  const perInch = Math.round((mesh.threadsPerCm * mmPerInch) / 10);
  return `${trimmed(mesh.threadsPerCm)}/cm (${perInch}/in), ${trimmed(mesh.threadUm)}${gap}µm thread`;
}

function trimmed(value: number): string {
  return String(Math.round(value * 10) / 10);
}

/** `18.4 kB`, in thousands as file lists count. */
export function bytesWords(bytes: number, gap = thinSpace): string {
  if (bytes < 1000) return `${bytes}${gap}bytes`;
  if (bytes < 1_000_000) return `${(bytes / 1000).toFixed(1)}${gap}kB`;
  return `${(bytes / 1_000_000).toFixed(1)}${gap}MB`;
}

/** `17 places`, `1 place`. */
export function counted(count: number, one: string, many = `${one}s`): string {
  return `${count} ${count === 1 ? one : many}`;
}

const unitGap = /(\d) (?=(?:mm|cm|µm|um|in|pt|ppi|lpi|dpi|%)(?![a-z]))/g;

/** Prose in which no line can end between a number and its unit. */
export function unitsKept(text: string): string {
  return text.replace(unitGap, '$1\u00a0');
}

/** Where a limit comes from, as people say it. */
export const originWords: Readonly<Record<LimitOrigin, string>> = {
  ticket: 'your ticket',
  shop: 'your shop’s own',
  default: 'shop default',
  mesh: 'the mesh',
};
