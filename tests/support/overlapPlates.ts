import type { Plate } from '../../src/plates/plate.ts';
import { bitCount } from '../../src/raster/bitCount.ts';
import { createBitPlane, setBit } from '../../src/raster/bitPlane.ts';
import type { PixelGrid } from '../../src/raster/pixelGrid.ts';

/** Signed distance of a shape in mm: negative inside. */
export type Shape = (xMm: number, yMm: number) => number;

export function circle(xMm: number, yMm: number, radiusMm: number): Shape {
  return (x, y) => Math.hypot(x - xMm, y - yMm) - radiusMm;
}

/** A rectangle about a centre, turned; its offset outlines keep sharp corners. */
export function rectangle(xMm: number, yMm: number, widthMm: number, heightMm: number, turnDeg = 0): Shape {
  const cos = Math.cos((turnDeg * Math.PI) / 180);
  const sin = Math.sin((turnDeg * Math.PI) / 180);
  return (x, y) => {
    const u = (x - xMm) * cos + (y - yMm) * sin;
    const v = (y - yMm) * cos - (x - xMm) * sin;
    return Math.max(Math.abs(u) - widthMm / 2, Math.abs(v) - heightMm / 2);
  };
}

/** A regular polygon about a centre by the radius of the circle in it; its offset outlines keep sharp corners. */
export function regularPolygon(xMm: number, yMm: number, sides: number, innerRadiusMm: number, turnDeg = 0): Shape {
  const normals = Array.from({ length: sides }, (_, side) => {
    const angle = (2 * Math.PI * side) / sides + (turnDeg * Math.PI) / 180;
    return [Math.cos(angle), Math.sin(angle)] as const;
  });
  return (x, y) => {
    let most = -Infinity;
    for (const [nx, ny] of normals) most = Math.max(most, (x - xMm) * nx + (y - yMm) * ny - innerRadiusMm);
    return most;
  };
}

/** The sector between two directions (degrees, y down, up to 180 wide) about a point. */
export function sector(xMm: number, yMm: number, fromDeg: number, toDeg: number): Shape {
  const side = (deg: number): Shape => {
    const nx = -Math.sin((deg * Math.PI) / 180);
    const ny = Math.cos((deg * Math.PI) / 180);
    return (x, y) => (x - xMm) * nx + (y - yMm) * ny;
  };
  const from = side(fromDeg);
  const to = side(toDeg);
  return (x, y) => Math.max(-from(x, y), to(x, y));
}

export const grownBy =
  (shape: Shape, mm: number): Shape =>
  (x, y) =>
    shape(x, y) - mm;
export const outside =
  (shape: Shape): Shape =>
  (x, y) =>
    -shape(x, y);
export function both(...shapes: Shape[]): Shape {
  return (x, y) => {
    let most = -Infinity;
    for (const shape of shapes) most = Math.max(most, shape(x, y));
    return most;
  };
}

export function either(...shapes: Shape[]): Shape {
  return (x, y) => {
    let least = Infinity;
    for (const shape of shapes) least = Math.min(least, shape(x, y));
    return least;
  };
}

export const moved =
  (shape: Shape, xMm: number, yMm: number): Shape =>
  (x, y) =>
    shape(x - xMm, y - yMm);

export function gridOf(widthMm: number, heightMm: number, dpi: number, dpiDown = dpi): PixelGrid {
  const pitchXMm = 25.4 / dpi;
  const pitchYMm = 25.4 / dpiDown;
  return {
    widthPx: Math.round(widthMm / pitchXMm),
    heightPx: Math.round(heightMm / pitchYMm),
    pitchXMm,
    pitchYMm,
  };
}

/** A plate with ink in every pixel whose centre lies inside the shape. */
export function drawPlate(id: string, grid: PixelGrid, shape: Shape): Plate {
  const bits = createBitPlane(grid.widthPx, grid.heightPx);
  for (let row = 0; row < grid.heightPx; row++) {
    const y = (row + 0.5) * grid.pitchYMm;
    for (let column = 0; column < grid.widthPx; column++) {
      if (shape((column + 0.5) * grid.pitchXMm, y) <= 0) setBit(bits, column, row);
    }
  }
  const toneHistogram = new Float64Array(256);
  toneHistogram[255] = bitCount(bits.words);
  toneHistogram[0] = grid.widthPx * grid.heightPx - toneHistogram[255];
  return { id, inkId: `ink-${id}`, filmId: `film-${id}`, grid, bits, tone: null, toneHistogram, verified: true };
}
