import type { PDFDict, PDFObject } from '@cantoo/pdf-lib';
import type { PageContext } from './pageContext.ts';
import { type Overprint, type Paint, paintOf } from './paint.ts';
import { asDict, asStream } from './pdfValues.ts';
import type { ShadingFacts } from './scene.ts';

/** A shading, or null when it cannot be understood. The background counts for patterns only. */
export function readShading(
  context: PageContext,
  object: PDFObject | null,
  resources: PDFDict | null,
  overprint: Overprint | null,
): ShadingFacts | null {
  const { values } = context;
  const dict = asDict(object);
  if (!dict) return null;
  const type = values.number(dict, 'ShadingType') ?? 0;
  const space = context.spaces.read(values.get(dict, 'ColorSpace'), resources);
  if (!space || space.kind === 'pattern' || type < 1 || type > 7) return null;
  if (type === 6 || type === 7) {
    context.notes.add(
      'rare-shading',
      'plate',
      `A shading of type ${type} is drawn cell by cell and a little too light; its tones are not verified.`,
    );
  }
  context.paints.colour ||= space.kind !== 'gray';
  context.paints.grey ||= space.kind === 'gray';
  const colour = overprint && values.numbersOf(dict, 'Background');
  let background: Paint | null = null;
  if (colour) background = paintOf(space, colour, overprint, context.inks, false);
  return { dict, stream: asStream(object), space, background };
}
