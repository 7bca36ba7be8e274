import type { Plate } from '../../src/plates/plate.ts';
import { bitCount } from '../../src/raster/bitCount.ts';
import { type BitPlane, createBitPlane, setBit } from '../../src/raster/bitPlane.ts';
import { pitchMmFromDpi } from '../../src/units/lengths.ts';

/**
 * Shapes drawn straight from their geometry: a pixel is opaque when its centre lies inside. Coordinates are in pixels,
 * y down, pixel c covering c … c + 1. Angles are counter-clockwise as seen, so a direction is (cos a, −sin a).
 */
export interface Shape {
  /** Bounds: left, top, right, bottom. */
  readonly bounds: readonly [number, number, number, number];
  readonly holds: (x: number, y: number) => boolean;
}

export function disc(cx: number, cy: number, diameter: number): Shape {
  const r = diameter / 2;
  return { bounds: [cx - r, cy - r, cx + r, cy + r], holds: (x, y) => (x - cx) ** 2 + (y - cy) ** 2 < r * r };
}

export function ring(cx: number, cy: number, middleDiameter: number, width: number): Shape {
  const outer = disc(cx, cy, middleDiameter + width);
  return minus(outer, disc(cx, cy, middleDiameter - width));
}

export function box(left: number, top: number, right: number, bottom: number): Shape {
  return { bounds: [left, top, right, bottom], holds: (x, y) => x > left && x < right && y > top && y < bottom };
}

/** A straight strip with square ends around a middle point. */
export function strip(cx: number, cy: number, length: number, width: number, angleDeg: number): Shape {
  const ux = Math.cos((angleDeg * Math.PI) / 180);
  const uy = -Math.sin((angleDeg * Math.PI) / 180);
  const reach = length / 2 + width / 2;
  return {
    bounds: [cx - reach, cy - reach, cx + reach, cy + reach],
    holds: (x, y) => {
      const along = (x - cx) * ux + (y - cy) * uy;
      const across = (y - cy) * ux - (x - cx) * uy;
      return Math.abs(along) < length / 2 && Math.abs(across) < width / 2;
    },
  };
}

/** A straight-sided stretch from width `from` at its start to width `to` at its end; 0 makes a point. */
export function wedge(cx: number, cy: number, length: number, from: number, to: number, angleDeg: number): Shape {
  const ux = Math.cos((angleDeg * Math.PI) / 180);
  const uy = -Math.sin((angleDeg * Math.PI) / 180);
  const reach = length / 2 + Math.max(from, to) / 2;
  return {
    bounds: [cx - reach, cy - reach, cx + reach, cy + reach],
    holds: (x, y) => {
      const along = (x - cx) * ux + (y - cy) * uy + length / 2;
      const across = (y - cy) * ux - (x - cx) * uy;
      return along > 0 && along < length && Math.abs(across) < (from + ((to - from) * along) / length) / 2;
    },
  };
}

/** A polygon, even-odd. */
export function polygon(points: readonly (readonly [number, number])[]): Shape {
  const xs = points.map(([x]) => x);
  const ys = points.map(([, y]) => y);
  return {
    bounds: [Math.min(...xs), Math.min(...ys), Math.max(...xs), Math.max(...ys)],
    holds: (x, y) => {
      let inside = false;
      points.forEach(([x1, y1], k) => {
        const [x2, y2] = points[(k + 1) % points.length];
        if (y1 > y !== y2 > y && x < x1 + ((y - y1) / (y2 - y1)) * (x2 - x1)) inside = !inside;
      });
      return inside;
    },
  };
}

/** A star with sharp points: `outer` and `inner` radius, the first point upwards. */
export function star(cx: number, cy: number, points: number, outer: number, inner: number, turnDeg = 0): Shape {
  return polygon(
    Array.from({ length: 2 * points }, (_, k) => {
      const r = k % 2 === 0 ? outer : inner;
      const a = (Math.PI * k) / points + (turnDeg * Math.PI) / 180;
      return [cx + r * Math.sin(a), cy - r * Math.cos(a)] as const;
    }),
  );
}

export function minus(shape: Shape, hole: Shape): Shape {
  return { bounds: shape.bounds, holds: (x, y) => shape.holds(x, y) && !hole.holds(x, y) };
}

export function drawShapes(widthPx: number, heightPx: number, shapes: readonly Shape[]): BitPlane {
  const plane = createBitPlane(widthPx, heightPx);
  for (const { bounds, holds } of shapes) {
    const [left, top, right, bottom] = bounds;
    for (let row = Math.max(0, Math.floor(top)); row < Math.min(heightPx, Math.ceil(bottom)); row++) {
      for (let column = Math.max(0, Math.floor(left)); column < Math.min(widthPx, Math.ceil(right)); column++) {
        if (holds(column + 0.5, row + 0.5)) setBit(plane, column, row);
      }
    }
  }
  return plane;
}

/** The negative of a drawing: what was opaque is clear, all else within the film opaque. */
export function reversed(plane: BitPlane): BitPlane {
  const result = createBitPlane(plane.widthPx, plane.heightPx);
  for (let row = 0; row < plane.heightPx; row++) {
    for (let column = 0; column < plane.widthPx; column++) {
      const word = plane.words[row * plane.wordsPerRow + (column >> 5)];
      if (((word >>> (column & 31)) & 1) === 0) setBit(result, column, row);
    }
  }
  return result;
}

/** A 1-bit plate of a plane. */
export function plateOf(bits: BitPlane, dpi: number, dpiY = dpi): Plate {
  const opaque = bitCount(bits.words);
  const toneHistogram = new Float64Array(256);
  toneHistogram[255] = opaque;
  toneHistogram[0] = bits.widthPx * bits.heightPx - opaque;
  return {
    id: 'p1',
    inkId: 'i1',
    filmId: 'f1',
    grid: {
      widthPx: bits.widthPx,
      heightPx: bits.heightPx,
      pitchXMm: pitchMmFromDpi(dpi),
      pitchYMm: pitchMmFromDpi(dpiY),
    },
    bits,
    tone: null,
    toneHistogram,
    verified: true,
  };
}
