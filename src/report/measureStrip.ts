import type { CheckResult, Unit } from '../findings/finding.ts';
import type { Entry } from './entry.ts';
import { type FailingSide, failingSideOf, failingSideOfPassed, limitVerb } from './failingSide.ts';
import { decimalsFor, fixed, quantity, readingWords, thinSpace } from './format.ts';
import { allowsNone } from './readingInWords.ts';
import { hatching, niceStep, stepDecimals } from './scaleParts.ts';
import { circle, type Drawing, drawingToSvg, line, type Shape } from './shapes.ts';

export interface StripReading {
  readonly value: number;
  readonly unit: Unit;
  readonly plusMinus: number;
  /** Null where nothing limits the reading. */
  readonly limit: number | null;
  readonly failingSide: FailingSide;
}

export const stripWidth = 264;
const left = 10;
const right = stripWidth - 10;
const axisY = 26;
const half = 6;

/**
 * The measure strip, 264 × 52 units: a short scale, the reading as a dot with its error bar, the limit as a tick and
 * the side that fails hatched. `small` leaves the words and figures away (for tables), 264 × 26 units.
 */
export function measureStrip(reading: StripReading, form: 'full' | 'small' = 'full'): Drawing {
  const scale = scaleFor(reading);
  const x = (value: number) => left + ((value - scale.from) / (scale.to - scale.from)) * (right - left);
  const y = form === 'full' ? axisY : 13;
  const shapes: Shape[] = [];
  if (reading.limit !== null && reading.failingSide !== null) {
    const from = reading.failingSide === 'below' ? left : x(reading.limit);
    const to = reading.failingSide === 'below' ? x(reading.limit) : right;
    shapes.push({ kind: 'path', d: hatching(from, to, y, half), fill: 'none', stroke: 'quiet', strokeWidth: 0.6 });
  }
  shapes.push({ kind: 'path', d: line(left, y, right, y), fill: 'none', stroke: 'quiet', strokeWidth: 0.8 });
  const ticks = scale.ticks.map((tick) => line(x(tick), y - 2.5, x(tick), y + 2.5)).join('');
  shapes.push({ kind: 'path', d: ticks, fill: 'none', stroke: 'quiet', strokeWidth: 0.8 });
  if (reading.limit !== null) {
    const at = x(reading.limit);
    shapes.push({ kind: 'path', d: line(at, y - 9, at, y + 9), fill: 'none', stroke: 'text', strokeWidth: 1.8 });
  }
  shapes.push(...readingShapes(reading, x, y));
  if (form === 'full') shapes.push(...words(reading, scale, x));
  return { width: stripWidth, height: form === 'full' ? 52 : 26, shapes, label: spoken(reading) };
}

/** What an entry's strip shows; null when nothing was measured, or when none of a kind may be there. */
export function stripReadingOf({ check, finding }: Entry): StripReading | null {
  if (!finding?.measured || allowsNone(finding.measured.unit, finding.limit)) return null;
  const { measured, limit } = finding;
  const comparable = limit !== null && limit.unit === measured.unit ? limit.value : null;
  return { ...measured, limit: comparable, failingSide: comparable === null ? null : failingSideOf(check, finding) };
}

/** What the strip of a passed check's tightest reading shows; null where there is none to show. */
export function stripOfTightest(check: CheckResult): StripReading | null {
  const { tightest } = check;
  if (!tightest || allowsNone(tightest.unit, tightest.limit)) return null;
  const limit = tightest.limit.unit === tightest.unit ? tightest.limit.value : null;
  return { ...tightest, limit, failingSide: failingSideOfPassed(check) };
}

/** The strip as inline SVG. */
export function measureStripSvg(reading: StripReading, form: 'full' | 'small' = 'full'): string {
  return drawingToSvg(measureStrip(reading, form), { className: form === 'full' ? 'strip' : 'strip small' });
}

function readingShapes(reading: StripReading, x: (value: number) => number, y: number): Shape[] {
  const at = x(reading.value);
  const low = x(reading.value - reading.plusMinus);
  const high = x(reading.value + reading.plusMinus);
  const shapes: Shape[] = [
    { kind: 'path', d: circle(at, y, 5.4), fill: 'table', stroke: 'none', strokeWidth: 0 },
    { kind: 'path', d: circle(at, y, 3.4), fill: 'text', stroke: 'none', strokeWidth: 0 },
  ];
  if (reading.plusMinus > 0) {
    const bar = line(low, y, high, y) + line(low, y - 4.5, low, y + 4.5) + line(high, y - 4.5, high, y + 4.5);
    shapes.splice(1, 0, { kind: 'path', d: bar, fill: 'none', stroke: 'text', strokeWidth: 1.2 });
  }
  return shapes;
}

function words(reading: StripReading, scale: Scale, x: (value: number) => number): Shape[] {
  const decimals = stripDecimals(reading);
  const shapes: Shape[] = [];
  const readingText = readingWords(reading, decimals);
  const readingHalf = readingText.length * 2.9;
  const at = Math.min(Math.max(x(reading.value), readingHalf), stripWidth - readingHalf);
  shapes.push({
    kind: 'text',
    x: at,
    y: 12,
    text: readingText,
    size: 12,
    anchor: 'middle',
    strong: true,
    tone: 'text',
  });
  const taken: [number, number][] = [];
  if (reading.limit !== null) {
    const text = limitText(reading, decimals, thinSpace);
    const halfWidth = text.length * 2.7;
    const middle = Math.min(Math.max(x(reading.limit), halfWidth), stripWidth - halfWidth);
    taken.push([middle - halfWidth - 4, middle + halfWidth + 4]);
    shapes.push({ kind: 'text', x: middle, y: 47, text, size: 11, anchor: 'middle', strong: false, tone: 'text' });
  }
  for (const tick of scale.ticks) {
    const text = fixed(tick, scale.decimals);
    const halfWidth = text.length * 2.5;
    const middle = Math.min(Math.max(x(tick), halfWidth), stripWidth - halfWidth);
    if (taken.some(([from, to]) => middle + halfWidth > from && middle - halfWidth < to)) continue;
    taken.push([middle - halfWidth - 4, middle + halfWidth + 4]);
    shapes.push({ kind: 'text', x: middle, y: 46, text, size: 9.5, anchor: 'middle', strong: false, tone: 'quiet' });
  }
  return shapes;
}

function stripDecimals(reading: StripReading): number {
  const numbers = !reading.limit ? [reading.value] : [reading.value, reading.limit];
  return decimalsFor(reading.unit, numbers, reading.plusMinus);
}

function spoken(reading: StripReading): string {
  const decimals = stripDecimals(reading);
  const words = readingWords(reading, decimals, ' ');
  if (reading.limit === null) return words;
  return `${words}, ${limitText(reading, decimals, ' ')}`;
}

function limitText({ limit, unit, failingSide }: StripReading, decimals: number, gap: string): string {
  if (limit === 0 && failingSide === 'above') return 'allows none';
  return `${limitVerb(failingSide)} ${quantity(limit ?? 0, unit, decimals, gap)}`;
}

interface Scale {
  readonly from: number;
  readonly to: number;
  readonly ticks: readonly number[];
  readonly decimals: number;
}

/** From nought where that leaves room to tell reading and limit apart, else a window around both. */
function scaleFor(reading: StripReading): Scale {
  const marks = [reading.value - reading.plusMinus, reading.value + reading.plusMinus];
  if (reading.limit !== null) marks.push(reading.limit);
  const low = Math.min(...marks);
  const high = Math.max(...marks);
  const span = high - low;
  const isWindow = low > 0 && span > 0 && low > 0.7 * high;
  const from = isWindow ? low - span * 0.7 : Math.min(0, low * 1.2);
  const to = isWindow ? high + span * 0.7 : Math.max(high * 1.25, from + (reading.unit === 'count' ? 1 : 1e-3));
  const step = niceStep((to - from) / 4, reading.unit === 'count');
  const first = Math.floor(from / step + 1e-9);
  const last = Math.ceil(to / step - 1e-9);
  const ticks: number[] = [];
  for (let index = first; index <= last; index += 1) ticks.push(Number((index * step).toPrecision(12)));
  return { from: first * step, to: last * step, ticks, decimals: stepDecimals(step) };
}
