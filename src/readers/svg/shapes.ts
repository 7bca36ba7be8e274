import type { Style } from './cascade.ts';
import type { SvgElement } from './svgElement.ts';
import { type LengthAxis, type LengthContext, parseLength, parseNumberList } from './svgLengths.ts';

/** Path data of a basic shape (SVG 2, 10) or a path element; null for a shape of no size. */
export function shapeData(element: SvgElement, style: Style, context: LengthContext): string | null {
  const length = (name: string, axis: LengthAxis, otherwise = 0) =>
    parseLength(style[name] ?? element.attributes.get(name), axis, context) ?? otherwise;
  switch (element.name) {
    case 'path':
      return style.d?.startsWith('path(')
        ? style.d.replace(/^path\(\s*["']|["']\s*\)$/g, '')
        : (element.attributes.get('d') ?? null);
    case 'rect': {
      const width = length('width', 'x');
      const height = length('height', 'y');
      if (!(width > 0 && height > 0)) return null;
      let rx = length('rx', 'x', Number.NaN);
      let ry = length('ry', 'y', Number.NaN);
      if (Number.isNaN(rx) || rx < 0) rx = Number.isNaN(ry) || ry < 0 ? 0 : ry;
      if (Number.isNaN(ry) || ry < 0) ry = rx;
      return rectangleData(
        length('x', 'x'),
        length('y', 'y'),
        width,
        height,
        Math.min(rx, width / 2),
        Math.min(ry, height / 2),
      );
    }
    case 'circle': {
      const radius = length('r', 'other');
      return radius > 0 ? ellipseData(length('cx', 'x'), length('cy', 'y'), radius, radius) : null;
    }
    case 'ellipse': {
      let rx = length('rx', 'x', Number.NaN);
      let ry = length('ry', 'y', Number.NaN);
      if (Number.isNaN(rx)) rx = ry;
      if (Number.isNaN(ry)) ry = rx;
      return rx > 0 && ry > 0 ? ellipseData(length('cx', 'x'), length('cy', 'y'), rx, ry) : null;
    }
    case 'line':
      return `M${length('x1', 'x')} ${length('y1', 'y')}L${length('x2', 'x')} ${length('y2', 'y')}`;
    case 'polyline':
    case 'polygon': {
      const numbers = parseNumberList(element.attributes.get('points') ?? '');
      if (numbers.length < 4) return null;
      if (numbers.length % 2 === 1) numbers.pop();
      return `M${numbers.join(' ')}${element.name === 'polygon' ? 'Z' : ''}`;
    }
    default:
      return null;
  }
}

export function rectangleData(x: number, y: number, width: number, height: number, rx = 0, ry = 0): string {
  if (rx <= 0 || ry <= 0) return `M${x} ${y}H${x + width}V${y + height}H${x}Z`;
  const arc = (toX: number, toY: number) => `A${rx} ${ry} 0 0 1 ${toX} ${toY}`;
  return (
    `M${x + rx} ${y}H${x + width - rx}${arc(x + width, y + ry)}V${y + height - ry}${arc(x + width - rx, y + height)}` +
    `H${x + rx}${arc(x, y + height - ry)}V${y + ry}${arc(x + rx, y)}Z`
  );
}

function ellipseData(cx: number, cy: number, rx: number, ry: number): string {
  const arc = (toX: number, toY: number) => `A${rx} ${ry} 0 0 1 ${toX} ${toY}`;
  return `M${cx + rx} ${cy}${arc(cx, cy + ry)}${arc(cx - rx, cy)}${arc(cx, cy - ry)}${arc(cx + rx, cy)}Z`;
}
