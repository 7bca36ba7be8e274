import { describe, expect, it } from 'vitest';
import { measureDetail } from '../../src/measurements/measureDetail.ts';
import { disc, drawShapes, minus, plateOf, polygon, reversed, type Shape, strip } from '../support/analyticShapes.ts';
import { seededRandom } from '../support/seededRandom.ts';

const dpi = 600;
/** A millimetre is 23.6 px: nothing drawn here is narrower than this, nor comes nearer to anything. */
const leastPx = 28;
const sidePx = 520;

/** A shape that is nowhere narrow, within a circle of a radius round its middle. */
function broadShape(random: () => number, cx: number, cy: number, radius: number): Shape[] {
  const kind = Math.floor(random() * 6);
  const angle = random() * 180;
  const breadth = leastPx + random() * (1.2 * radius - leastPx);
  switch (kind) {
    case 0:
      return [disc(cx, cy, 2 * radius)];
    case 1:
      return [strip(cx, cy, 1.5 * radius, breadth, angle)];
    case 2: {
      const corners = 4 + Math.floor(random() * 5);
      return [
        polygon(
          Array.from({ length: corners }, (_, k) => {
            const turn = (2 * Math.PI * k) / corners + angle;
            return [cx + radius * Math.cos(turn), cy + radius * Math.sin(turn)] as const;
          }),
        ),
      ];
    }
    case 3:
      // A cross: its arms meet in right angles and leave no gap.
      return [strip(cx, cy, 1.6 * radius, breadth, angle), strip(cx, cy, 1.6 * radius, breadth, angle + 90)];
    case 4:
      // A hole with walls as broad as everything else.
      return radius > 1.7 * leastPx
        ? [minus(disc(cx, cy, 2 * radius), disc(cx, cy, 2 * (radius - leastPx)))]
        : [disc(cx, cy, 2 * radius)];
    default:
      return [strip(cx - 0.1 * radius, cy, 1.4 * radius, breadth, angle), disc(cx, cy, 0.9 * breadth)];
  }
}

function design(seed: number): Shape[] {
  const random = seededRandom(seed);
  const placed: { x: number; y: number; radius: number }[] = [];
  const shapes: Shape[] = [];
  for (let k = 0; k < 60; k++) {
    const radius = 24 + random() * 70;
    const x = leastPx + radius + random() * (sidePx - 2 * (leastPx + radius));
    const y = leastPx + radius + random() * (sidePx - 2 * (leastPx + radius));
    if (placed.some((other) => Math.hypot(other.x - x, other.y - y) < other.radius + radius + leastPx)) continue;
    placed.push({ x, y, radius });
    shapes.push(...broadShape(random, x, y, radius));
  }
  return shapes;
}

describe('designs without anything narrow', () => {
  it.each(Array.from({ length: 20 }, (_, k) => 10 * k))(
    'have no fine detail: seeds %i and the nine after it',
    (first) => {
      for (let seed = first; seed < first + 10; seed++) {
        const bits = drawShapes(sidePx, sidePx, design(seed));
        for (const inverted of [false, true]) {
          const plate = plateOf(inverted ? reversed(bits) : bits, dpi);
          const { lines, gaps, dots, islands } = measureDetail(plate, { searchToMm: 1, refineBelowMm: 0.6 });
          const found = [...lines, ...gaps].map(
            ({ kind, xMm, yMm, minWidthMm, lengthMm }) =>
              `${kind} ${[xMm, yMm, minWidthMm, lengthMm].map((mm) => ((mm * dpi) / 25.4).toFixed(1)).join(' ')}`,
          );
          expect([...found, ...dots, ...islands], `seed ${seed}${inverted ? ', reversed' : ''}`).toEqual([]);
        }
      }
    },
  );
});
