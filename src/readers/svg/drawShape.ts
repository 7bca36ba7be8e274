import { grownBox, intersectionOfBoxes } from '../../geometry/box.ts';
import { determinant, identity, type Matrix, multiplied, stretch } from '../../geometry/matrix.ts';
import { mmPerCssPixel } from '../../units/lengths.ts';
import { type Style, styleValue } from './cascade.ts';
import { white } from './clips.ts';
import type { Leaf, Paint, Stroke } from './displayList.ts';
import { drawMarkers } from './markers.ts';
import { isInvisible, isSeeThrough, resolvePaint } from './paints.ts';
import { boxOfPath, enclosedArea, type Path, parsePath, transformedPath } from './paths.ts';
import { drawPattern } from './patterns.ts';
import { addLeaf, addNote, lengthContext, objectIdFor, quoted, type ResolveState, type Scope } from './resolveState.ts';
import { shapeData } from './shapes.ts';
import type { SvgElement } from './svgElement.ts';
import { parseLength, parseRatio } from './svgLengths.ts';

/** Paints a shape: fill, stroke and markers in the order `paint-order` gives (SVG 2, 13.8). */
export function drawShape(state: ResolveState, element: SvgElement, style: Style, scope: Scope): void {
  const data = shapeData(element, style, lengthContext(state, style, scope));
  if (data === null) return;
  const { path, broken } = parsePath(data);
  if (broken) {
    addNote(state, {
      code: 'path-broken',
      message: `The path data of ${quoted(element.attributes.get('id') ?? element.localName)} breaks off; it is drawn up to there.`,
      affects: 'plate',
      objectId: element.attributes.get('id'),
      leaves: null,
    });
  }
  if (path.length < 2 || determinant(scope.matrix) === 0) return;
  const isShown = /^visible$/i.test(styleValue(style, 'visibility'));
  if (scope.mode === 'clip') {
    if (isShown) addLeaf(state, scope, shapeLeaf(scope, path, whitePaint, styleValue(style, 'clip-rule')));
    return;
  }
  const own: Scope = isShown ? scope : { ...scope, off: scope.off ?? 'layerOff' };
  for (const layer of paintOrder(styleValue(style, 'paint-order'))) {
    if (layer === 'fill') drawFill(state, element, style, own, path);
    else if (layer === 'stroke') drawStroke(state, element, style, own, path);
    else drawMarkers(state, element, style, own, path);
  }
}

const whitePaint: Paint = { kind: 'flat', swatch: { colour: white, alpha: 1, spot: null } };

function paintOrder(value: string): string[] {
  const named = value.split(/\s+/).filter((word) => /^(fill|stroke|markers)$/.test(word));
  return [...named, ...['fill', 'stroke', 'markers'].filter((word) => !named.includes(word))];
}

function drawFill(state: ResolveState, element: SvgElement, style: Style, scope: Scope, path: Path): void {
  const paint = resolvePaint(state, scope, style, 'fill', ratioOf(style, 'fill-opacity'), element);
  if (paint === null) return;
  // A line that encloses nothing has no fill, whatever colour it would have.
  if (path.length < 3 || enclosedArea(path, scope.matrix) < 1e-9) return;
  const leaf = shapeLeaf(scope, path, whitePaint, styleValue(style, 'fill-rule'));
  if (paint.kind === 'pattern') drawPattern(state, element, scope, paint, leaf, path);
  else addLeaf(state, scope, painted(leaf, paint, objectIdFor(state, scope, element, '')));
}

function drawStroke(state: ResolveState, element: SvgElement, style: Style, scope: Scope, path: Path): void {
  const paint = resolvePaint(state, scope, style, 'stroke', ratioOf(style, 'stroke-opacity'), element);
  if (paint === null) return;
  const shape = strokeLeaf(state, style, scope, path);
  if (shape === null) return;
  if (paint.kind === 'pattern') drawPattern(state, element, scope, paint, shape, path);
  else
    addLeaf(
      state,
      scope,
      painted(shape, gradientInPlace(paint, scope.matrix, shape.matrix), objectIdFor(state, scope, element, ':stroke')),
    );
}

/** A stroke as a shape, still white; null for one of no width. */
function strokeLeaf(state: ResolveState, style: Style, scope: Scope, path: Path): Omit<Leaf, 'index'> | null {
  const stroke = strokeOf(state, style, scope);
  if (!(stroke.width > 0)) return null;
  const fixed = styleValue(style, 'vector-effect').includes('non-scaling-stroke');
  const matrix: Matrix = fixed ? identity : scope.matrix;
  const factor = fixed ? mmPerCssPixel : 1;
  const drawn: Stroke = {
    ...stroke,
    width: stroke.width * factor,
    dashes: stroke.dashes.map((dash) => dash * factor),
    dashOffset: stroke.dashOffset * factor,
  };
  const { min, max } = stretch(matrix);
  const strokeWidthMm = { min: drawn.width * min, max: drawn.width * max };
  const box = boxOfPath(path, scope.matrix);
  const reach = drawn.join.startsWith('miter') ? Math.max(Math.SQRT2, drawn.miterLimit) : Math.SQRT2;
  return {
    ...shapeLeaf(scope, fixed ? transformedPath(path, scope.matrix) : path, whitePaint, 'nonzero', matrix),
    kind: 'stroke',
    stroke: drawn,
    strokeWidthMm,
    boxMm: box === null ? null : grownBox(box, strokeWidthMm.max / 2),
    cullBoxMm: box === null ? null : grownBox(box, (strokeWidthMm.max / 2) * reach),
  };
}

export function strokeOf(state: ResolveState, style: Style, scope: Scope): Stroke {
  const context = lengthContext(state, style, scope);
  const length = (text: string) => parseLength(text, 'other', context) ?? 0;
  const dashes = styleValue(style, 'stroke-dasharray');
  const list = dashes === 'none' ? [] : dashes.split(/[\s,]+/).map(length);
  const usable = list.every((dash) => dash >= 0) && list.some((dash) => dash > 0);
  return {
    width: length(styleValue(style, 'stroke-width')),
    cap: styleValue(style, 'stroke-linecap').toLowerCase(),
    join: styleValue(style, 'stroke-linejoin').toLowerCase(),
    miterLimit: Number(styleValue(style, 'stroke-miterlimit')),
    dashes: usable ? list : [],
    dashOffset: length(styleValue(style, 'stroke-dashoffset')),
  };
}

/** A gradient of a stroke drawn in film mm has its own space moved there with it. */
function gradientInPlace(paint: Paint, from: Matrix, to: Matrix): Paint {
  if (paint.kind === 'flat' || from === to || paint.ofBox) return paint;
  return { ...paint, matrix: multiplied(from, paint.matrix) };
}

export function ratioOf(style: Style, property: string): number {
  return Math.min(1, Math.max(0, parseRatio(styleValue(style, property)) ?? 1));
}

export function shapeLeaf(
  scope: Scope,
  path: Path,
  paint: Paint,
  fillRule: string,
  matrix: Matrix = scope.matrix,
): Omit<Leaf, 'index'> {
  const boxMm = boxOfPath(path, matrix);
  return {
    type: 'leaf',
    objectId: '',
    kind: 'fill',
    path,
    matrix,
    paint,
    fillRule: fillRule.toLowerCase(),
    stroke: null,
    strokeWidthMm: null,
    text: null,
    font: null,
    image: null,
    clips: scope.clips,
    boxMm,
    cullBoxMm: boxMm,
    inkLabel: scope.inkLabel,
    layers: scope.layers,
    seeThrough: scope.seeThrough,
    opacityRatio: scope.opacityRatio,
    blendMode: scope.blendMode,
    off: scope.off,
  };
}

/** A leaf with its paint, and hidden when that lets everything through. */
export function painted(leaf: Omit<Leaf, 'index'>, paint: Paint, objectId: string): Omit<Leaf, 'index'> {
  const alpha = paint.kind === 'flat' ? paint.swatch.alpha : paint.alpha;
  return {
    ...leaf,
    paint,
    objectId,
    seeThrough: leaf.seeThrough || isSeeThrough(paint),
    opacityRatio: leaf.opacityRatio * alpha,
    off: leaf.off ?? (isInvisible(paint) ? 'transparent' : null),
  };
}

export function touchesPage(state: ResolveState, leaf: { readonly cullBoxMm: Leaf['cullBoxMm'] }): boolean {
  return leaf.cullBoxMm === null || intersectionOfBoxes(leaf.cullBoxMm, state.pageBox) !== null;
}
