import { type BitPlane, createBitPlane, setBit } from '../../src/raster/bitPlane.ts';

export type ScreenShape = 'round' | 'euclidean' | 'square' | 'diamond' | 'elliptical' | 'line';

/** How late a place of a cell turns black (u, v from -0.5 to 0.5, the dot's middle at 0): smaller first. */
export const spotFunctions: Readonly<Record<ScreenShape, (u: number, v: number) => number>> = {
  round: (u, v) => Math.hypot(u, v),
  euclidean: (u, v) => -Math.cos(2 * Math.PI * u) - Math.cos(2 * Math.PI * v),
  square: (u, v) => Math.max(Math.abs(u), Math.abs(v)),
  diamond: (u, v) => Math.abs(u) + Math.abs(v),
  elliptical: (u, v) => -0.7 * Math.cos(2 * Math.PI * u) - 1.3 * Math.cos(2 * Math.PI * v),
  line: (_u, v) => Math.abs(v),
};

export type Spot = (u: number, v: number) => number;

export interface Screening {
  readonly rulingLpi: number;
  /** Counter-clockwise as seen, of the cells' u axis. */
  readonly angleDeg: number;
  readonly spot: Spot;
  /** Shift of the dots' middles, in cells. */
  readonly phase?: readonly [number, number];
}

/** The level of a spot function at which a tone from 0 to 1 of the cell is black. */
export function thresholdsOf(spot: Spot): (tone: number) => number {
  const side = 400;
  const sorted = new Float64Array(side * side);
  for (let k = 0; k < sorted.length; k++) {
    sorted[k] = spot(((k % side) + 0.5) / side - 0.5, (Math.floor(k / side) + 0.5) / side - 0.5);
  }
  sorted.sort();
  return (tone) => (tone <= 0 ? -Infinity : tone >= 1 ? Infinity : sorted[Math.floor(tone * sorted.length)]);
}

/** How a screened tone is asked at a place in mm: true where it is black. */
export function screenOf({ rulingLpi, angleDeg, spot, phase = [0, 0] }: Screening) {
  const levelOf = thresholdsOf(spot);
  const levels = Float64Array.from({ length: 10_001 }, (_, k) => levelOf(k / 10_000));
  const perMm = rulingLpi / 25.4;
  const cos = perMm * Math.cos((angleDeg * Math.PI) / 180);
  const sin = perMm * Math.sin((angleDeg * Math.PI) / 180);
  return (xMm: number, yMm: number, tone: number): boolean => {
    const u = xMm * cos - yMm * sin + phase[0];
    const v = xMm * sin + yMm * cos + phase[1];
    return spot(u - Math.round(u), v - Math.round(v)) < levels[Math.round(10_000 * tone)];
  };
}

/**
 * A plane whose pixels are asked at their middles, in mm: `black` answers for a place.
 */
export function planeOf(
  widthPx: number,
  heightPx: number,
  pitchXMm: number,
  pitchYMm: number,
  black: (xMm: number, yMm: number) => boolean,
): BitPlane {
  const plane = createBitPlane(widthPx, heightPx);
  for (let row = 0; row < heightPx; row++) {
    for (let column = 0; column < widthPx; column++) {
      if (black((column + 0.5) * pitchXMm, (row + 0.5) * pitchYMm)) setBit(plane, column, row);
    }
  }
  return plane;
}
