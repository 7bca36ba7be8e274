import type { BitPlane } from '../raster/bitPlane.ts';
import type { PixelGrid } from '../raster/pixelGrid.ts';

/**
 * How a film is drawn. A reader resolves the file once and answers with passes: plain data that can be handed to a
 * worker, each drawing up to three inks at once. The engines that carry passes out live in `plates/`.
 */
export interface FilmDrawing {
  /** Grid of the evidence itself for a bitmap film, which is never resampled; null for vectors, drawn at any pitch. */
  readonly nativeGrid: PixelGrid | null;
  /**
   * The passes that draw the inks with these keys on this grid. Every key is in exactly one pass.
   * For a film with a native grid, `grid` is that grid.
   */
  plan(keys: readonly string[], grid: PixelGrid): Promise<readonly DrawPass[]>;
}

export interface DrawPass {
  readonly grid: PixelGrid;
  /** `FilmInk.key` of each channel of the strips, in order. */
  readonly keys: readonly string[];
  /** Draws only these rows of the grid, `bottom` not included; all when not given. */
  readonly rows?: { readonly top: number; readonly bottom: number };
  readonly job: PdfJob | SvgJob | BitmapJob | OneBitJob;
}

/** One page of a PDF in which the inks of the pass stand in the red, green and blue of DeviceRGB (0 = opaque). */
export interface PdfJob {
  readonly engine: 'pdf';
  readonly bytes: Uint8Array;
  readonly pageIndex: number;
  /** The page is one 1-bit image at its own resolution: strips are bits. */
  readonly bilevel?: boolean;
}

/** A resolved SVG: fragments in film mm whose colours carry the inks of the pass in red, green and blue (0 = opaque). */
export interface SvgJob {
  readonly engine: 'svg';
  readonly defs: string;
  /** In painting order; `boxMm` null means it may draw anywhere. */
  readonly fragments: readonly {
    readonly markup: string;
    readonly boxMm: readonly [number, number, number, number] | null;
  }[];
}

/** A bitmap: the file and how each channel is found in it. `recipe` is defined by the bitmap reader and engine. */
export interface BitmapJob {
  readonly engine: 'bitmap';
  readonly bytes: Uint8Array;
  readonly recipe: unknown;
}

/** A one-bit bitmap, whose pixels the reader has unpacked as the plate they are. */
export interface OneBitJob {
  readonly engine: 'bitmap';
  readonly pixels: BitPlane;
}
