import type { Plate } from '../../src/plates/plate.ts';
import { bitAt } from '../../src/raster/bitPlane.ts';
import { filmOf, isDark, type Screening } from './screenedFilms.ts';

/** A disc of a tint, all in pixels. */
export interface Island {
  readonly column: number;
  readonly row: number;
  readonly radius: number;
  /** Clear film around it; the art touches it where that is 0. */
  readonly gap: number;
}

/** Line art with a small island of a tint in it. */
export function withIsland(art: Plate, dpi: number, island: Island, screening: Screening, tone: number): Plate {
  const { widthPx, heightPx } = art.grid;
  const { column: x, row: y, radius, gap } = island;
  return filmOf(widthPx, heightPx, dpi, (column, row) => {
    const away = Math.hypot(column - x, row - y);
    if (away < radius) return isDark(screening, tone, (column + 0.5) / dpi, (row + 0.5) / dpi);
    return away >= radius + gap && bitAt(art.bits, column, row) === 1;
  });
}
