import type { BoxMm } from '../../src/geometry/box.ts';
import type { Plate } from '../../src/plates/plate.ts';
import { bitCount } from '../../src/raster/bitCount.ts';
import { bitAt, createBitPlane, setBit } from '../../src/raster/bitPlane.ts';
import type { PixelGrid } from '../../src/raster/pixelGrid.ts';
import { both, circle, either, outside, rectangle, type Shape } from './overlapPlates.ts';

export const markDesigns = ['cross', 'ring', 'circled', 'whiteCross', 'quarters', 'quarteredDisc'] as const;
export type MarkDesign = (typeof markDesigns)[number];

/** A shape with the part of the film it can have ink in. */
export interface Part {
  readonly shape: Shape;
  readonly boxMm: BoxMm;
}

function about(xMm: number, yMm: number, turnDeg: number, shape: Shape, reachMm: number): Part {
  const cos = Math.cos((turnDeg * Math.PI) / 180);
  const sin = Math.sin((turnDeg * Math.PI) / 180);
  return {
    shape: (x, y) => shape((x - xMm) * cos + (y - yMm) * sin, (y - yMm) * cos - (x - xMm) * sin),
    boxMm: { xMm: xMm - reachMm, yMm: yMm - reachMm, widthMm: 2 * reachMm, heightMm: 2 * reachMm },
  };
}

/** A registration mark about a centre, turned clockwise as seen by `turnDeg`. */
export function markPart(
  design: MarkDesign,
  xMm: number,
  yMm: number,
  sizeMm: number,
  lineMm: number,
  turnDeg = 0,
): Part {
  const cross = either(rectangle(0, 0, sizeMm, lineMm), rectangle(0, 0, lineMm, sizeMm));
  const ringOf = (radiusMm: number): Shape =>
    both(circle(0, 0, radiusMm + lineMm / 2), outside(circle(0, 0, radiusMm - lineMm / 2)));
  const radiusMm = 0.3 * sizeMm;
  const fields: Shape = (x, y) => (x * y > 0 ? Math.hypot(x, y) - radiusMm : 1);
  const shapes: Record<MarkDesign, () => Shape> = {
    cross: () => cross,
    ring: () => either(cross, ringOf(radiusMm)),
    circled: () => either(both(cross, circle(0, 0, sizeMm / 2)), ringOf(sizeMm / 2 - lineMm / 2)),
    whiteCross: () => {
      const disc = circle(0, 0, radiusMm);
      return either(both(disc, outside(cross)), both(cross, outside(disc)));
    },
    quarters: () => either(cross, ringOf(radiusMm), fields),
    quarteredDisc: () => either(cross, fields),
  };
  return about(xMm, yMm, turnDeg, shapes[design](), 0.52 * sizeMm + 0.2);
}

/** An L of two strokes that meet at a point and go right or left (1, -1) and down or up (1, -1). */
export function cornerPart(
  xMm: number,
  yMm: number,
  sizeMm: number,
  lineMm: number,
  goesRight: number,
  goesDown: number,
): Part {
  const half = sizeMm / 2;
  return about(
    xMm,
    yMm,
    0,
    either(
      rectangle(goesRight * (half - lineMm / 2), 0, sizeMm, lineMm),
      rectangle(0, goesDown * (half - lineMm / 2), lineMm, sizeMm),
    ),
    sizeMm + 1,
  );
}

export function boxPart(xMm: number, yMm: number, widthMm: number, heightMm: number, turnDeg = 0): Part {
  return about(xMm, yMm, turnDeg, rectangle(0, 0, widthMm, heightMm), Math.max(widthMm, heightMm));
}

export function discPart(xMm: number, yMm: number, radiusMm: number): Part {
  return about(xMm, yMm, 0, circle(0, 0, radiusMm), radiusMm + 1);
}

/** A film of marks and art as it comes out when moved, turned (counter-clockwise as seen) and stretched. */
export interface Laid {
  readonly dxMm: number;
  readonly dyMm: number;
  readonly turnDeg: number;
  readonly scale: number;
}

/** Where a point of the drawing lands, about the middle of the film. */
export function laidPoint(laid: Laid, grid: PixelGrid, xMm: number, yMm: number): [number, number] {
  const middleX = (grid.widthPx * grid.pitchXMm) / 2;
  const middleY = (grid.heightPx * grid.pitchYMm) / 2;
  const angle = (-laid.turnDeg * Math.PI) / 180;
  const dx = (xMm - middleX) * laid.scale;
  const dy = (yMm - middleY) * laid.scale;
  return [
    middleX + dx * Math.cos(angle) - dy * Math.sin(angle) + laid.dxMm,
    middleY + dx * Math.sin(angle) + dy * Math.cos(angle) + laid.dyMm,
  ];
}

/** A plate with ink in every pixel whose centre lies in one of the parts. */
export function drawParts(id: string, grid: PixelGrid, parts: readonly Part[]): Plate {
  const bits = createBitPlane(grid.widthPx, grid.heightPx);
  for (const { shape, boxMm } of parts) {
    const left = Math.max(0, Math.floor(boxMm.xMm / grid.pitchXMm));
    const top = Math.max(0, Math.floor(boxMm.yMm / grid.pitchYMm));
    const right = Math.min(grid.widthPx, Math.ceil((boxMm.xMm + boxMm.widthMm) / grid.pitchXMm));
    const bottom = Math.min(grid.heightPx, Math.ceil((boxMm.yMm + boxMm.heightMm) / grid.pitchYMm));
    for (let row = top; row < bottom; row++) {
      for (let column = left; column < right; column++) {
        if (bitAt(bits, column, row) === 1) continue;
        if (shape((column + 0.5) * grid.pitchXMm, (row + 0.5) * grid.pitchYMm) <= 0) setBit(bits, column, row);
      }
    }
  }
  const toneHistogram = new Float64Array(256);
  toneHistogram[255] = bitCount(bits.words);
  toneHistogram[0] = grid.widthPx * grid.heightPx - toneHistogram[255];
  return { id, inkId: `ink-${id}`, filmId: `film-${id}`, grid, bits, tone: null, toneHistogram, verified: true };
}

/** Numbers from 0 to 1 that are the same each time (Park and Miller, Communications of the ACM 31, 1988). */
export function seededNumbers(seed: number): () => number {
  let state = seed;
  return () => {
    state = (state * 48271) % 2147483647;
    return state / 2147483647;
  };
}
