import { identity, type Matrix, multiplied } from '../../geometry/matrix.ts';
import { type LengthContext, parseLength, parseNumberList } from './svgLengths.ts';

const bare: LengthContext = { viewportWidth: 0, viewportHeight: 0, fontSize: 16, rootFontSize: 16 };

/** A transform list of the attribute or of CSS (SVG 2, 8.5; CSS Transforms 1), or null when it cannot be read. */
export function parseTransform(text: string | undefined, context: LengthContext = bare): Matrix | null {
  if (text === undefined || text.trim() === '' || text.trim() === 'none') return identity;
  let matrix: Matrix = identity;
  let rest = text.trim();
  while (rest !== '') {
    const match = /^([a-zA-Z0-9]+)\s*\(([^)]*)\)[\s,]*/.exec(rest);
    if (match === null) return null;
    const step = parseStep(match[1].toLowerCase(), match[2].trim().split(/[\s,]+/), context);
    if (step === null) return null;
    matrix = multiplied(matrix, step);
    rest = rest.slice(match[0].length);
  }
  return matrix;
}

function parseStep(name: string, words: readonly string[], context: LengthContext): Matrix | null {
  const joined = words.join(' ');
  const values = parseNumberList(joined);
  const angle = (index: number) => toRadians(words[index]);
  switch (name) {
    case 'matrix':
      return values.length === 6 ? (values as unknown as Matrix) : null;
    case 'translate':
      return translation(parseLength(words[0], 'x', context), parseLength(words[1] ?? '0', 'y', context));
    case 'translatex':
      return translation(parseLength(words[0], 'x', context), 0);
    case 'translatey':
      return translation(0, parseLength(words[0], 'y', context));
    case 'scale':
      return values.length > 0 ? [values[0], 0, 0, values[1] ?? values[0], 0, 0] : null;
    case 'scalex':
      return [values[0], 0, 0, 1, 0, 0];
    case 'scaley':
      return [1, 0, 0, values[0], 0, 0];
    case 'rotate': {
      if (values.length === 0) return null;
      const turn = rotation(angle(0));
      if (values.length < 3) return turn;
      return around(turn, values[1], values[2]);
    }
    case 'skewx':
      return [1, 0, Math.tan(angle(0)), 1, 0, 0];
    case 'skewy':
      return [1, Math.tan(angle(0)), 0, 1, 0, 0];
    case 'skew':
      return [1, words[1] === undefined ? 0 : Math.tan(angle(1)), Math.tan(angle(0)), 1, 0, 0];
    default:
      return null;
  }
}

function translation(x: number | null, y: number | null): Matrix | null {
  return x === null || y === null ? null : [1, 0, 0, 1, x, y];
}

function rotation(radians: number): Matrix {
  const cos = Math.cos(radians);
  const sin = Math.sin(radians);
  return [cos, sin, -sin, cos, 0, 0];
}

/** A transform about a point instead of the origin. */
export function around(matrix: Matrix, x: number, y: number): Matrix {
  return multiplied(multiplied([1, 0, 0, 1, x, y], matrix), [1, 0, 0, 1, -x, -y]);
}

function toRadians(word: string): number {
  const value = Number.parseFloat(word);
  if (/rad$/i.test(word) && !/grad$/i.test(word)) return value;
  if (/grad$/i.test(word)) return (value * Math.PI) / 200;
  if (/turn$/i.test(word)) return value * 2 * Math.PI;
  return (value * Math.PI) / 180;
}

export interface ViewBox {
  readonly x: number;
  readonly y: number;
  readonly width: number;
  readonly height: number;
}

/** A viewBox, or null when absent or of no size. */
export function parseViewBox(text: string | undefined): ViewBox | null {
  const [x, y, width, height] = parseNumberList(text ?? '');
  return height !== undefined && width > 0 && height > 0 ? { x, y, width, height } : null;
}

/** The transform from a viewBox into a viewport, by preserveAspectRatio (SVG 2, 8.7). */
export function fitViewBox(
  box: ViewBox,
  viewport: ViewBox,
  preserveAspectRatio: string | undefined,
): { readonly matrix: Matrix; readonly slice: boolean } {
  const [align, mode] = (preserveAspectRatio ?? '')
    .trim()
    .replace(/^defer\s+/, '')
    .split(/\s+/);
  let scaleX = viewport.width / box.width;
  let scaleY = viewport.height / box.height;
  const slice = mode === 'slice' && align !== 'none';
  if (align !== 'none') {
    const scale = slice ? Math.max(scaleX, scaleY) : Math.min(scaleX, scaleY);
    scaleX = scale;
    scaleY = scale;
  }
  const shareX = /xMin/.test(align) ? 0 : /xMax/.test(align) ? 1 : 0.5;
  const shareY = /YMin/.test(align) ? 0 : /YMax/.test(align) ? 1 : 0.5;
  const spareX = align === 'none' ? 0 : (viewport.width - box.width * scaleX) * shareX;
  const spareY = align === 'none' ? 0 : (viewport.height - box.height * scaleY) * shareY;
  const matrix: Matrix = [
    scaleX,
    0,
    0,
    scaleY,
    viewport.x + spareX - box.x * scaleX,
    viewport.y + spareY - box.y * scaleY,
  ];
  return { matrix, slice };
}
