import { decimalsFor, fixed, quantity, runWords, thinSpace } from './format.ts';
import type { ReportPair } from './reportJson.ts';
import { hatching, niceStep, stepDecimals } from './scaleParts.ts';
import { type Drawing, drawingToSvg, line, rectangle, type Shape } from './shapes.ts';

type Bin = ReportPair['overlapByLength'][number];

/** How the readings along an edge are spread over its length. */
export interface LengthChart {
  /** Readings below nought are gaps, or base that peeks out. */
  readonly bins: readonly Bin[];
  /** What is asked of the readings at least; null where nothing is. */
  readonly limitMm: number | null;
  /** What a reading on either side of nought is. */
  readonly sides: readonly [below: string, above: string];
}

export interface LengthScale {
  readonly fromMm: number;
  readonly toMm: number;
  readonly stepMm: number;
}

export const chartWidth = 264;
const left = 10;
const right = chartWidth - 10;
const rulerHalf = 3;
const leastColumn = 1.5;

/** One scale for several charts, so that they can be compared: nought is on it, and all limits. */
export function lengthScale(charts: readonly LengthChart[]): LengthScale {
  let [low, high] = [0, 0.2];
  for (const { bins, limitMm } of charts) {
    for (const { fromMm, toMm } of bins) [low, high] = [Math.min(low, fromMm), Math.max(high, toMm)];
    high = Math.max(high, (limitMm ?? 0) + 0.05);
  }
  const stepMm = niceStep((high - low) / 6);
  const outwards = (mm: number, round: (value: number) => number) => round(mm / (stepMm / 2)) * (stepMm / 2);
  return { fromMm: outwards(low + 1e-9, Math.floor), toMm: outwards(high - 1e-9, Math.ceil), stepMm };
}

/**
 * The length of an edge by what was read along it, 264 × 84 units: a column for each step, as high as its length; filled
 * above nought, open below, a narrow one on nought for edges that fall together; the limit as a tick, the side that
 * fails hatched. `small` leaves the words and figures away (for tables), 264 × 34 units.
 */
export function lengthChart(chart: LengthChart, scale: LengthScale, form: 'full' | 'small' = 'full'): Drawing {
  const isFull = form === 'full';
  const x = (mm: number) => left + ((mm - scale.fromMm) / (scale.toMm - scale.fromMm)) * (right - left);
  const [top, y] = isFull ? [24, 54] : [3, 26];
  const ruler = y + rulerHalf;
  const shapes: Shape[] = [];
  const { limitMm } = chart;
  if (limitMm !== null) {
    const d = hatching(left, x(limitMm), ruler, rulerHalf);
    shapes.push({ kind: 'path', d, fill: 'none', stroke: 'quiet', strokeWidth: 0.6 });
  }
  shapes.push(...columns(chart.bins, x, y, y - top));
  const axis =
    line(left, y, right, y) +
    ticksOf(scale)
      .map((mm) => line(x(mm), y, x(mm), y + 2 * rulerHalf))
      .join('');
  shapes.push({ kind: 'path', d: axis, fill: 'none', stroke: 'quiet', strokeWidth: 0.8 });
  if (limitMm !== null) {
    const d = line(x(limitMm), top, x(limitMm), y + 2 * rulerHalf + 2);
    shapes.push({ kind: 'path', d, fill: 'none', stroke: 'text', strokeWidth: 1.8 });
  }
  if (isFull) shapes.push(...words(chart, scale, x));
  return { width: chartWidth, height: isFull ? 84 : 34, shapes, label: spoken(chart) };
}

/** The chart as inline SVG. */
export function lengthChartSvg(chart: LengthChart, scale: LengthScale, form: 'full' | 'small' = 'full'): string {
  return drawingToSvg(lengthChart(chart, scale, form), { className: form === 'full' ? 'strip' : 'strip small' });
}

function longestOf(bins: readonly Bin[]): Bin {
  return bins.reduce((longest, bin) => (bin.lengthMm > longest.lengthMm ? bin : longest));
}

function columns(bins: readonly Bin[], x: (mm: number) => number, y: number, height: number): Shape[] {
  const longest = Math.max(...bins.map(({ lengthMm }) => lengthMm));
  const boxes = { above: '', below: '', nought: '' };
  for (const { fromMm, toMm, lengthMm } of bins) {
    const high = Math.max(leastColumn, (lengthMm / longest) * height);
    if (fromMm === toMm) boxes.nought += rectangle(x(0) - 1.6, y - high, 3.2, high);
    else if (fromMm < 0)
      boxes.below += rectangle(x(fromMm) + 0.7, y - high, Math.max(1, x(toMm) - x(fromMm) - 1.4), high);
    else boxes.above += rectangle(x(fromMm) + 0.3, y - high, Math.max(1, x(toMm) - x(fromMm) - 0.6), high);
  }
  const shapes: Shape[] = [];
  if (boxes.above) shapes.push({ kind: 'path', d: boxes.above, fill: 'quiet', stroke: 'none', strokeWidth: 0 });
  if (boxes.below) shapes.push({ kind: 'path', d: boxes.below, fill: 'table', stroke: 'text', strokeWidth: 0.9 });
  if (boxes.nought) shapes.push({ kind: 'path', d: boxes.nought, fill: 'text', stroke: 'table', strokeWidth: 0.8 });
  return shapes;
}

function ticksOf({ fromMm, toMm, stepMm }: LengthScale): number[] {
  const ticks: number[] = [];
  for (let index = Math.ceil(fromMm / stepMm - 1e-9); index * stepMm <= toMm + 1e-9; index += 1) {
    ticks.push(Number((index * stepMm).toPrecision(12)));
  }
  return ticks;
}

function words(chart: LengthChart, scale: LengthScale, x: (mm: number) => number): Shape[] {
  const { bins, limitMm, sides } = chart;
  const shapes: Shape[] = [];
  const add = (text: string, at: number, y: number, size: number, tone: 'text' | 'quiet') => {
    const half = text.length * size * 0.26;
    const middle = Math.min(Math.max(at, half), chartWidth - half);
    shapes.push({ kind: 'text', x: middle, y, text, size, anchor: 'middle', strong: false, tone });
  };
  add(`${sides[1]}, mm`, chartWidth, 9, 9.5, 'quiet');
  if (scale.fromMm < 0) add(`${sides[0]}, mm`, 0, 9, 9.5, 'quiet');
  const longest = longestOf(bins);
  add(runWords(longest.lengthMm), x((longest.fromMm + longest.toMm) / 2), 20, 10.5, 'text');
  const decimals = stepDecimals(scale.stepMm);
  for (const tick of ticksOf(scale)) add(fixed(tick, decimals), x(tick), 69, 9.5, 'quiet');
  if (limitMm !== null) add(limitText(limitMm, thinSpace), x(limitMm), 81, 11, 'text');
  return shapes;
}

function spoken({ bins, limitMm, sides }: LengthChart): string {
  const total = (wanted: (bin: Bin) => boolean) => bins.filter(wanted).reduce((sum, { lengthMm }) => sum + lengthMm, 0);
  const kinds: readonly (readonly [string, number])[] = [
    [sides[0], total(({ fromMm }) => fromMm < 0)],
    ['on the edge', total(({ fromMm, toMm }) => fromMm === toMm)],
    [sides[1], total(({ fromMm, toMm }) => fromMm >= 0 && toMm > fromMm)],
  ];
  const lengths = kinds.filter(([, mm]) => mm > 0).map(([name, mm]) => `${name} ${runWords(mm, ' ')}`);
  const longest = longestOf(bins);
  const range =
    longest.fromMm === longest.toMm ? '' : `, most at ${fixed(longest.fromMm, 2)} to ${fixed(longest.toMm, 2)} mm`;
  const limit = limitMm === null ? '' : `, ${limitText(limitMm, ' ')}`;
  return `Length by width: ${lengths.join(', ')}${range}${limit}`;
}

function limitText(limitMm: number, gap: string): string {
  return `needs ${quantity(limitMm, 'mm', decimalsFor('mm', [limitMm]), gap)}`;
}
