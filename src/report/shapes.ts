/**
 * What strips, signs, maps and overlays are made of, so that a page and a PDF draw the same lines. Coordinates are
 * drawing units, x to the right and y down; `d` is SVG path data.
 */
export type Tone = 'text' | 'quiet' | 'faint' | 'table' | 'none' | `#${string}`;

export type Shape =
  | {
      readonly kind: 'path';
      readonly d: string;
      readonly fill: Tone;
      readonly stroke: Tone;
      readonly strokeWidth: number;
      readonly dash?: readonly number[];
      readonly opacity?: number;
    }
  | {
      readonly kind: 'text';
      readonly x: number;
      readonly y: number;
      readonly text: string;
      readonly size: number;
      readonly anchor: 'start' | 'middle' | 'end';
      readonly strong: boolean;
      readonly tone: Tone;
    };

export interface Drawing {
  readonly width: number;
  readonly height: number;
  readonly shapes: readonly Shape[];
  /** What it shows, for those who do not see it. */
  readonly label: string;
}

/** Colours of the tones on the light table, used where a page sets none. */
export const toneHex: Readonly<Record<'text' | 'quiet' | 'faint' | 'table', string>> = {
  text: '#172331',
  quiet: '#5b6570',
  faint: '#c9ccc9',
  table: '#fbfbf8',
};

/** A drawing as inline SVG. Tones are CSS variables, so that it follows the theme of the page around it. */
export function drawingToSvg(drawing: Drawing, options: { readonly className?: string } = {}): string {
  const attribute = options.className ? ` class="${options.className}"` : '';
  const label = escapeMarkup(drawing.label);
  return (
    `<svg${attribute} viewBox="0 0 ${round(drawing.width)} ${round(drawing.height)}" role="img" aria-label="${label}">` +
    `${shapesToSvg(drawing.shapes)}</svg>`
  );
}

/** Shapes as SVG elements. */
export function shapesToSvg(shapes: readonly Shape[]): string {
  return shapes.map(shapeToSvg).join('');
}

function shapeToSvg(shape: Shape): string {
  if (shape.kind === 'text') {
    const weight = shape.strong ? ' font-weight="600"' : '';
    const anchor = shape.anchor === 'start' ? '' : ` text-anchor="${shape.anchor}"`;
    const place = `x="${round(shape.x)}" y="${round(shape.y)}" font-size="${round(shape.size)}"`;
    return `<text ${place}${weight}${anchor} style="fill:${cssOf(shape.tone)}">${escapeMarkup(shape.text)}</text>`;
  }
  const style = [`fill:${cssOf(shape.fill)}`];
  if (shape.stroke !== 'none') style.push(`stroke:${cssOf(shape.stroke)}`, `stroke-width:${round(shape.strokeWidth)}`);
  if (shape.dash) style.push(`stroke-dasharray:${shape.dash.map(round).join(' ')}`);
  if (shape.opacity !== undefined) style.push(`opacity:${shape.opacity}`);
  return `<path d="${shape.d}" style="${style.join(';')}"/>`;
}

function cssOf(tone: Tone): string {
  if (tone === 'none' || tone.startsWith('#')) return tone;
  return `var(--${tone},${toneHex[tone as keyof typeof toneHex]})`;
}

/** Text as it may stand between tags and within double quotes. */
export function escapeMarkup(text: string): string {
  return text
    .replaceAll('&', '&amp;')
    .replaceAll('<', '&lt;')
    .replaceAll('>', '&gt;')
    .replaceAll('"', '&quot;')
    .replaceAll("'", '&#39;');
}

/** A number for path data: at most three decimals. */
export function round(value: number): number {
  return Math.round(value * 1000) / 1000 + 0;
}

/** Path data of a straight line. */
export function line(x1: number, y1: number, x2: number, y2: number): string {
  return `M${round(x1)} ${round(y1)}L${round(x2)} ${round(y2)}`;
}

/** Path data of a rectangle. */
export function rectangle(x: number, y: number, width: number, height: number): string {
  return `M${round(x)} ${round(y)}h${round(width)}v${round(height)}h${round(-width)}z`;
}

/** Path data of a circle. */
export function circle(x: number, y: number, radius: number): string {
  const r = round(radius);
  return `M${round(x - radius)} ${round(y)}a${r} ${r} 0 1 0 ${round(2 * radius)} 0a${r} ${r} 0 1 0 ${round(-2 * radius)} 0z`;
}

/** The mark over art: a dark hairline on a light one, seen on any ink. */
export function twoTone(d: string, strokeWidth: number): Shape[] {
  return [
    { kind: 'path', d, fill: 'none', stroke: '#ffffff', strokeWidth: strokeWidth * 3 },
    { kind: 'path', d, fill: 'none', stroke: '#101a24', strokeWidth },
  ];
}
