import type { BoxMm } from '../geometry/box.ts';
import type { Outline } from './outline.ts';

/** Something painted on a film, with what the file says of it exactly. */
export interface ArtObject {
  /** Unique within the film. */
  readonly id: string;
  readonly kind: 'fill' | 'stroke' | 'text' | 'image' | 'shading';
  /** Box of what is drawn, clip not applied, in film space. */
  readonly boxMm: BoxMm;
  /** Inks painted with, by `FilmInk.key`, and the tint of each (0–1); empty for white and for images without ink. */
  readonly inks: readonly { readonly key: string; readonly tintRatio: number }[];
  /** Paints with paper white or with no ink: it knocks out what lies below. */
  readonly isWhite: boolean;
  /** Stroke width after every transform, smallest and largest when the transform is unequal; null without a stroke. */
  readonly strokeWidthMm: { readonly min: number; readonly max: number } | null;
  /**
   * What it covers exactly. Not given where the file does not state it: for texts, pictures, shadings and patterns, for
   * what is seen through, blended or masked, and where something else than paths clips it.
   */
  readonly outline?: Outline;
  readonly text: {
    readonly fontName: string;
    readonly sizePt: number;
    /** The file carries the font. */
    readonly embedded: boolean;
    /** What was drawn is the font asked for. */
    readonly resolved: boolean;
    /** First characters, for people to find it. */
    readonly excerpt: string;
  } | null;
  readonly image: {
    readonly widthPx: number;
    readonly heightPx: number;
    readonly ppiX: number;
    readonly ppiY: number;
    readonly bitsPerComponent: number;
    readonly colour: 'bilevel' | 'grey' | 'rgb' | 'cmyk' | 'spot' | 'indexed' | 'other';
  } | null;
  readonly overprint: { readonly fill: boolean; readonly stroke: boolean; readonly mode: 0 | 1 } | null;
  readonly opacityRatio: number;
  readonly blendMode: string;
  /** Layer and group labels from the outside in. */
  readonly layerPath: readonly string[];
  /** Null: seen. Else why nothing of it is. */
  readonly hidden: 'layerOff' | 'covered' | 'outsidePage' | 'clippedAway' | 'transparent' | 'sameAsGround' | null;
}
