import type { BoxMm } from '../../geometry/box.ts';
import { identity, inverted, type Matrix, multiplied } from '../../geometry/matrix.ts';
import { type Style, styleValue } from './cascade.ts';
import { clipsFor, maskFor, rectangleClip } from './clips.ts';
import type { Group, Item } from './displayList.ts';
import { drawShape } from './drawShape.ts';
import { drawImage } from './images.ts';
import { unionOfItems } from './itemBoxes.ts';
import { inkLabelOf, layerOf } from './labels.ts';
import { addNote, countUse, lengthContext, quoted, type ResolveState, type Scope } from './resolveState.ts';
import { localId } from './svgColours.ts';
import { elementChildren, hrefOf, type SvgElement } from './svgElement.ts';
import { parseLength, parseRatio } from './svgLengths.ts';
import { drawText } from './texts.ts';
import { around, fitViewBox, parseTransform, parseViewBox } from './transforms.ts';

const shapeNames = new Set(['path', 'rect', 'circle', 'ellipse', 'line', 'polyline', 'polygon']);
const silentNames = new Set(
  (
    'defs,symbol,clipPath,mask,marker,pattern,linearGradient,radialGradient,filter,style,title,desc,metadata,view,' +
    'font,font-face,cursor,color-profile,solidcolor,solidColor,hatch,meshgradient'
  ).split(','),
);
const animationNames = new Set(['animate', 'animateTransform', 'animateMotion', 'animateColor', 'set', 'discard']);

/** Paints an element and its content into the scope's list, in painting order (SVG 2, 3). */
export function walkElement(state: ResolveState, element: SvgElement, parentStyle: Style, outer: Scope): void {
  const { name } = element;
  if (name === '' || silentNames.has(name)) return;
  if (!conditionsHold(element)) return;
  if (animationNames.has(name) || name === 'script' || name === 'foreignObject') {
    noteUndrawn(state, element);
    return;
  }
  const style = state.cascade.styleOf(element, parentStyle);
  const isOff = styleValue(style, 'display') === 'none';
  if (isOff && outer.mode !== 'art') return;
  const context = lengthContext(state, style, outer);
  const transform = ownTransform(state, element, style, context);
  const layer = layerOf(element);
  const matrix = multiplied(outer.matrix, transform);
  const firstLeaf = state.leaves.length;
  const opacity = Math.min(1, Math.max(0, parseRatio(styleValue(style, 'opacity')) ?? 1));
  const blend = outer.mode === 'clip' ? 'normal' : styleValue(style, 'mix-blend-mode');
  const base: Scope = {
    ...outer,
    matrix,
    layers: layer === null ? outer.layers : [...outer.layers, layer],
    inkLabel: inkLabelOf(element) ?? outer.inkLabel,
    off: outer.off ?? (isOff ? 'layerOff' : opacity === 0 && outer.mode !== 'clip' ? 'transparent' : null),
  };
  const boxOf = () => localBox(state, element, parentStyle, base);
  const clips = clipsFor(state, base, element, styleValue(style, 'clip-path'), boxOf);
  const mask = outer.mode === 'clip' ? null : maskFor(state, base, element, styleValue(style, 'mask'), boxOf);
  const ownOpacity = outer.mode === 'clip' || opacity === 0 ? 1 : opacity;
  const isGroup = ownOpacity < 1 || blend !== 'normal' || mask !== null;
  const outerClips = [...outer.clips, ...clips];
  const inner: Scope = isGroup
    ? {
        ...base,
        clips: [],
        into: [],
        seeThrough: outer.seeThrough || ownOpacity < 1 || blend !== 'normal' || mask?.hasTone === true,
        opacityRatio: outer.opacityRatio * ownOpacity,
        blendMode: blend === 'normal' ? outer.blendMode : blend,
      }
    : { ...base, clips: outerClips };
  paintContent(state, element, style, inner);
  if (isGroup && inner.into.length > 0) outer.into.push(wrapped(inner.into, ownOpacity, blend, mask, outerClips));
  if (outer.mode === 'art') noteEffects(state, element, style, blend, firstLeaf);
}

function wrapped(
  children: readonly Item[],
  opacity: number,
  blend: string,
  mask: Group['mask'],
  clips: Group['clips'],
): Item {
  const drawnBlend = blend === 'multiply' || blend === 'darken' ? blend : 'normal';
  return { type: 'group', children, opacity, blend: drawnBlend, mask, clips, cullBoxMm: unionOfItems(children) };
}

function paintContent(state: ResolveState, element: SvgElement, style: Style, scope: Scope): void {
  const { name } = element;
  if (shapeNames.has(name)) drawShape(state, element, style, scope);
  else if (name === 'text') drawText(state, element, style, scope);
  else if (name === 'image') drawImage(state, element, style, scope);
  else if (name === 'use') drawUse(state, element, style, scope);
  else if (name === 'svg') drawNestedViewport(state, element, style, scope);
  else if (name === 'switch') drawSwitch(state, element, style, scope);
  else if (name === 'g' || name === 'a') walkChildren(state, element, style, scope);
  else {
    addNote(state, {
      code: 'unknown-element',
      message: `The element ${quoted(name)} is not drawn.`,
      affects: 'plate',
      objectId: element.attributes.get('id'),
      leaves: null,
    });
  }
}

function walkChildren(state: ResolveState, element: SvgElement, style: Style, scope: Scope): void {
  for (const child of elementChildren(element)) state.walk(child, style, scope);
}

/** The first alternative whose conditions hold (SVG 2, 5.9), in English where languages differ. */
function drawSwitch(state: ResolveState, element: SvgElement, style: Style, scope: Scope): void {
  const children = elementChildren(element).filter((child) => child.name !== '');
  const chosen = children.find(conditionsHold);
  if (children.some((child) => child.attributes.has('systemLanguage'))) {
    addNote(state, {
      code: 'language-chosen',
      message: `A switch offers several languages; ${chosen === undefined ? 'none of them is drawn' : 'the English or first fitting one is drawn'}.`,
      affects: 'nothing',
      objectId: element.attributes.get('id'),
      leaves: null,
    });
  }
  if (chosen !== undefined) state.walk(chosen, style, scope);
}

function conditionsHold(element: SvgElement): boolean {
  const languages = element.attributes.get('systemLanguage');
  if (languages !== undefined && !languages.split(',').some((one) => /^en\b/i.test(one.trim()))) return false;
  return (element.attributes.get('requiredExtensions') ?? null) === null;
}

function drawUse(state: ResolveState, element: SvgElement, style: Style, scope: Scope): void {
  const href = hrefOf(element);
  const id = localId(href);
  const target = id === null ? undefined : state.byId.get(id);
  const name = element.attributes.get('id') ?? 'use';
  if (target === undefined) {
    if (href === undefined || href === '') return;
    addNote(state, {
      code: id === null ? 'external-reference' : 'reference-not-found',
      message: `${quoted(name)} repeats ${quoted(href)}, which is not in the file; it is not drawn.`,
      affects: 'plate',
      objectId: element.attributes.get('id'),
      leaves: null,
    });
    return;
  }
  if (scope.open.includes(target) || isAncestor(target, element)) {
    addNote(state, {
      code: 'reference-loop',
      message: `${quoted(name)} repeats itself without end; it is left out.`,
      affects: 'plate',
      objectId: element.attributes.get('id'),
      leaves: null,
    });
    return;
  }
  countUse(state);
  const context = lengthContext(state, style, scope);
  const length = (key: string, axis: 'x' | 'y') =>
    parseLength(style[key] ?? element.attributes.get(key), axis, context);
  const inner: Scope = {
    ...scope,
    matrix: multiplied(scope.matrix, [1, 0, 0, 1, length('x', 'x') ?? 0, length('y', 'y') ?? 0]),
    idPrefix: `${scope.idPrefix}${name}/`,
    open: [...scope.open, target],
    instanceSize: { width: length('width', 'x'), height: length('height', 'y') },
  };
  if (target.name === 'symbol') drawSymbol(state, target, style, inner);
  else state.walk(target, style, inner);
}

function isAncestor(candidate: SvgElement, element: SvgElement): boolean {
  for (let one: SvgElement | null = element; one !== null; one = one.parent) if (one === candidate) return true;
  return false;
}

function drawSymbol(state: ResolveState, element: SvgElement, parentStyle: Style, scope: Scope): void {
  const style = state.cascade.styleOf(element, parentStyle);
  const context = lengthContext(state, style, scope);
  const moved = multiplied(scope.matrix, ownTransform(state, element, style, context));
  drawNestedViewport(state, element, style, { ...scope, matrix: moved });
}

/** A nested viewport: place, size, viewBox and its clip (SVG 2, 8.2; overflow is hidden by default). */
function drawNestedViewport(state: ResolveState, element: SvgElement, style: Style, scope: Scope): void {
  const context = lengthContext(state, style, scope);
  const length = (key: string, axis: 'x' | 'y', otherwise: string) =>
    parseLength(style[key] ?? element.attributes.get(key) ?? otherwise, axis, context) ??
    parseLength(otherwise, axis, context)!;
  const x = element.name === 'symbol' ? 0 : length('x', 'x', '0');
  const y = element.name === 'symbol' ? 0 : length('y', 'y', '0');
  const width = scope.instanceSize?.width ?? length('width', 'x', '100%');
  const height = scope.instanceSize?.height ?? length('height', 'y', '100%');
  if (!(width > 0 && height > 0)) return;
  const box = parseViewBox(element.attributes.get('viewBox'));
  const viewport = { x, y, width, height };
  const fit: Matrix =
    box === null ? [1, 0, 0, 1, x, y] : fitViewBox(box, viewport, element.attributes.get('preserveAspectRatio')).matrix;
  const overflow = styleValue(style, 'overflow');
  const clips =
    overflow === 'visible' || overflow === 'auto' ? [] : [rectangleClip(state, scope.matrix, x, y, width, height)];
  walkChildren(state, element, style, {
    ...scope,
    matrix: multiplied(scope.matrix, fit),
    viewportWidth: box?.width ?? width,
    viewportHeight: box?.height ?? height,
    clips: [...scope.clips, ...clips],
    instanceSize: null,
  });
}

function ownTransform(
  state: ResolveState,
  element: SvgElement,
  style: Style,
  context: ReturnType<typeof lengthContext>,
): Matrix {
  const matrix = parseTransform(style.transform, context);
  if (matrix === null) {
    addNote(state, {
      code: 'transform-not-understood',
      message: `The transform ${quoted(style.transform)} cannot be read; the shape is drawn without it.`,
      affects: 'plate',
      objectId: element.attributes.get('id'),
      leaves: null,
    });
    return identity;
  }
  const origin = style['transform-origin'];
  if (origin === undefined || matrix === identity) return matrix;
  const [originX, originY] = origin.split(/\s+/);
  return around(matrix, parseLength(originX, 'x', context) ?? 0, parseLength(originY ?? '0', 'y', context) ?? 0);
}

/** The box of an element's geometry in its own user units, for what is measured in shares of it. */
function localBox(state: ResolveState, element: SvgElement, parentStyle: Style, scope: Scope): BoxMm | null {
  const into: Item[] = [];
  const style = state.cascade.styleOf(element, parentStyle);
  const back = inverted(scope.matrix);
  if (back === null) return null;
  const open = [...scope.open, element];
  const probe: Scope = { ...scope, matrix: identity, clips: [], into, mode: 'clip', open, off: null };
  if (scope.open.filter((one) => one === element).length > 1) return null;
  paintContent(state, element, style, probe);
  return unionOfItems(into);
}

function noteEffects(state: ResolveState, element: SvgElement, style: Style, blend: string, firstLeaf: number): void {
  const leaves: [number, number] = [firstLeaf, state.leaves.length];
  if (leaves[0] === leaves[1]) return;
  const objectId = element.attributes.get('id');
  const name = quoted(objectId ?? element.localName);
  if (styleValue(style, 'filter') !== 'none') {
    addNote(state, {
      code: 'filter-not-drawn',
      message: `${name} has a filter effect, which is not drawn.`,
      affects: 'plate',
      reachMm: 5,
      objectId,
      leaves,
    });
  }
  if (!['normal', 'multiply', 'darken'].includes(blend)) {
    addNote(state, {
      code: 'blend-not-drawn',
      message: `${name} is blended with ${quoted(blend)}; it is drawn as if it covered what lies below.`,
      affects: 'plate',
      objectId,
      leaves,
    });
  }
}

function noteUndrawn(state: ResolveState, element: SvgElement): void {
  const what =
    element.name === 'script' ? 'script' : element.name === 'foreignObject' ? 'foreign content' : 'animation';
  addNote(state, {
    code: `${what.replace(' ', '-')}-not-drawn`,
    message: `The file holds ${what === 'foreign content' ? what : `a ${what}`.replace('a a', 'an a')}; it is left out.`,
    affects: 'plate',
    objectId: element.attributes.get('id'),
    leaves: null,
  });
}
