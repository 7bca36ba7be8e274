import { type Matrix, multiplied } from '../../geometry/matrix.ts';
import { type Style, styleValue } from './cascade.ts';
import { rectangleClip } from './clips.ts';
import { resolvePaint } from './paints.ts';
import type { Path } from './paths.ts';
import { countUse, lengthContext, type ResolveState, type Scope, styleInPlace } from './resolveState.ts';
import { urlId } from './svgColours.ts';
import { elementChildren, type SvgElement } from './svgElement.ts';
import { parseLength } from './svgLengths.ts';
import { fitViewBox, parseViewBox } from './transforms.ts';

const markable = new Set(['path', 'line', 'polyline', 'polygon']);

interface Vertex {
  readonly x: number;
  readonly y: number;
  readonly angleIn: number | null;
  readonly angleOut: number | null;
}

/** Draws the markers of a shape at its vertices (SVG 2, 13.7). */
export function drawMarkers(state: ResolveState, element: SvgElement, style: Style, scope: Scope, path: Path): void {
  if (!markable.has(element.name)) return;
  const start = markerNamed(state, styleValue(style, 'marker-start'));
  const mid = markerNamed(state, styleValue(style, 'marker-mid'));
  const end = markerNamed(state, styleValue(style, 'marker-end'));
  if (start === null && mid === null && end === null) return;
  const context = lengthContext(state, style, scope);
  const strokeWidth = parseLength(styleValue(style, 'stroke-width'), 'other', context) ?? 1;
  const fill = resolvePaint(state, scope, style, 'fill', 1, element);
  const stroke = resolvePaint(state, scope, style, 'stroke', 1, element);
  const inner: Scope = {
    ...scope,
    contextFill: fill?.kind === 'pattern' ? null : fill,
    contextStroke: stroke?.kind === 'pattern' ? null : stroke,
    idPrefix: `${scope.idPrefix}${element.attributes.get('id') ?? element.localName}/`,
  };
  const vertices = verticesOf(path);
  vertices.forEach((vertex, index) => {
    if (index === 0 && start !== null) drawMarker(state, start, vertex, strokeWidth, inner, 'start');
    if (index > 0 && index < vertices.length - 1 && mid !== null)
      drawMarker(state, mid, vertex, strokeWidth, inner, 'mid');
    if (index === vertices.length - 1 && end !== null) drawMarker(state, end, vertex, strokeWidth, inner, 'end');
  });
}

function markerNamed(state: ResolveState, value: string): SvgElement | null {
  const id = urlId(value);
  const element = id === null ? undefined : state.byId.get(id);
  return element?.name === 'marker' ? element : null;
}

function drawMarker(
  state: ResolveState,
  marker: SvgElement,
  vertex: Vertex,
  strokeWidth: number,
  scope: Scope,
  at: 'start' | 'mid' | 'end',
): void {
  if (scope.open.includes(marker)) return;
  countUse(state);
  const style = styleInPlace(state, marker);
  const context = lengthContext(state, style, scope);
  const get = (name: string) => marker.attributes.get(name);
  const width = parseLength(get('markerWidth') ?? '3', 'x', context) ?? 3;
  const height = parseLength(get('markerHeight') ?? '3', 'y', context) ?? 3;
  if (!(width > 0 && height > 0)) return;
  const unit = get('markerUnits') === 'userSpaceOnUse' ? 1 : strokeWidth;
  const angle = markerAngle(get('orient') ?? '0', vertex, at);
  const cos = Math.cos(angle) * unit;
  const sin = Math.sin(angle) * unit;
  const place = multiplied(scope.matrix, [cos, sin, -sin, cos, vertex.x, vertex.y]);
  const box = parseViewBox(get('viewBox'));
  const fit: Matrix =
    box === null
      ? [1, 0, 0, 1, 0, 0]
      : fitViewBox(box, { x: 0, y: 0, width, height }, get('preserveAspectRatio')).matrix;
  const words: Readonly<Record<string, number>> = { left: 0, top: 0, center: 0.5, right: 1, bottom: 1 };
  const reference = (name: string, axis: 'x' | 'y', size: number) => {
    const text = get(name) ?? '0';
    return words[text] !== undefined ? words[text] * size : (parseLength(text, axis, context) ?? 0);
  };
  const refX = reference('refX', 'x', box?.width ?? width);
  const refY = reference('refY', 'y', box?.height ?? height);
  const [originX, originY] = [fit[0] * refX + fit[4], fit[3] * refY + fit[5]];
  const placed = multiplied(place, [1, 0, 0, 1, -originX, -originY]);
  const overflow = styleValue(style, 'overflow');
  const clips =
    overflow === 'visible' || overflow === 'auto' ? [] : [rectangleClip(state, placed, 0, 0, width, height)];
  const inner: Scope = {
    ...scope,
    matrix: multiplied(placed, fit),
    viewportWidth: box?.width ?? width,
    viewportHeight: box?.height ?? height,
    clips: [...scope.clips, ...clips],
    open: [...scope.open, marker],
  };
  for (const child of elementChildren(marker)) state.walk(child, style, inner);
}

function markerAngle(orient: string, { angleIn, angleOut }: Vertex, at: 'start' | 'mid' | 'end'): number {
  if (!orient.startsWith('auto')) {
    const value = Number.parseFloat(orient) || 0;
    return /rad$/.test(orient) && !/grad$/.test(orient) ? value : (value * Math.PI) / 180;
  }
  const turned = orient === 'auto-start-reverse' && at === 'start' ? Math.PI : 0;
  if (angleIn === null || angleOut === null) return (angleIn ?? angleOut ?? 0) + turned;
  let turn = angleOut - angleIn;
  while (turn > Math.PI) turn -= 2 * Math.PI;
  while (turn < -Math.PI) turn += 2 * Math.PI;
  return angleIn + turn / 2 + turned;
}

function verticesOf(path: Path): Vertex[] {
  const points: { x: number; y: number; in: number | null; out: number | null }[] = [];
  let startIndex = 0;
  for (const [command, ...n] of path) {
    const last = points.at(-1);
    if (command === 'M') {
      startIndex = points.length;
      points.push({ x: n[0], y: n[1], in: null, out: null });
      continue;
    }
    if (last === undefined) continue;
    const target = command === 'Z' ? [points[startIndex].x, points[startIndex].y] : n;
    const chain = [last.x, last.y, ...target];
    last.out = direction(chain);
    const end = chain.slice(-2);
    const reversed: number[] = [];
    for (let index = chain.length - 2; index >= 0; index -= 2) reversed.push(chain[index], chain[index + 1]);
    const back = direction(reversed);
    const arriving = back === null ? null : back + Math.PI;
    if (command === 'Z') {
      points[startIndex].in = arriving;
      points.push({ x: end[0], y: end[1], in: arriving, out: points[startIndex].out });
    } else points.push({ x: end[0], y: end[1], in: arriving, out: null });
  }
  return points.map((point) => ({ x: point.x, y: point.y, angleIn: point.in, angleOut: point.out }));
}

/** Angle in which a chain of points leaves its first. */
function direction(chain: readonly number[]): number | null {
  for (let index = 2; index + 1 < chain.length; index += 2) {
    const dx = chain[index] - chain[0];
    const dy = chain[index + 1] - chain[1];
    if (dx !== 0 || dy !== 0) return Math.atan2(dy, dx);
  }
  return null;
}
