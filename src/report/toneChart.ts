import { fixed } from './format.ts';
import { hatching } from './scaleParts.ts';
import { type Drawing, line, rectangle, type Shape } from './shapes.ts';

/** How the area of a halftone is spread over its tones. */
export interface ToneChart {
  /** Entry k: mm² of tones that round to k %. */
  readonly areaByToneMm2: readonly number[];
  /** Lightest and darkest tone whose dots and holes the mesh holds; null where no mesh is known. */
  readonly heldTonesPercent: readonly [number, number] | null;
}

const width = 264;
const left = 10;
const right = width - 10;
const [top, base] = [14, 54];
const rulerHalf = 3;
const ruler = base + rulerHalf;
/** What little there is of a tone stays to be seen. */
const leastColumn = 0.8;

const x = (percent: number) => left + (percent / 100) * (right - left);

/**
 * The area of a halftone by its tones, 264 × 84 units: a column for each percent, as high as its area; the tones the mesh
 * holds between two ticks, what lies beyond them hatched.
 */
export function toneChart({ areaByToneMm2, heldTonesPercent }: ToneChart): Drawing {
  const shapes: Shape[] = [];
  if (heldTonesPercent !== null) {
    const [lightest, darkest] = heldTonesPercent;
    const d = hatching(left, x(lightest), ruler, rulerHalf) + hatching(x(darkest), right, ruler, rulerHalf);
    shapes.push({ kind: 'path', d, fill: 'none', stroke: 'quiet', strokeWidth: 0.6 });
  }
  const most = Math.max(...areaByToneMm2);
  const each = (right - left) / 100;
  const columns = areaByToneMm2.map((mm2, percent) => {
    if (mm2 <= 0) return '';
    const high = Math.max(leastColumn, (mm2 / most) * (base - top));
    return rectangle(x(percent) - each / 2 + 0.2, base - high, each - 0.4, high);
  });
  shapes.push({ kind: 'path', d: columns.join(''), fill: 'text', stroke: 'none', strokeWidth: 0 });
  const ticks = [0, 25, 50, 75, 100];
  const axis = line(left, base, right, base) + ticks.map((tick) => line(x(tick), base, x(tick), ruler + 3)).join('');
  shapes.push({ kind: 'path', d: axis, fill: 'none', stroke: 'quiet', strokeWidth: 0.8 });
  const add = (text: string, at: number, y: number, tone: 'text' | 'quiet') => {
    const half = text.length * 2.6;
    const middle = Math.min(Math.max(at, half), width - half);
    shapes.push({ kind: 'text', x: middle, y, text, size: 9.5, anchor: 'middle', strong: false, tone });
  };
  add('area by tone, %', width, 9, 'quiet');
  for (const tick of ticks) add(String(tick), x(tick), 69, 'quiet');
  for (const [index, percent] of (heldTonesPercent ?? []).entries()) {
    const d = line(x(percent), top, x(percent), ruler + 4);
    shapes.push({ kind: 'path', d, fill: 'none', stroke: 'text', strokeWidth: 1.4 });
    add(`${index === 0 ? 'holds from' : 'to'} ${fixed(percent, 0)}`, x(percent), 81, 'text');
  }
  return { width, height: 84, shapes, label: spoken(areaByToneMm2, heldTonesPercent) };
}

function spoken(areas: readonly number[], held: ToneChart['heldTonesPercent']): string {
  const all = areas.reduce((sum, mm2) => sum + mm2, 0);
  const quarters = [0, 25, 50, 75].map((from) => {
    const part = areas.slice(from, from === 75 ? 101 : from + 25).reduce((sum, mm2) => sum + mm2, 0);
    return `${from} to ${from + 25} %: ${fixed(all === 0 ? 0 : (100 * part) / all, 0)} %`;
  });
  const mesh = held === null ? '' : `; the mesh holds ${fixed(held[0], 0)} to ${fixed(held[1], 0)} %`;
  return `Area by tone: ${quarters.join(', ')}${mesh}`;
}
