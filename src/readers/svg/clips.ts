import { type BoxMm, intersectionOfBoxes, unionOfBoxes } from '../../geometry/box.ts';
import { identity, type Matrix, multiplied } from '../../geometry/matrix.ts';
import { styleValue } from './cascade.ts';
import { type Clip, emptyBox, type Item, type Leaf, type Mask } from './displayList.ts';
import { isSeeThrough, swatchesOf } from './paints.ts';
import { boxOfPath, isUprightRectangle, type Path, parsePath } from './paths.ts';
import {
  addNote,
  detachedScope,
  lengthContext,
  quoted,
  type ResolveState,
  type Scope,
  styleInPlace,
} from './resolveState.ts';
import { rectangleData } from './shapes.ts';
import { urlId } from './svgColours.ts';
import { elementChildren, type SvgElement } from './svgElement.ts';
import { parseLength } from './svgLengths.ts';
import { parseTransform } from './transforms.ts';

export const white = { hex: '#ffffff', alpha: 1, outOfGamut: false };

/** A leaf that stands in a clip or mask: white, without an object of its own. */
export function whiteShape(path: Path, matrix: Matrix, changes: Partial<Leaf> = {}): Leaf {
  const boxMm = boxOfPath(path, matrix);
  return {
    type: 'leaf',
    index: -1,
    objectId: '',
    kind: 'fill',
    path,
    matrix,
    paint: { kind: 'flat', swatch: { colour: white, alpha: 1, spot: null } },
    fillRule: 'nonzero',
    stroke: null,
    strokeWidthMm: null,
    text: null,
    font: null,
    image: null,
    clips: [],
    boxMm,
    cullBoxMm: boxMm,
    inkLabel: null,
    layers: [],
    seeThrough: false,
    opacityRatio: 1,
    blendMode: 'normal',
    off: null,
    ...changes,
  };
}

/** A clip of these shapes, or the one made of the same before. */
export function clipOf(
  state: ResolveState,
  key: string,
  make: () => { shapes: readonly Item[]; within: readonly Clip[] },
): Clip {
  const known = state.clips.get(key);
  if (known !== undefined) return known;
  const { shapes, within } = make();
  let boxMm: BoxMm | null = shapes.length === 0 ? emptyBox : null;
  if (shapes.every((shape) => shape.cullBoxMm !== null)) {
    for (const shape of shapes) boxMm = boxMm === null ? shape.cullBoxMm : unionOfBoxes(boxMm, shape.cullBoxMm!);
  }
  for (const outer of within) {
    if (outer.boxMm !== null && boxMm !== null) boxMm = intersectionOfBoxes(boxMm, outer.boxMm) ?? emptyBox;
  }
  const [only] = shapes;
  const isRectangle =
    shapes.length === 1 &&
    only.type === 'leaf' &&
    only.kind === 'fill' &&
    only.clips.length === 0 &&
    within.every((outer) => outer.isRectangle) &&
    isUprightRectangle(only.path, only.matrix);
  const clip: Clip = { id: `c${state.clips.size}`, shapes, within, boxMm, isRectangle };
  state.clips.set(key, clip);
  return clip;
}

/** The clip of a rectangle in user space: a nested viewport, a pattern tile. */
export function rectangleClip(
  state: ResolveState,
  matrix: Matrix,
  x: number,
  y: number,
  width: number,
  height: number,
): Clip {
  return clipOf(state, `r${matrix.join(' ')} ${x} ${y} ${width} ${height}`, () => ({
    shapes: [whiteShape(parsePath(rectangleData(x, y, Math.max(0, width), Math.max(0, height))).path, matrix)],
    within: [],
  }));
}

/** The clips an element's `clip-path` asks for, in film space; `boxOf` gives the element's box in user units. */
export function clipsFor(
  state: ResolveState,
  scope: Scope,
  element: SvgElement,
  value: string,
  boxOf: () => BoxMm | null,
): readonly Clip[] {
  if (value === 'none' || value === '') return [];
  const id = urlId(value);
  const target = id === null ? undefined : state.byId.get(id);
  if (target?.name !== 'clipPath') {
    addNote(state, {
      code: 'clip-not-drawn',
      message: `${quoted(element.attributes.get('id') ?? element.localName)} is clipped by ${quoted(value)}, which cannot be drawn.`,
      affects: 'plate',
      leaves: null,
    });
    return [];
  }
  if (scope.open.includes(target)) return [];
  const style = styleInPlace(state, target);
  const ofBox = target.attributes.get('clipPathUnits') === 'objectBoundingBox';
  let matrix = multiplied(scope.matrix, parseTransform(style.transform) ?? identity);
  if (ofBox) {
    const box = boxOf() ?? emptyBox;
    matrix = multiplied(matrix, [box.widthMm, 0, 0, box.heightMm, box.xMm, box.yMm]);
  }
  const inner = detachedScope(scope, { matrix, mode: 'clip', open: [...scope.open, target] });
  const clip = clipOf(state, `${target.documentIndex} ${matrix.join(' ')}`, () => {
    for (const child of elementChildren(target)) state.walk(child, style, inner);
    return {
      shapes: inner.into,
      within: clipsFor(state, { ...scope, open: inner.open }, target, styleValue(style, 'clip-path'), boxOf),
    };
  });
  return [clip];
}

/** The mask of an element, or null; its contents keep the colours of the file. */
export function maskFor(
  state: ResolveState,
  scope: Scope,
  element: SvgElement,
  value: string,
  boxOf: () => BoxMm | null,
): Mask | null {
  if (value === 'none' || value === '') return null;
  const id = urlId(value);
  const target = id === null ? undefined : state.byId.get(id);
  if (target?.name !== 'mask') {
    addNote(state, {
      code: 'mask-not-drawn',
      message: `${quoted(element.attributes.get('id') ?? element.localName)} is masked by ${quoted(value)}, which cannot be drawn.`,
      affects: 'plate',
      leaves: null,
    });
    return null;
  }
  if (scope.open.includes(target)) return null;
  const style = styleInPlace(state, target);
  const box = boxOf() ?? emptyBox;
  const ofBox = target.attributes.get('maskUnits') !== 'userSpaceOnUse';
  const context = lengthContext(state, style, scope);
  const part = (name: string, axis: 'x' | 'y', otherwise: string) => {
    const text = target.attributes.get(name) ?? otherwise;
    if (!ofBox) return parseLength(text, axis, context) ?? 0;
    return text.endsWith('%') ? Number.parseFloat(text) / 100 : Number.parseFloat(text);
  };
  const [x, y, width, height] = [
    part('x', 'x', '-10%'),
    part('y', 'y', '-10%'),
    part('width', 'x', '120%'),
    part('height', 'y', '120%'),
  ];
  const region: [number, number, number, number] = ofBox
    ? [box.xMm + x * box.widthMm, box.yMm + y * box.heightMm, width * box.widthMm, height * box.heightMm]
    : [x, y, width, height];
  const contentMatrix =
    target.attributes.get('maskContentUnits') === 'objectBoundingBox'
      ? multiplied(scope.matrix, [box.widthMm, 0, 0, box.heightMm, box.xMm, box.yMm])
      : scope.matrix;
  const key = `${target.documentIndex} ${contentMatrix.join(' ')} ${region.join(' ')}`;
  const known = state.masks.get(key);
  if (known !== undefined) return known;
  const inner = detachedScope(scope, {
    matrix: contentMatrix,
    mode: 'mask',
    open: [...scope.open, target],
    clips: [rectangleClip(state, scope.matrix, ...region)],
  });
  for (const child of elementChildren(target)) state.walk(child, style, inner);
  const nested = maskFor(state, { ...scope, open: inner.open }, target, styleValue(style, 'mask'), boxOf);
  const items: Item[] =
    nested === null
      ? inner.into
      : [
          {
            type: 'group',
            children: inner.into,
            opacity: 1,
            blend: 'normal',
            mask: nested,
            clips: [],
            cullBoxMm: null,
          },
        ];
  const usesAlpha = styleValue(style, 'mask-type') === 'alpha';
  const mask: Mask = {
    id: `m${state.masks.size}`,
    items,
    usesAlpha,
    hasTone: items.some((item) => letsHalf(item, usesAlpha)),
  };
  state.masks.set(key, mask);
  return mask;
}

function letsHalf(item: Item, usesAlpha: boolean): boolean {
  if (item.type === 'instance') return item.children.some((child) => letsHalf(child, usesAlpha));
  if (item.type === 'group') {
    return item.opacity < 1 || item.mask?.hasTone === true || item.children.some((child) => letsHalf(child, usesAlpha));
  }
  if (item.paint === null) return true;
  if (isSeeThrough(item.paint) || (item.paint.kind === 'gradient' && !item.paint.hard)) return true;
  return (
    !usesAlpha && swatchesOf(item.paint).some(({ colour }) => colour.hex !== '#ffffff' && colour.hex !== '#000000')
  );
}
