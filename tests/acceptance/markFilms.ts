import type { Plate } from '../../src/plates/plate.ts';
import { createBitPlane, setBit } from '../../src/raster/bitPlane.ts';
import { plateOf } from '../support/analyticShapes.ts';

/** Opaque at a point (mm) about the mark's middle; y runs down. */
type Ink = (x: number, y: number) => boolean;

export const designs = ['ring', 'doubleRing', 'gappedRing', 'quarters', 'whiteCross', 'cross', 'slantRing'] as const;
export type Design = (typeof designs)[number];
/** Designs with a ring or disc, whose centre is carried by a curve. */
export const ringed: ReadonlySet<Design> = new Set(['ring', 'doubleRing', 'gappedRing', 'slantRing']);

export function markInk(design: Design, sizeMm: number, lineMm: number): Ink {
  const half = sizeMm / 2;
  const h = lineMm / 2;
  const arms: Ink = (x, y) => (Math.abs(x) <= h && Math.abs(y) <= half) || (Math.abs(y) <= h && Math.abs(x) <= half);
  const ring =
    (radius: number): Ink =>
    (x, y) =>
      Math.abs(Math.hypot(x, y) - radius) <= h;
  switch (design) {
    case 'cross':
      return arms;
    case 'ring':
      return (x, y) => arms(x, y) || ring(0.34 * sizeMm)(x, y);
    case 'slantRing':
      return (x, y) => arms(x, y) || ring(0.42 * sizeMm)(x, y);
    case 'doubleRing':
      return (x, y) => arms(x, y) || ring(0.2 * sizeMm)(x, y) || ring(0.38 * sizeMm)(x, y);
    case 'gappedRing':
      return (x, y) => arms(x, y) || (ring(0.33 * sizeMm)(x, y) && Math.abs(Math.abs(x) - Math.abs(y)) > 0.08 * sizeMm);
    case 'quarters':
      return (x, y) => arms(x, y) || (Math.hypot(x, y) <= 0.27 * sizeMm && x * y < 0);
    case 'whiteCross':
      return (x, y) => {
        const inside = Math.hypot(x, y) <= 0.28 * sizeMm;
        return inside !== arms(x, y);
      };
  }
}

export interface Placed {
  readonly xMm: number;
  readonly yMm: number;
  readonly reachMm: number;
  readonly ink: Ink;
}

/** Where the drawing lies on the film: stretched by axis, turned counter-clockwise as seen about the middle, moved. */
export interface Lie {
  readonly dxMm: number;
  readonly dyMm: number;
  readonly turnDeg: number;
  readonly scaleX: number;
  readonly scaleY: number;
}

export interface FilmSize {
  readonly widthMm: number;
  readonly heightMm: number;
  readonly dpi: number;
}

/** Where a point of the drawing lies on the film. */
export function onFilm(size: FilmSize, lie: Lie, xMm: number, yMm: number): [number, number] {
  const angle = (lie.turnDeg * Math.PI) / 180;
  const x = (xMm - size.widthMm / 2) * lie.scaleX;
  const y = (yMm - size.heightMm / 2) * lie.scaleY;
  return [
    size.widthMm / 2 + x * Math.cos(angle) + y * Math.sin(angle) + lie.dxMm,
    size.heightMm / 2 - x * Math.sin(angle) + y * Math.cos(angle) + lie.dyMm,
  ];
}

/** A film of marks and art, opaque where a pixel's centre is. */
export function drawnFilm(id: string, size: FilmSize, lie: Lie, placed: readonly Placed[]): Plate {
  const pitch = 25.4 / size.dpi;
  const bits = createBitPlane(Math.round(size.widthMm / pitch), Math.round(size.heightMm / pitch));
  const angle = (lie.turnDeg * Math.PI) / 180;
  for (const { xMm, yMm, reachMm, ink } of placed) {
    const [middleX, middleY] = onFilm(size, lie, xMm, yMm);
    const reach = reachMm * 1.05 + 0.5;
    const left = Math.max(0, Math.floor((middleX - reach) / pitch));
    const right = Math.min(bits.widthPx, Math.ceil((middleX + reach) / pitch));
    const top = Math.max(0, Math.floor((middleY - reach) / pitch));
    const bottom = Math.min(bits.heightPx, Math.ceil((middleY + reach) / pitch));
    for (let row = top; row < bottom; row++) {
      for (let column = left; column < right; column++) {
        const x = (column + 0.5) * pitch - middleX;
        const y = (row + 0.5) * pitch - middleY;
        const alongX = (x * Math.cos(angle) - y * Math.sin(angle)) / lie.scaleX;
        const alongY = (x * Math.sin(angle) + y * Math.cos(angle)) / lie.scaleY;
        if (ink(alongX, alongY)) setBit(bits, column, row);
      }
    }
  }
  return { ...plateOf(bits, size.dpi), id };
}

/** Art with nothing like a mark in it but plus signs, bars, rings and discs of many sizes. */
export function artOf(size: FilmSize, count: number, random: () => number): Placed[] {
  return Array.from({ length: count }, (): Placed => {
    const radius = 1.5 + 9 * random();
    const kind = Math.floor(5 * random());
    const turn = random() * Math.PI;
    const ratio = 0.15 + 0.7 * random();
    const ink: Ink = (x, y) => {
      const u = x * Math.cos(turn) + y * Math.sin(turn);
      const v = y * Math.cos(turn) - x * Math.sin(turn);
      const away = Math.hypot(x, y);
      if (kind === 0) return away <= radius;
      if (kind === 1) return Math.abs(u) <= radius && Math.abs(v) <= radius * ratio;
      if (kind === 2) return away <= radius && away >= radius * ratio;
      if (kind === 3) return Math.abs(u) + 2 * Math.abs(v) <= radius;
      return (
        (Math.abs(x) <= 0.3 * radius && Math.abs(y) <= radius) || (Math.abs(y) <= 0.3 * radius && Math.abs(x) <= radius)
      );
    };
    return {
      xMm: 25 + random() * (size.widthMm - 50),
      yMm: 25 + random() * (size.heightMm - 50),
      reachMm: 1.5 * radius,
      ink,
    };
  });
}
