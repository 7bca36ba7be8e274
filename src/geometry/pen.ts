import type { Matrix } from './matrix.ts';

/**
 * What a line is drawn with (ISO 32000-1, 8.4.3; SVG 2, 13.5). `matrix` takes its user space to film mm; `width` and
 * the dashes are in user space.
 */
export interface Pen {
  readonly width: number;
  readonly cap: 0 | 1 | 2;
  readonly join: 0 | 1 | 2;
  readonly miterLimit: number;
  readonly dash: readonly number[];
  readonly dashPhase: number;
  readonly matrix: Matrix;
}
