import type { PointMm } from '../geometry/box.ts';
import type { Plate } from '../plates/plate.ts';
import { toneAt } from '../raster/tonePlane.ts';
import type { Turned } from './marksLook.ts';
import type { ShapedMark } from './marksShaped.ts';

const mostPoints = 900;
/** Tones darker on the lines of a mark than beside them, by which something of it is there. */
const leastContrast = 8;

/**
 * Whether the tones of a soft film are darker (lighter for a white mark) along the lines of a mark than around them, at
 * the best of the places near one: too faint to be cut out, but not nothing.
 */
export function showsTraceOf(
  found: ShapedMark,
  { tone, grid }: Plate,
  at: PointMm,
  withinMm: number,
  turned: Turned,
): boolean {
  if (tone === null) return false;
  const { window, column, row, mark } = found;
  const { width, height, ink } = window;
  const pitchXMm = window.pitchMm / Math.max(1, window.aspect);
  const pitchYMm = pitchXMm * window.aspect;
  const inside: [number, number][] = [];
  for (let r = 0; r < height; r++) {
    for (let c = 0; c < width; c++) {
      if (ink[r * width + c] === 0) continue;
      const x = (c + 0.5 - column) * pitchXMm;
      const y = (r + 0.5 - row) * pitchYMm;
      inside.push([turned.a * x + turned.c * y, turned.b * x + turned.d * y]);
    }
  }
  const every = Math.max(1, Math.floor(inside.length / mostPoints));
  const points = inside.filter((_, index) => index % every === 0);
  const meanAt = (x: number, y: number): number => {
    let sum = 0;
    for (const [dx, dy] of points) {
      sum += toneAt(tone, Math.floor((x + dx) / grid.pitchXMm), Math.floor((y + dy) / grid.pitchYMm));
    }
    return sum / points.length;
  };
  const step = Math.max(mark.lineWeightMm / 2, grid.pitchXMm);
  const means: number[] = [];
  for (let y = -withinMm; y <= withinMm; y += step) {
    for (let x = -withinMm; x <= withinMm; x += step) means.push(meanAt(at.xMm + x, at.yMm + y));
  }
  const sorted = means.sort((a, b) => a - b);
  const middle = sorted[sorted.length >> 1];
  return (found.window.reversed ? middle - sorted[0] : sorted[sorted.length - 1] - middle) >= leastContrast;
}
