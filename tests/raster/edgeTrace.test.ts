import { describe, expect, it } from 'vitest';
import { EdgeFinder } from '../../src/raster/edgeDistance.ts';
import { EdgeTrace } from '../../src/raster/edgeTrace.ts';
import { box, disc, drawShapes, reversed } from '../support/analyticShapes.ts';

const trace = new EdgeTrace();

describe('following an edge', () => {
  it('keeps a circle between the pixels on both sides of it, black or clear, at any pitch of the rows', () => {
    const [x, y] = [60.5, 58.5];
    for (const rowPitch of [1, 2, 0.5]) {
      const circle = disc(60.2, 58.7 * rowPitch, 44);
      const squeezed = {
        bounds: [0, 0, 120, 120] as const,
        holds: (u: number, v: number) => circle.holds(u, v * rowPitch),
      };
      const bits = drawShapes(120, 120, [squeezed]);
      for (const inverted of [false, true]) {
        const finder = new EdgeFinder(inverted ? reversed(bits) : bits, inverted, rowPitch);
        for (let angle = 0; angle < 2 * Math.PI; angle += 0.3) {
          expect(trace.follow(finder, x, y, Math.cos(angle), Math.sin(angle), rowPitch, 40)).toBe(true);
          expect(trace.last - trace.first).toBeGreaterThan(12);
          const { xs, ys, outXs, outYs } = trace;
          for (let at = trace.first; at <= trace.last; at++) {
            const [px, py] = [x + xs[at], y * rowPitch + ys[at]];
            expect(circle.holds(px - outXs[at] / 2, py - outYs[at] / 2), 'on the disc').toBe(true);
            expect(circle.holds(px + outXs[at] / 2, py + outYs[at] / 2), 'off the disc').toBe(false);
            if (at === trace.first) continue;
            const step = Math.hypot(xs[at] - xs[at - 1], (ys[at] - ys[at - 1]) / rowPitch);
            expect(step, 'from one side to the next').toBeLessThanOrEqual(1);
          }
        }
      }
    }
  });

  it('ends where the edge turns off at a corner', () => {
    const finder = new EdgeFinder(drawShapes(80, 60, [box(10, 20, 40, 32)]), false);
    expect(trace.follow(finder, 33.5, 26.5, 0, -1, 1, 20)).toBe(true);
    const { xs, ys, first, last } = trace;
    for (let at = first; at <= last; at++) {
      expect(ys[at]).toBe(-6.5);
      expect(xs[at]).toBeLessThan(6.5);
    }
    expect(Math.max(...xs.slice(first, last + 1))).toBeGreaterThan(1);
    expect(Math.min(...xs.slice(first, last + 1))).toBe(-18);
  });

  it('finds none further off than the limit, nor from beside the shape', () => {
    const finder = new EdgeFinder(drawShapes(80, 60, [box(10, 20, 40, 32)]), false);
    expect(trace.follow(finder, 25.5, 26.5, 1, 0, 1, 10)).toBe(false);
    expect(trace.follow(finder, 5.5, 26.5, 1, 0, 1, 30)).toBe(false);
  });
});
