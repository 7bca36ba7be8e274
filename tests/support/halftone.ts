import { type BitPlane, createBitPlane, setBit } from '../../src/raster/bitPlane.ts';

export type DotShape = 'round' | 'euclid' | 'ellipse' | 'diamond';

/** How dark a cell turns at a place of it (u, v from −0.5 to 0.5) as the tone grows: larger first. */
const spotFunctions: Record<DotShape, (u: number, v: number) => number> = {
  round: (u, v) => -Math.hypot(u, v),
  euclid: (u, v) => Math.cos(2 * Math.PI * u) + Math.cos(2 * Math.PI * v),
  ellipse: (u, v) => 1.2 * Math.cos(2 * Math.PI * u) + 0.8 * Math.cos(2 * Math.PI * v),
  diamond: (u, v) => -(Math.abs(u) + Math.abs(v)),
};

export interface HalftoneArea {
  readonly rulingLpi: number;
  readonly angleDeg: number;
  readonly shape: DotShape;
  /** Tone from 0 to 1 at a place, by the share of the width and of the height. */
  readonly toneAt: (across: number, down: number) => number;
  /** Left, top, right, bottom in pixels. */
  readonly bounds: readonly [number, number, number, number];
}

/** Draws amplitude-modulated dots into a plane: each cell is filled from its middle until its tone is reached. */
export function drawHalftone(plane: BitPlane, dpi: number, area: HalftoneArea): void {
  const spot = spotFunctions[area.shape];
  const sorted = new Float64Array(200 * 200);
  for (let k = 0; k < sorted.length; k++)
    sorted[k] = spot(((k % 200) + 0.5) / 200 - 0.5, (Math.floor(k / 200) + 0.5) / 200 - 0.5);
  sorted.sort();
  const period = dpi / area.rulingLpi;
  const cos = Math.cos((area.angleDeg * Math.PI) / 180);
  const sin = Math.sin((area.angleDeg * Math.PI) / 180);
  const [left, top, right, bottom] = area.bounds;
  for (let row = top; row < bottom; row++) {
    for (let column = left; column < right; column++) {
      const x = column + 0.5;
      const y = row + 0.5;
      const u = (x * cos - y * sin) / period;
      const v = (x * sin + y * cos) / period;
      const tone = area.toneAt((column - left) / (right - left), (row - top) / (bottom - top));
      const threshold = sorted[Math.min(sorted.length - 1, Math.floor((1 - tone) * sorted.length))];
      if (tone > 0 && spot(u - Math.floor(u) - 0.5, v - Math.floor(v) - 0.5) >= threshold) setBit(plane, column, row);
    }
  }
}

/** Dots of one size set at random: frequency-modulated tone. */
export function noisePlane(
  widthPx: number,
  heightPx: number,
  dotPx: number,
  tone: number,
  random: () => number,
): BitPlane {
  const plane = createBitPlane(widthPx, heightPx);
  for (let top = 0; top < heightPx; top += dotPx) {
    for (let left = 0; left < widthPx; left += dotPx) {
      if (random() >= tone) continue;
      for (let row = top; row < Math.min(heightPx, top + dotPx); row++) {
        for (let column = left; column < Math.min(widthPx, left + dotPx); column++) setBit(plane, column, row);
      }
    }
  }
  return plane;
}
