import { line, rectangle, round, type Shape, twoTone } from './shapes.ts';

const dark = '#101a24';
const light = '#ffffff';
type Point = readonly [x: number, y: number];

/** Threads of a mesh at true size, one set each way, as thin translucent lines over the whole window. */
export function threadLines(width: number, height: number, pitch: number, thread: number): Shape {
  let d = '';
  for (let x = pitch / 2; x < width; x += pitch) d += line(x, 0, x, height);
  for (let y = pitch / 2; y < height; y += pitch) d += line(0, y, width, y);
  return { kind: 'path', d, fill: 'none', stroke: '#8b9096', strokeWidth: thread, opacity: 0.32 };
}

/**
 * A dimension line as a draughtsman draws it: short cross lines at both ends, arrows from outside when the span is
 * narrow and from inside when it is wide, and the figure beside it on a light ground.
 */
export function dimensionLine(from: Point, to: Point, text: string, width: number, height: number): Shape[] {
  const length = Math.hypot(to[0] - from[0], to[1] - from[1]) || 1;
  const ux = (to[0] - from[0]) / length;
  const uy = (to[1] - from[1]) / length;
  const isNarrow = length < 34;
  const at = (point: Point, along: number, aside: number): Point => [
    point[0] + ux * along - uy * aside,
    point[1] + uy * along + ux * aside,
  ];
  const segment = (a: Point, b: Point) => line(a[0], a[1], b[0], b[1]);
  let d = segment(at(from, 0, -9), at(from, 0, 9)) + segment(at(to, 0, -9), at(to, 0, 9));
  if (isNarrow) d += segment(at(from, -24, 0), from) + segment(to, at(to, 24, 0));
  else d += segment(from, to);
  const heads = [arrow(from, isNarrow ? 1 : -1), arrow(to, isNarrow ? -1 : 1)];
  function arrow(tip: Point, direction: 1 | -1): string {
    const [a, b] = [at(tip, -7 * direction, 2.6), at(tip, -7 * direction, -2.6)];
    return `M${round(tip[0])} ${round(tip[1])}L${round(a[0])} ${round(a[1])}L${round(b[0])} ${round(b[1])}z`;
  }
  const shapes = twoTone(d, 1);
  shapes.push({ kind: 'path', d: heads.join(''), fill: dark, stroke: light, strokeWidth: 0.8 });
  const middle: Point = isNarrow ? at(to, 26, 0) : at(from, length / 2, 0);
  const aside = isNarrow ? { x: ux * 26, y: uy * 10 } : { x: -uy * 28, y: ux * 14 };
  shapes.push(...labelAt(middle[0] + aside.x, middle[1] + aside.y, text, width, height));
  return shapes;
}

/** Corner marks around a place that has no span to measure across; drawn just outside it. */
export function placeBrackets(
  left: number,
  top: number,
  right: number,
  bottom: number,
  width: number,
  height: number,
): Shape[] {
  const x1 = Math.max(4, Math.min(left - 5, width - 14));
  const y1 = Math.max(4, Math.min(top - 5, height - 14));
  const x2 = Math.min(width - 4, Math.max(right + 5, x1 + 10));
  const y2 = Math.min(height - 4, Math.max(bottom + 5, y1 + 10));
  const arm = Math.min(12, (x2 - x1) / 3, (y2 - y1) / 3);
  const corner = (x: number, y: number, dx: number, dy: number) =>
    `M${round(x + dx * arm)} ${round(y)}H${round(x)}V${round(y + dy * arm)}`;
  return twoTone(corner(x1, y1, 1, 1) + corner(x2, y1, -1, 1) + corner(x1, y2, 1, -1) + corner(x2, y2, -1, -1), 1.1);
}

/** A scale bar of a round length in the lower left corner. `scale` is drawing units a millimetre. */
export function scaleBar(width: number, height: number, scale: number): Shape[] {
  const lengths = [0.05, 0.1, 0.2, 0.5, 1, 2, 5, 10, 20, 50, 100];
  const lengthMm = lengths.filter((candidate) => candidate * scale <= width * 0.36).at(-1) ?? lengths[0];
  const x = 7;
  const y = height - 8;
  const end = x + lengthMm * scale;
  const d = `${line(x, y, end, y)}${line(x, y - 3, x, y + 3)}${line(end, y - 3, end, y + 3)}`;
  const text = `${lengthMm}\u00a0mm`;
  const plateWidth = end - x + 10 + text.length * 5.4 + 3;
  return [
    {
      kind: 'path',
      d: rectangle(2, height - 17, plateWidth, 15),
      fill: light,
      stroke: 'none',
      strokeWidth: 0,
      opacity: 0.84,
    },
    { kind: 'path', d, fill: 'none', stroke: dark, strokeWidth: 1.2 },
    { kind: 'text', x: end + 5, y: height - 5.5, text, size: 10, anchor: 'start', strong: false, tone: dark },
  ];
}

function labelAt(x: number, y: number, text: string, width: number, height: number): Shape[] {
  const half = text.length * 2.9 + 3;
  const cx = Math.min(Math.max(x, half + 2), width - half - 2);
  const cy = Math.min(Math.max(y, 11), height - 28);
  return [
    {
      kind: 'path',
      d: rectangle(cx - half, cy - 8, 2 * half, 15),
      fill: light,
      stroke: 'none',
      strokeWidth: 0,
      opacity: 0.88,
    },
    { kind: 'text', x: cx, y: cy + 3.6, text, size: 11, anchor: 'middle', strong: true, tone: dark },
  ];
}
