import type { PDFDict } from '@cantoo/pdf-lib';
import { identity, type Matrix } from '../../geometry/matrix.ts';
import { type ColourSpace, deviceGray } from './colourSpace.ts';
import type { Clip, SoftMask } from './scene.ts';

/** A colour as set: components of its space, or a pattern with the components of an uncoloured one. */
export interface Colour {
  readonly space: ColourSpace;
  readonly components: readonly number[];
  readonly patternName: string | null;
  /** The resources in which the pattern's name stands, and the base matrix of the stream that set it. */
  readonly resources: PDFDict | null;
  readonly baseMatrix: Matrix;
}

/** Graphics state of ISO 32000-1, tables 52 and 53. `matrix` goes to film mm. */
export interface GraphicsState {
  matrix: Matrix;
  clip: Clip | null;
  fill: Colour;
  stroke: Colour;
  lineWidth: number;
  cap: 0 | 1 | 2;
  join: 0 | 1 | 2;
  miterLimit: number;
  dash: readonly number[];
  dashPhase: number;
  fillAlpha: number;
  strokeAlpha: number;
  blendMode: string;
  softMask: SoftMask | null;
  overprintFill: boolean;
  overprintStroke: boolean;
  overprintMode: 0 | 1;
  font: PDFDict | null;
  fontSize: number;
  charSpacing: number;
  wordSpacing: number;
  scalePercent: number;
  leading: number;
  rise: number;
  textMode: number;
}

export function initialState(matrix: Matrix = identity): GraphicsState {
  const black: Colour = { space: deviceGray, components: [0], patternName: null, resources: null, baseMatrix: matrix };
  return {
    matrix,
    clip: null,
    fill: black,
    stroke: black,
    lineWidth: 1,
    cap: 0,
    join: 0,
    miterLimit: 10,
    dash: [],
    dashPhase: 0,
    fillAlpha: 1,
    strokeAlpha: 1,
    blendMode: 'Normal',
    softMask: null,
    overprintFill: false,
    overprintStroke: false,
    overprintMode: 0,
    font: null,
    fontSize: 0,
    charSpacing: 0,
    wordSpacing: 0,
    scalePercent: 100,
    leading: 0,
    rise: 0,
    textMode: 0,
  };
}

/** The colour a space begins with (ISO 32000-1, 8.6.3): black, or full tint for named colorants. */
export function initialColour(space: ColourSpace): Colour {
  const components =
    space.kind === 'cmyk' ? [0, 0, 0, 1] : new Array<number>(space.components).fill(space.kind === 'inks' ? 1 : 0);
  return { space, components, patternName: null, resources: null, baseMatrix: identity };
}
