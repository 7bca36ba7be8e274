import { stretch } from '../../geometry/matrix.ts';
import { mmPerInch } from '../../units/lengths.ts';
import { type Style, styleValue } from './cascade.ts';
import { rectangleClip } from './clips.ts';
import type { LeafImage, Paint } from './displayList.ts';
import { shapeLeaf } from './drawShape.ts';
import { parsePath } from './paths.ts';
import { addLeaf, addNote, lengthContext, objectIdFor, quoted, type ResolveState, type Scope } from './resolveState.ts';
import { rectangleData } from './shapes.ts';
import { hrefOf, type SvgElement } from './svgElement.ts';
import { parseLength } from './svgLengths.ts';
import { fitViewBox } from './transforms.ts';

/**
 * An embedded picture. One of black and white only becomes black ink; any other knocks out what lies below and is
 * reported, because its colours are not inks.
 */
export function drawImage(state: ResolveState, element: SvgElement, style: Style, scope: Scope): void {
  const name = quoted(element.attributes.get('id') ?? 'image');
  const objectId = element.attributes.get('id');
  const loaded = state.images.get(element);
  const context = lengthContext(state, style, scope);
  const length = (key: string, axis: 'x' | 'y') =>
    parseLength(style[key] ?? element.attributes.get(key), axis, context);
  const x = length('x', 'x') ?? 0;
  const y = length('y', 'y') ?? 0;
  if (loaded === undefined) {
    addNote(state, {
      code: (hrefOf(element) ?? '').startsWith('data:') ? 'image-unreadable' : 'external-reference',
      message: (hrefOf(element) ?? '').startsWith('data:')
        ? `The picture ${name} cannot be read; it is not drawn.`
        : `The picture ${name} is not in the file but linked as ${quoted(hrefOf(element) ?? '')}; it is not drawn.`,
      affects: 'plate',
      objectId,
      leaves: null,
    });
    return;
  }
  const width = length('width', 'x') ?? (length('height', 'y') ?? loaded.heightPx) * (loaded.widthPx / loaded.heightPx);
  const height = length('height', 'y') ?? width * (loaded.heightPx / loaded.widthPx);
  if (!(width > 0 && height > 0)) return;
  const source = { x: 0, y: 0, width: loaded.widthPx, height: loaded.heightPx };
  const { matrix, slice } = fitViewBox(source, { x, y, width, height }, element.attributes.get('preserveAspectRatio'));
  const [drawnX, drawnY, drawnWidth, drawnHeight] = [
    matrix[4],
    matrix[5],
    matrix[0] * loaded.widthPx,
    matrix[3] * loaded.heightPx,
  ];
  const path = parsePath(rectangleData(drawnX, drawnY, drawnWidth, drawnHeight)).path;
  const clips = slice ? [...scope.clips, rectangleClip(state, scope.matrix, x, y, width, height)] : scope.clips;
  const perMm = { x: Math.hypot(scope.matrix[0], scope.matrix[1]), y: Math.hypot(scope.matrix[2], scope.matrix[3]) };
  if (stretch(scope.matrix).min === 0) return;
  const { pixels, ...facts } = loaded;
  const image: LeafImage = {
    ...facts,
    pixels,
    ppiX: (loaded.widthPx / (drawnWidth * perMm.x)) * mmPerInch,
    ppiY: (loaded.heightPx / (drawnHeight * perMm.y)) * mmPerInch,
  };
  const isShown = /^visible$/i.test(styleValue(style, 'visibility'));
  const firstLeaf = state.leaves.length;
  addLeaf(state, scope, {
    ...shapeLeaf({ ...scope, clips }, path, pixels === null ? whiteInk : blackInk, 'nonzero'),
    objectId: objectIdFor(state, scope, element, ''),
    kind: 'image',
    image,
    seeThrough: scope.seeThrough || (pixels?.includes(2) ?? false),
    off: scope.off ?? (isShown ? null : 'layerOff'),
  });
  if (pixels === null && scope.mode === 'art') {
    addNote(state, {
      code: 'image-not-separated',
      message: `The picture ${name} has colours or tones that are not split into inks; it is left white.`,
      affects: scope.off === null && isShown ? 'inks' : 'nothing',
      objectId,
      boxMm: state.leaves[firstLeaf]?.boxMm ?? undefined,
      leaves: null,
    });
  }
}

const whiteInk: Paint = {
  kind: 'flat',
  swatch: { colour: { hex: '#ffffff', alpha: 1, outOfGamut: false }, alpha: 1, spot: null },
};
const blackInk: Paint = {
  kind: 'flat',
  swatch: { colour: { hex: '#000000', alpha: 1, outOfGamut: false }, alpha: 1, spot: null },
};
