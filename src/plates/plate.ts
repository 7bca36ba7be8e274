import type { BitPlane } from '../raster/bitPlane.ts';
import type { PixelGrid } from '../raster/pixelGrid.ts';
import type { TonePlane } from '../raster/tonePlane.ts';

/** One ink's image on one film. */
export interface Plate {
  readonly id: string;
  readonly inkId: string;
  readonly filmId: string;
  readonly grid: PixelGrid;
  /** 1 = opaque: tone of 128 and above. */
  readonly bits: BitPlane;
  /** The tones, 0 = clear … 255 = opaque; null when every pixel is 0 or 255. */
  readonly tone: TonePlane | null;
  /** Number of pixels of each tone. */
  readonly toneHistogram: Float64Array;
  /**
   * False when the reader noted something it could not draw on this plate; every reading then needs review.
   */
  readonly verified: boolean;
}

/** What there is to look at of a plate. */
export type SeenPlate = Pick<Plate, 'id' | 'inkId' | 'filmId' | 'grid' | 'bits' | 'tone'>;
