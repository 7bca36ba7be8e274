import { pathOperators } from './pathOperators.ts';
import { pdfColour, pdfNumber } from './pdfFile.ts';

/** How a path is painted; colours are `#rrggbb`, widths in the units of the path. */
export interface PathPaint {
  readonly fillHex: string | null;
  readonly strokeHex: string | null;
  readonly strokeWidth: number;
  readonly dash?: readonly number[];
  readonly opacity?: number;
}

/** A place on a sheet that leads to a named place. */
export interface Link {
  readonly x: number;
  readonly y: number;
  readonly width: number;
  readonly height: number;
  readonly goTo: string;
}

/** What is drawn on one page. Lengths are points from the top left corner, y down; names are of the page's resources. */
export class Sheet {
  readonly links: Link[] = [];
  private readonly operators: string[] = [];
  private lastPath: { readonly d: string; readonly operators: string } | null = null;

  /** Everything drawn, for a page of this height. */
  content(heightPt: number): Buffer {
    return Buffer.from(`1 0 0 -1 0 ${pdfNumber(heightPt)} cm\n${this.operators.join('\n')}\n`, 'latin1');
  }

  fillRect(x: number, y: number, width: number, height: number, fillHex: string): void {
    this.operators.push(`${pdfColour(fillHex)} rg`, `${numbers(x, y, width, height)} re f`);
  }

  /** A rectangle filled and with an outline. */
  box(
    x: number,
    y: number,
    width: number,
    height: number,
    fillHex: string,
    strokeHex: string,
    lineWidth: number,
  ): void {
    this.operators.push(
      `${pdfColour(fillHex)} rg ${pdfColour(strokeHex)} RG ${pdfNumber(lineWidth)} w`,
      `${numbers(x, y, width, height)} re B`,
    );
  }

  line(x1: number, y1: number, x2: number, y2: number, hex: string, lineWidth: number): void {
    this.operators.push(
      `${pdfColour(hex)} RG ${pdfNumber(lineWidth)} w`,
      `${numbers(x1, y1)} m ${numbers(x2, y2)} l S`,
    );
  }

  /** SVG path data with its origin at x, y, `scale` points a unit. */
  path(d: string, paint: PathPaint, x: number, y: number, scale: number): void {
    const { fillHex, strokeHex, strokeWidth, dash, opacity } = paint;
    if (fillHex === null && strokeHex === null) return;
    const state = [`q ${numbers(scale, 0, 0, scale, x, y)} cm`];
    if (opacity !== undefined) state.push(`/${opacityName(opacity)} gs`);
    if (dash !== undefined) state.push(`[${dash.map(pdfNumber).join(' ')}] 0 d`);
    if (fillHex !== null) state.push(`${pdfColour(fillHex)} rg`);
    if (strokeHex !== null) state.push(`${pdfColour(strokeHex)} RG ${pdfNumber(strokeWidth)} w`);
    const finish = fillHex === null ? 'S' : strokeHex === null ? 'f' : 'B';
    // A mark over art is drawn twice, light below dark.
    if (this.lastPath?.d !== d) this.lastPath = { d, operators: pathOperators(d) };
    this.operators.push(state.join(' '), this.lastPath.operators, `${finish} Q`);
  }

  /** What `draw` draws, within a rectangle alone. */
  within(x: number, y: number, width: number, height: number, draw: () => void): void {
    this.operators.push(`q ${numbers(x, y, width, height)} re W n`);
    draw();
    this.operators.push('Q');
  }

  picture(name: string, x: number, y: number, width: number, height: number): void {
    this.operators.push(`q ${numbers(width, 0, 0, -height, x, y + height)} cm /${name} Do Q`);
  }

  /** Glyphs on a baseline; `shown` is the operand of TJ. */
  glyphs(fontName: string, size: number, x: number, baseline: number, shown: string, hex: string): void {
    this.operators.push(
      `${pdfColour(hex)} rg BT /${fontName} ${pdfNumber(size)} Tf ${numbers(1, 0, 0, -1, x, baseline)} Tm ${shown} TJ ET`,
    );
  }
}

/** The name of the graphics state that has an opacity: `T32` for 0.32. */
export function opacityName(opacity: number): string {
  return `T${Math.round(opacity * 100)}`;
}

function numbers(...values: readonly number[]): string {
  return values.map(pdfNumber).join(' ');
}
