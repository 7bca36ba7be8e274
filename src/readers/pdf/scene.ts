import type { PDFDict, PDFRawStream } from '@cantoo/pdf-lib';
import type { BoxMm } from '../../geometry/box.ts';
import type { Matrix } from '../../geometry/matrix.ts';
import type { PathRange } from '../../geometry/pathStore.ts';
import type { Pen } from '../../geometry/pen.ts';
import type { ColourSpace } from './colourSpace.ts';
import type { Paint } from './paint.ts';

/**
 * A page resolved: everything painted, in painting order, in film mm. Forms are unrolled; what stays nested are
 * transparency groups and the cells of tiling patterns.
 */
export type SceneItem = PathItem | ImageItem | ShadingItem | TextItem | GroupItem | TileItem;

interface Placed {
  readonly composite: Composite;
  readonly clip: Clip | null;
  readonly boxMm: BoxMm;
}

export interface PathItem extends Placed {
  readonly type: 'fill' | 'stroke';
  readonly path: PathRange;
  readonly evenOdd: boolean;
  readonly pen: Pen | null;
  readonly paint: Paint;
}

/** `matrix` takes the unit square (y up) to film mm. A stencil is painted with `paint`; other images carry colours. */
export interface ImageItem extends Placed {
  readonly type: 'image';
  readonly matrix: Matrix;
  readonly image: ImageFacts;
  readonly paint: Paint | null;
  readonly leavesOthers: boolean;
}

/** A smooth shading: painted over the whole clip. `matrix` takes shading space to film mm. */
export interface ShadingItem extends Placed {
  readonly type: 'shading';
  readonly shading: ShadingFacts;
  readonly matrix: Matrix;
  readonly leavesOthers: boolean;
}

/** A run of strings from one positioning on; the strings follow each other, each with a state of its own. */
export interface TextItem extends Placed {
  readonly type: 'text';
  readonly line: TextLine;
}

export interface GroupItem extends Placed {
  readonly type: 'group';
  readonly items: readonly SceneItem[];
  readonly isolated: boolean;
  readonly knockout: boolean;
}

/** One cell painted at many places, each an offset in film mm. */
export interface TileItem extends Placed {
  readonly type: 'tiles';
  readonly items: readonly SceneItem[];
  readonly offsetsMm: readonly number[];
}

/** How an object meets what lies below it. */
export interface Composite {
  readonly alpha: number;
  readonly blendMode: string;
  readonly softMask: SoftMask | null;
}

export interface SoftMask {
  readonly dict: PDFDict;
  /** From the space in which the mask was set to film mm. */
  readonly matrix: Matrix;
}

export interface Clip {
  readonly parent: Clip | null;
  readonly shape: { readonly path: PathRange; readonly evenOdd: boolean } | { readonly lines: readonly TextLine[] };
  /** Box of this clip met with all its parents; null when nothing is left. */
  readonly boxMm: BoxMm | null;
  /** The box when the shape is an upright rectangle. */
  readonly rectangleMm: BoxMm | null;
}

export interface TextLine {
  /** From text space at the start of the line to film mm, font size not applied. */
  readonly matrix: Matrix;
  readonly shows: readonly TextShow[];
}

export interface TextShow {
  readonly font: PDFDict;
  readonly fontSize: number;
  readonly charSpacing: number;
  readonly wordSpacing: number;
  readonly scalePercent: number;
  readonly rise: number;
  /** ISO 32000-1, table 106, without the clip bit: 0 fill, 1 stroke, 2 both, 3 neither. */
  readonly mode: 0 | 1 | 2 | 3;
  readonly pen: Pen | null;
  readonly parts: readonly (Uint8Array | number)[];
  readonly fillPaint: Paint | null;
  readonly strokePaint: Paint | null;
}

export interface ImageFacts {
  readonly dict: PDFDict;
  readonly stream: PDFRawStream | null;
  /** Data of an inline image, with its dictionary as `dict`. */
  readonly inlineData: Uint8Array | null;
  readonly widthPx: number;
  readonly heightPx: number;
  readonly bits: number;
  readonly isStencil: boolean;
  readonly space: ColourSpace | null;
  readonly hasMask: boolean;
  readonly filters: readonly string[];
}

export interface ShadingFacts {
  readonly dict: PDFDict;
  readonly stream: PDFRawStream | null;
  readonly space: ColourSpace;
  readonly background: Paint | null;
}
