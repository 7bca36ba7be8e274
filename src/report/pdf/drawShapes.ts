import type { Drawing, Shape } from '../shapes.ts';
import { figure } from './blocks.ts';
import type { Block } from './flow.ts';
import { hexOf, type Typesetter } from './typeset.ts';

/** Draws shapes with their origin at x, y (points), `scale` points a drawing unit. */
export function drawShapes(type: Typesetter, shapes: readonly Shape[], x: number, y: number, scale: number): void {
  const { doc } = type;
  for (const shape of shapes) {
    if (shape.kind === 'text') {
      const at = x + shape.x * scale;
      type.drawLabel(shape.text, at, y + shape.y * scale, shape.size * scale, shape.strong, shape.tone, shape.anchor);
      continue;
    }
    doc.save().transform(scale, 0, 0, scale, x, y);
    if (shape.opacity !== undefined) doc.opacity(shape.opacity);
    if (shape.dash) doc.dash(shape.dash[0], { space: shape.dash[1] });
    doc.path(shape.d).lineWidth(shape.strokeWidth);
    const hasFill = shape.fill !== 'none';
    const hasStroke = shape.stroke !== 'none';
    if (hasFill && hasStroke) doc.fillAndStroke(hexOf(shape.fill), hexOf(shape.stroke));
    else if (hasFill) doc.fill(hexOf(shape.fill));
    else if (hasStroke) doc.stroke(hexOf(shape.stroke));
    doc.restore();
  }
}

/** Draws a drawing `width` points wide. */
export function drawDrawing(type: Typesetter, drawing: Drawing, x: number, y: number, width: number): void {
  drawShapes(type, drawing.shapes, x, y, width / drawing.width);
}

/** A drawing `width` points wide, with its label for those who do not see it. */
export function drawingBlock(type: Typesetter, drawing: Drawing, width: number): Block {
  const height = (width / drawing.width) * drawing.height;
  return figure(type, { width, height }, drawing.label, (x, y) => drawDrawing(type, drawing, x, y, width));
}
