import type { ToneImage } from '../../src/report/pictures.ts';

/** True where a shape prints; millimetres from the film's top left corner. */
export type Shape = (xMm: number, yMm: number) => boolean;

/** A picture of a shape over a box of a film, 3 × 3 samples a pixel. */
export function paintTones(shape: Shape, box: Box, widthPx: number): ToneImage {
  const pitch = box.widthMm / widthPx;
  const heightPx = Math.round(box.heightMm / pitch);
  const tones = new Uint8Array(widthPx * heightPx);
  for (let row = 0; row < heightPx; row += 1) {
    for (let column = 0; column < widthPx; column += 1) {
      let hits = 0;
      for (let sub = 0; sub < 9; sub += 1) {
        const x = box.xMm + (column + ((sub % 3) + 0.5) / 3) * pitch;
        const y = box.yMm + (row + (Math.floor(sub / 3) + 0.5) / 3) * pitch;
        if (shape(x, y)) hits += 1;
      }
      tones[row * widthPx + column] = Math.round((hits * 255) / 9);
    }
  }
  return { widthPx, heightPx, tones, pitchXMm: pitch, pitchYMm: pitch };
}

export interface Box {
  readonly xMm: number;
  readonly yMm: number;
  readonly widthMm: number;
  readonly heightMm: number;
}

export function disc(xMm: number, yMm: number, radiusMm: number): Shape {
  return (x, y) => Math.hypot(x - xMm, y - yMm) <= radiusMm;
}

/** A straight line of a width between two points, with round ends. */
export function stroke(x1: number, y1: number, x2: number, y2: number, widthMm: number): Shape {
  const lengthSquared = (x2 - x1) ** 2 + (y2 - y1) ** 2;
  return (x, y) => {
    const t = Math.min(1, Math.max(0, ((x - x1) * (x2 - x1) + (y - y1) * (y2 - y1)) / lengthSquared));
    return Math.hypot(x - x1 - t * (x2 - x1), y - y1 - t * (y2 - y1)) <= widthMm / 2;
  };
}

/** Everything below a wave. */
export function wave(levelMm: number, heightMm: number, lengthMm: number, toMm: number): Shape {
  return (x, y) => y >= levelMm + heightMm * Math.sin((2 * Math.PI * x) / lengthMm) && y <= toMm;
}

export function either(...shapes: readonly Shape[]): Shape {
  return (x, y) => shapes.some((shape) => shape(x, y));
}

export function without(shape: Shape, hole: Shape): Shape {
  return (x, y) => shape(x, y) && !hole(x, y);
}

export function both(a: Shape, b: Shape): Shape {
  return (x, y) => a(x, y) && b(x, y);
}
