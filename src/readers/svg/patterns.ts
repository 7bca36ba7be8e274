import { type BoxMm, containsBox, intersectionOfBoxes } from '../../geometry/box.ts';
import { inverted, type Matrix, multiplied } from '../../geometry/matrix.ts';
import { styleValue } from './cascade.ts';
import { clipOf, rectangleClip } from './clips.ts';
import { emptyBox, type Item, type Leaf } from './displayList.ts';
import { clippedBox, transformedBox, unionOfItems } from './itemBoxes.ts';
import { maxPatternTiles, maxTilesTogether } from './limits.ts';
import { type PatternPaint, referenceChain } from './paints.ts';
import { boxOfPath, isUprightRectangle, type Path, parsePath } from './paths.ts';
import {
  addNote,
  countUse,
  detachedScope,
  lengthContext,
  quoted,
  type ResolveState,
  type Scope,
  styleInPlace,
} from './resolveState.ts';
import { rectangleData } from './shapes.ts';
import { elementChildren, type SvgElement } from './svgElement.ts';
import { parseLength } from './svgLengths.ts';
import { fitViewBox, parseTransform, parseViewBox } from './transforms.ts';

/** Paints a shape with a pattern: the tiles that can be seen, clipped by the shape (SVG 2, 14.3). */
export function drawPattern(
  state: ResolveState,
  element: SvgElement,
  scope: Scope,
  paint: PatternPaint,
  shape: Omit<Leaf, 'index'>,
  path: Path,
): void {
  const objectId = element.attributes.get('id');
  const refuse = (why: string) =>
    addNote(state, {
      code: 'pattern-not-drawn',
      message: `The pattern of ${quoted(objectId ?? element.localName)} ${why}; it is not drawn.`,
      affects: 'plate',
      objectId,
      boxMm: shape.boxMm ?? undefined,
      leaves: null,
    });
  if (scope.open.includes(paint.element)) {
    refuse('contains itself');
    return;
  }
  const chain = referenceChain(state, paint.element);
  const get = (name: string) => chain.find((one) => one.attributes.has(name))?.attributes.get(name);
  const holder = chain.find((one) => elementChildren(one).some((child) => child.name !== '')) ?? paint.element;
  const style = styleInPlace(state, holder);
  const box = boxOfPath(path, [1, 0, 0, 1, 0, 0]) ?? emptyBox;
  const ofBox = get('patternUnits') !== 'userSpaceOnUse';
  const context = ofBox
    ? { viewportWidth: 1, viewportHeight: 1, fontSize: 16, rootFontSize: 16 }
    : lengthContext(state, style, scope);
  const part = (name: string, axis: 'x' | 'y') => parseLength(get(name) ?? '0', axis, context) ?? 0;
  const [scaleX, scaleY] = ofBox ? [box.widthMm, box.heightMm] : [1, 1];
  const x = part('x', 'x') * scaleX + (ofBox ? box.xMm : 0);
  const y = part('y', 'y') * scaleY + (ofBox ? box.yMm : 0);
  const width = part('width', 'x') * scaleX;
  const height = part('height', 'y') * scaleY;
  const matrix = multiplied(scope.matrix, parseTransform(get('patternTransform')) ?? [1, 0, 0, 1, 0, 0]);
  const back = inverted(matrix);
  if (!(width > 0 && height > 0) || back === null) return;
  const seen = intersectionOfBoxes(clippedBox(shape.cullBoxMm, scope.clips) ?? emptyBox, state.pageBox);
  if (seen === null) return;

  const viewBox = parseViewBox(get('viewBox'));
  const viewport = { x, y, width, height };
  const content: Matrix =
    viewBox !== null
      ? fitViewBox(viewBox, viewport, get('preserveAspectRatio')).matrix
      : get('patternContentUnits') === 'objectBoundingBox'
        ? [box.widthMm, 0, 0, box.heightMm, x, y]
        : [1, 0, 0, 1, x, y];
  const inner = detachedScope(scope, {
    matrix: multiplied(matrix, content),
    open: [...scope.open, paint.element],
    mode: scope.mode,
    off: scope.off,
    seeThrough: scope.seeThrough || paint.alpha < 1,
    opacityRatio: scope.opacityRatio * paint.alpha,
    blendMode: scope.blendMode,
    idPrefix: `${scope.idPrefix}${objectId ?? element.localName}/`,
  });
  const firstLeaf = state.leaves.length;
  for (const child of elementChildren(holder)) state.walk(child, style, inner);
  // The content stands in many tiles: as an object it is where the painted shape is.
  for (let index = firstLeaf; index < state.leaves.length; index++) {
    const { boxMm, cullBoxMm } = shape;
    state.leaves[index] = { ...state.leaves[index], boxMm, cullBoxMm, clips: scope.clips };
  }
  const tile = { xMm: x, yMm: y, widthMm: width, heightMm: height };
  const kept = inner.into.map((item) => cutToTile(item, matrix, back, tile));
  const contentBox = unionOfItems(kept);
  if (kept.length === 0) return;
  const tileBox = transformedBox(matrix, tile);
  const overflows = contentBox === null || !staysInTile(back, contentBox, x, y, width, height);

  const range = transformedBox(back, seen);
  const [firstColumn, lastColumn] = [
    Math.floor((range.xMm - x) / width),
    Math.ceil((range.xMm + range.widthMm - x) / width),
  ];
  const [firstRow, lastRow] = [
    Math.floor((range.yMm - y) / height),
    Math.ceil((range.yMm + range.heightMm - y) / height),
  ];
  const tiles = (lastColumn - firstColumn) * (lastRow - firstRow);
  if (tiles > maxPatternTiles) {
    refuse(`has more than ${maxPatternTiles} tiles`);
    return;
  }
  if (state.uses + tiles > maxTilesTogether) {
    refuse(`would bring the drawing to more than ${maxTilesTogether} repeats`);
    return;
  }
  if (overflows && tiles > maxClippedTiles) {
    refuse(`is cut by its tiles, and has more than ${maxClippedTiles} of them`);
    return;
  }
  if (overflows && styleValue(style, 'overflow') === 'visible') {
    refuse('reaches out of its tiles');
    return;
  }

  const shapeClip = clipOf(state, `p${state.clips.size}`, () => ({
    shapes: [{ ...shape, clips: [], index: -1 }],
    within: [],
  }));
  const clips = [...scope.clips, shapeClip];
  const clipped: Item[] = overflows
    ? kept.map((item) => ({ ...item, clips: [...item.clips, rectangleClip(state, matrix, x, y, width, height)] }))
    : kept;
  const drawn: Item[] =
    paint.alpha < 1
      ? [
          {
            type: 'group',
            children: clipped,
            opacity: paint.alpha,
            blend: 'normal',
            mask: null,
            clips: [],
            cullBoxMm: unionOfItems(clipped),
          },
        ]
      : clipped;
  const ownBox = unionOfItems(drawn) ?? tileBox;
  for (let row = firstRow; row < lastRow; row++) {
    for (let column = firstColumn; column < lastColumn; column++) {
      const [dx, dy] = [
        matrix[0] * column * width + matrix[2] * row * height,
        matrix[1] * column * width + matrix[3] * row * height,
      ];
      const cullBoxMm = { ...ownBox, xMm: ownBox.xMm + dx, yMm: ownBox.yMm + dy };
      if (intersectionOfBoxes(cullBoxMm, seen) === null) continue;
      countUse(state);
      scope.into.push({ type: 'instance', shift: [1, 0, 0, 1, dx, dy], children: drawn, clips, cullBoxMm });
    }
  }
}

/** Each tile whose content is cut needs a clip of its own, which is dear to draw. */
const maxClippedTiles = 200;

/** A rectangle that reaches out of its tile, as stripes do, cut to it: no clip is needed then. */
function cutToTile(item: Item, matrix: Matrix, back: Matrix, tile: BoxMm): Item {
  if (item.type !== 'leaf' || item.kind !== 'fill' || item.clips.length > 0) return item;
  if (item.paint?.kind !== 'flat') return item;
  const toTile = multiplied(back, item.matrix);
  const box = isUprightRectangle(item.path, toTile) ? boxOfPath(item.path, toTile) : null;
  const cut = box === null ? null : intersectionOfBoxes(box, tile);
  if (cut === null) return item;
  const path = parsePath(rectangleData(cut.xMm, cut.yMm, cut.widthMm, cut.heightMm)).path;
  return { ...item, path, matrix, cullBoxMm: boxOfPath(path, matrix) };
}

function staysInTile(
  back: Matrix,
  contentBox: { xMm: number; yMm: number; widthMm: number; heightMm: number },
  x: number,
  y: number,
  width: number,
  height: number,
): boolean {
  const slack = 1e-6 * (width + height);
  return containsBox(
    { xMm: x - slack, yMm: y - slack, widthMm: width + 2 * slack, heightMm: height + 2 * slack },
    transformedBox(back, contentBox),
  );
}
