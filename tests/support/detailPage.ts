import type { BitPlane } from '../../src/raster/bitPlane.ts';
import { bitAt, createBitPlane, setBit } from '../../src/raster/bitPlane.ts';
import { box, disc, minus, polygon, ring, type Shape, star, strip, wedge } from './analyticShapes.ts';

/** A spiral of one width, from one radius to another in so many turns. */
export function spiral(cx: number, cy: number, from: number, to: number, turns: number, width: number): Shape {
  const growth = (to - from) / turns;
  return {
    bounds: [cx - to - width, cy - to - width, cx + to + width, cy + to + width],
    holds: (x, y) => {
      const r = Math.hypot(x - cx, y - cy);
      const angle = (Math.atan2(y - cy, x - cx) / (2 * Math.PI) + 1) % 1;
      for (let turn = Math.max(0, Math.floor((r - from) / growth - angle) - 1); turn < turns; turn++) {
        const at = from + growth * (turn + angle);
        if (turn + angle > turns || at - r > width) break;
        if (Math.abs(r - at) < width / 2) return true;
      }
      return false;
    },
  };
}

/** Strokes of a letter-like shape: an upright, two arms and a bowl. */
function letter(x: number, y: number, height: number, stroke: number): Shape[] {
  return [
    box(x, y, x + stroke, y + height),
    box(x, y, x + 0.6 * height, y + 0.8 * stroke),
    box(x, y + 0.45 * height, x + 0.36 * height, y + 0.45 * height + 0.8 * stroke),
    minus(
      ring(x + height, y + 0.7 * height, 0.5 * height, stroke),
      box(x + 1.1 * height, y + 0.675 * height, x + 1.4 * height, y + 0.725 * height),
    ),
  ];
}

/** The parts of the page by what they are, each with room round it; 1200 by 1200 px at 600 dpi. */
export function detailPage(): Record<string, readonly Shape[]> {
  const fan = [3, 17, 28, 44, 58, 71, 86, 102, 119, 133, 148, 163].map((angle, k) =>
    strip(140 + 250 * (k % 4), 65 + 78 * Math.floor(k / 4), 150, 3.4 + 1.3 * k, angle % 27),
  );
  return {
    fan,
    dashes: Array.from({ length: 9 }, (_, k) => strip(90 + 44 * k, 300.4 + 7.3 * k, 26, 5.6, -9.4)),
    rings: [ring(620.3, 330.2, 90, 6.4), ring(760.8, 320.6, 60, 11.2), ring(880.4, 335.3, 36, 4.3)],
    spiral: [spiral(1040.4, 350.7, 20, 110, 2.2, 7.7)],
    hatching: Array.from({ length: 8 }, (_, k) => strip(160 + 19.3 * k, 540.2, 180, 7.1, 63)),
    letters: [...letter(420.3, 480.6, 80, 9.3), ...letter(570.8, 470.2, 110, 13.6)],
    tapers: [wedge(850, 520, 170, 20, 0, 12), wedge(990, 580, 150, 4.6, 18, 75), star(1110.4, 560.8, 5, 62, 26, 11)],
    gaps: [
      minus(box(70, 700, 420, 900), strip(240.3, 800.2, 240, 8.4, 21)),
      minus(box(440, 700, 620, 900), strip(530.6, 800.4, 120, 13.3, 104)),
      box(660, 700, 760, 900),
      box(771.4, 700, 860, 900),
      minus(disc(990, 800, 190), ring(990.3, 800.4, 110, 9.7)),
    ],
    dots: [disc(100.3, 980.2, 9), disc(150.6, 985.7, 14.4), disc(210.2, 975.3, 6.3), box(260, 970, 272, 981)],
    islands: [
      minus(minus(box(320, 940, 560, 1060), disc(380.4, 1000.6, 11)), disc(460.2, 995.1, 17.5)),
      minus(box(600, 940, 760, 1060), box(660, 980, 674, 992)),
    ],
    polygon: [
      polygon([
        [820, 960],
        [1100, 950],
        [1120, 965],
        [840, 972],
        [835, 1080],
        [820, 1080],
      ]),
    ],
    solids: [box(100, 1095, 300, 1160), disc(420, 1130, 60), strip(640, 1125, 260, 44, 6)],
  };
}

export function turned(plane: BitPlane): BitPlane {
  return mapped(plane, plane.heightPx, plane.widthPx, (column, row) => [row, plane.heightPx - 1 - column]);
}

export function mirrored(plane: BitPlane): BitPlane {
  return mapped(plane, plane.widthPx, plane.heightPx, (column, row) => [plane.widthPx - 1 - column, row]);
}

export function shifted(plane: BitPlane, right: number, down: number): BitPlane {
  return mapped(plane, plane.widthPx + right, plane.heightPx + down, (column, row) => [column - right, row - down]);
}

export function doubled(plane: BitPlane): BitPlane {
  return mapped(plane, 2 * plane.widthPx, 2 * plane.heightPx, (column, row) => [column >> 1, row >> 1]);
}

function mapped(
  plane: BitPlane,
  widthPx: number,
  heightPx: number,
  from: (column: number, row: number) => readonly [number, number],
): BitPlane {
  const result = createBitPlane(widthPx, heightPx);
  for (let row = 0; row < heightPx; row++) {
    for (let column = 0; column < widthPx; column++) {
      const [c, r] = from(column, row);
      if (bitAt(plane, c, r) === 1) setBit(result, column, row);
    }
  }
  return result;
}
