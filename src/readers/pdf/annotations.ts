import type { PDFDict } from '@cantoo/pdf-lib';
import { type Matrix, transformed } from '../../geometry/matrix.ts';
import { ContentWalk } from './contentWalk.ts';
import { initialState } from './graphicsState.ts';
import type { PageContext } from './pageContext.ts';
import { asDict, asStream } from './pdfValues.ts';
import type { SceneItem } from './scene.ts';

const hiddenFlag = 2;
const printFlag = 4;

/** Draws the appearances of annotations that print (ISO 32000-1, 12.5.3 and 12.5.5). */
export function walkAnnotations(context: PageContext, page: PDFDict, matrix: Matrix, out: SceneItem[]): void {
  const { values } = context;
  for (const item of values.listOf(page, 'Annots') ?? []) {
    const annotation = asDict(item);
    if (!annotation || values.name(annotation, 'Subtype') === 'Popup') continue;
    const appearance = appearanceOf(context, annotation);
    const rect = values.numbersOf(annotation, 'Rect');
    if (!appearance || !rect || rect.length < 4) continue;
    const flags = values.number(annotation, 'F') ?? 0;
    if ((flags & hiddenFlag) !== 0 || (flags & printFlag) === 0) {
      context.notes.add(
        'annotation-not-printed',
        'nothing',
        'A comment or form field that does not print was not drawn.',
      );
      continue;
    }
    const placement = placementOf(context, appearance.dict, rect);
    if (!placement) continue;
    const walk = new ContentWalk(context, initialState(matrix), {
      resources: null,
      out,
      nesting: 0,
      layerPath: [],
      layerOff: false,
      uncoloured: false,
    });
    walk.enterLayer(values.raw(annotation, 'OC'));
    walk.drawForm(appearance, placement);
    context.notes.add('annotation-printed', 'nothing', 'A comment or form field that prints is part of the film.');
  }
}

function appearanceOf(context: PageContext, annotation: PDFDict) {
  const { values } = context;
  const normal = values.get(values.dict(annotation, 'AP'), 'N');
  const stream = asStream(normal);
  if (stream) return stream;
  const state = values.name(annotation, 'AS');
  return state === null ? null : asStream(values.get(asDict(normal), state));
}

/** Takes the box of the appearance, after its own matrix, onto the rectangle of the annotation. */
function placementOf(context: PageContext, form: PDFDict, rect: readonly number[]): Matrix | null {
  const box = context.values.numbersOf(form, 'BBox');
  if (!box || box.length < 4) return null;
  const own = context.values.matrixOf(form, 'Matrix');
  const corners = [
    transformed(own, box[0], box[1]),
    transformed(own, box[2], box[1]),
    transformed(own, box[0], box[3]),
    transformed(own, box[2], box[3]),
  ];
  const xs = corners.map(([x]) => x);
  const ys = corners.map(([, y]) => y);
  const [left, bottom] = [Math.min(...xs), Math.min(...ys)];
  const width = Math.max(...xs) - left;
  const height = Math.max(...ys) - bottom;
  if (!(width > 0 && height > 0)) return null;
  const sx = Math.abs(rect[2] - rect[0]) / width;
  const sy = Math.abs(rect[3] - rect[1]) / height;
  return [sx, 0, 0, sy, Math.min(rect[0], rect[2]) - left * sx, Math.min(rect[1], rect[3]) - bottom * sy];
}
