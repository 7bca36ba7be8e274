import type { Verdict } from '../findings/outcome.ts';
import { circle, type Drawing, drawingToSvg, line, type Shape } from './shapes.ts';
import { verdictWords } from './words.ts';

/**
 * The register target drawn as two films, 24 × 24 units: lying on each other, a hair apart, clearly apart, or a dashed
 * ring when nothing was checked. One colour; told apart by shape alone at 12 px.
 */
export function verdictSign(verdict: Verdict): Drawing {
  return { width: 24, height: 24, shapes: signShapes[verdict], label: verdictWords[verdict] };
}

/** The sign as inline SVG. */
export function verdictSignSvg(verdict: Verdict, className = 'sign'): string {
  return drawingToSvg(verdictSign(verdict), { className });
}

function target(x: number, y: number, radius: number, arm: number, strokeWidth: number): Shape {
  const d = circle(x, y, radius) + line(x - arm, y, x + arm, y) + line(x, y - arm, x, y + arm);
  return { kind: 'path', d, fill: 'none', stroke: 'text', strokeWidth };
}

const signShapes: Readonly<Record<Verdict, readonly Shape[]>> = {
  pass: [target(12, 12, 6.5, 11, 2)],
  needsReview: [target(10.4, 10.4, 6.2, 9.6, 1.3), target(13.6, 13.6, 6.2, 9.6, 1.3)],
  fail: [target(7.6, 7.6, 4.6, 7, 1.5), target(16.4, 16.4, 4.6, 7, 1.5)],
  couldNotRun: [
    { kind: 'path', d: circle(12, 12, 8.5), fill: 'none', stroke: 'text', strokeWidth: 2, dash: [3.6, 3.08] },
  ],
};
