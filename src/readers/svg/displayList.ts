import type { BoxMm } from '../../geometry/box.ts';
import type { Matrix } from '../../geometry/matrix.ts';
import type { Path } from './paths.ts';
import type { FlatColour } from './svgColours.ts';
import type { SvgElement } from './svgElement.ts';

/** A colour of the file as it is painted with. */
export interface Swatch {
  readonly colour: FlatColour;
  /** Own alpha times the opacities that apply to it. */
  readonly alpha: number;
  /** Named in the paint itself. */
  readonly spot: { readonly name: string; readonly tintRatio: number } | null;
}

export interface FlatPaint {
  readonly kind: 'flat';
  readonly swatch: Swatch;
}

export interface GradientPaint {
  readonly kind: 'gradient';
  readonly form: 'linear' | 'radial';
  /** x1, y1, x2, y2 or cx, cy, r, fx, fy, fr. */
  readonly geometry: readonly number[];
  /** From the gradient's space to the user space of the shape, or to its box where `ofBox`. */
  readonly matrix: Matrix;
  readonly ofBox: boolean;
  readonly spread: string;
  readonly stops: readonly { readonly offset: number; readonly swatch: Swatch }[];
  /** No colour runs into another: every place has one of the stops' colours. */
  readonly hard: boolean;
  readonly alpha: number;
}

export type Paint = FlatPaint | GradientPaint;

export interface Stroke {
  /** In the units of the path as it is emitted. */
  readonly width: number;
  readonly cap: string;
  readonly join: string;
  readonly miterLimit: number;
  readonly dashes: readonly number[];
  readonly dashOffset: number;
}

export interface TextRun {
  readonly tag: 'text' | 'tspan';
  /** Layout and font attributes, ready as markup. */
  readonly attributes: string;
  readonly fill: Paint | null;
  readonly stroke: { readonly paint: Paint; readonly stroke: Stroke } | null;
  readonly children: readonly (TextRun | string)[];
}

export interface Layer {
  readonly element: SvgElement;
  readonly label: string;
  /** It counts as a layer, so a colour of its own may take its name. */
  readonly isLayer: boolean;
}

export type HiddenReason = 'layerOff' | 'covered' | 'outsidePage' | 'clippedAway' | 'transparent' | 'sameAsGround';

/** One painted fill, stroke, text or picture. */
export interface Leaf {
  readonly type: 'leaf';
  /** Place in `Resolved.leaves`, or -1 inside clips and masks. */
  readonly index: number;
  readonly objectId: string;
  readonly kind: 'fill' | 'stroke' | 'text' | 'image';
  readonly path: Path;
  /** From the path's units to film mm. */
  readonly matrix: Matrix;
  /** Null for texts, which have paints of their own, and for pictures that do not become an ink. */
  readonly paint: Paint | null;
  readonly fillRule: string;
  readonly stroke: Stroke | null;
  readonly strokeWidthMm: { readonly min: number; readonly max: number } | null;
  readonly text: TextRun | null;
  readonly font: { readonly family: string; readonly sizeMm: number; readonly excerpt: string } | null;
  readonly image: LeafImage | null;
  readonly clips: readonly Clip[];
  /** Box of what is drawn, null when it is only known by drawing it. */
  readonly boxMm: BoxMm | null;
  /** Box for leaving it out of tiles: with room for mitred corners. That of a text is found by drawing it once. */
  cullBoxMm: BoxMm | null;
  readonly inkLabel: string | null;
  readonly layers: readonly Layer[];
  readonly seeThrough: boolean;
  readonly opacityRatio: number;
  readonly blendMode: string;
  /** Not drawn at all, and why. */
  readonly off: HiddenReason | null;
}

export interface LeafImage {
  readonly widthPx: number;
  readonly heightPx: number;
  readonly ppiX: number;
  readonly ppiY: number;
  readonly bitsPerComponent: number;
  readonly colour: 'bilevel' | 'grey' | 'rgb' | 'cmyk' | 'indexed' | 'other';
  /** One byte a pixel: 0 = ink, 1 = white, 2 = nothing; null for a picture that is not only black and white. */
  readonly pixels: Uint8Array | null;
}

export interface Group {
  readonly type: 'group';
  readonly children: readonly Item[];
  readonly opacity: number;
  readonly blend: string;
  readonly mask: Mask | null;
  readonly clips: readonly Clip[];
  readonly cullBoxMm: BoxMm | null;
}

/** The same items once more, moved over the film: a tile of a pattern. */
export interface Instance {
  readonly type: 'instance';
  readonly shift: Matrix;
  readonly children: readonly Item[];
  readonly clips: readonly Clip[];
  readonly cullBoxMm: BoxMm | null;
}

export type Item = Leaf | Group | Instance;

export interface Clip {
  readonly id: string;
  readonly shapes: readonly Item[];
  /** Clips of the clip itself. */
  readonly within: readonly Clip[];
  /** What lies outside it is clipped for certain; null: nothing known. */
  readonly boxMm: BoxMm | null;
  /** The clip is its box. */
  readonly isRectangle: boolean;
}

export interface Mask {
  readonly id: string;
  readonly items: readonly Item[];
  readonly usesAlpha: boolean;
  /** It lets anything through by halves. */
  readonly hasTone: boolean;
}

export const emptyBox: BoxMm = { xMm: 0, yMm: 0, widthMm: 0, heightMm: 0 };
