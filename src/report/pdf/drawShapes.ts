import type { Drawing, Shape } from '../shapes.ts';
import { hexOf, type Typesetter } from './typeset.ts';

/** Draws shapes with their origin at x, y (points), `scale` points a drawing unit. */
export function drawShapes(type: Typesetter, shapes: readonly Shape[], x: number, y: number, scale: number): void {
  for (const shape of shapes) {
    if (shape.kind === 'text') {
      const at = x + shape.x * scale;
      type.drawLabel(shape.text, at, y + shape.y * scale, shape.size * scale, shape.strong, shape.tone, shape.anchor);
      continue;
    }
    const paint = {
      fillHex: shape.fill === 'none' ? null : hexOf(shape.fill),
      strokeHex: shape.stroke === 'none' ? null : hexOf(shape.stroke),
      strokeWidth: shape.strokeWidth,
      dash: shape.dash,
      opacity: shape.opacity,
    };
    type.paper.drawPath(shape.d, paint, x, y, scale);
  }
}

/** Draws a drawing `width` points wide and returns its height. */
export function drawDrawing(type: Typesetter, drawing: Drawing, x: number, y: number, width: number): number {
  const scale = width / drawing.width;
  drawShapes(type, drawing.shapes, x, y, scale);
  return drawing.height * scale;
}
