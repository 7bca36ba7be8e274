import { describe, expect, it } from 'vitest';
import { pathOperators } from '../../src/report/pdf/pathOperators.ts';
import { circle, line, rectangle } from '../../src/report/shapes.ts';

describe('path data as operators', () => {
  it('are the same corners', () => {
    expect(pathOperators(line(1, 2, 3.5, -4))).toBe('1 2 m\n3.5 -4 l');
    expect(pathOperators(rectangle(1, 2, 10, 20))).toBe('1 2 m\n11 2 l\n11 22 l\n1 22 l\nh');
    expect(pathOperators('M1 1H5V7z')).toBe('1 1 m\n5 1 l\n5 7 l\nh');
    // After closing, a step that is told from where one is starts at the first corner.
    expect(pathOperators('M1 1h4v4zh-1')).toBe('1 1 m\n5 1 l\n5 5 l\nh\n0 1 l');
  });

  it('keep to the circle', () => {
    const [x, y, radius] = [20, 30, 6.2];
    const operators = pathOperators(circle(x, y, radius)).split('\n');
    const numbersOf = (operator: string) => operator.split(' ').slice(0, -1).map(Number);
    let from = numbersOf(operators[0]);
    const curves = operators.filter((operator) => operator.endsWith(' c'));
    expect(curves).toHaveLength(4);
    const reached = new Set<string>();
    for (const curve of curves) {
      const [x1, y1, x2, y2, x3, y3] = numbersOf(curve);
      for (const t of [0.25, 0.5, 0.75, 1]) {
        const at = (p: number[]) =>
          (1 - t) ** 3 * p[0] + 3 * t * (1 - t) ** 2 * p[1] + 3 * t ** 2 * (1 - t) * p[2] + t ** 3 * p[3];
        const [pointX, pointY] = [at([from[0], x1, x2, x3]), at([from[1], y1, y2, y3])];
        // A cubic keeps a quarter circle to 0.03 % of its radius.
        expect(Math.hypot(pointX - x, pointY - y) / radius).toBeCloseTo(1, 3);
        if (t === 0.5) reached.add(`${Math.sign(pointX - x)} ${Math.sign(pointY - y)}`);
      }
      from = [x3, y3];
    }
    expect(reached.size).toBe(4);
  });

  it('refuse what is not drawn', () => {
    expect(() => pathOperators('M0 0q1 1 2 2')).toThrow(RangeError);
    expect(() => pathOperators('M0 0a5 5 0 0 1 5 5')).toThrow(RangeError);
    expect(() => pathOperators('M0 0a5 3 0 0 1 10 0')).toThrow(RangeError);
  });
});
