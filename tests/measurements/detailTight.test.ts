import { describe, expect, it } from 'vitest';
import { measureDetail } from '../../src/measurements/measureDetail.ts';
import { widthsAt } from '../../src/measurements/widthsAt.ts';
import { pitchMmFromDpi } from '../../src/units/lengths.ts';
import { drawShapes, plateOf, reversed } from '../support/analyticShapes.ts';
import { type BentStroke, bentStroke, type StrokePiece } from '../support/bentStrokes.ts';
import { seededRandom } from '../support/seededRandom.ts';

/**
 * Strokes that bend tightly or soon end, each section square to the middle line as long as the stroke is wide: what is
 * measured of them has to lie within its error bar of that, however little edge there is to measure it by.
 */
const dpi = 600;
const pitchMm = pitchMmFromDpi(dpi);
const sidePx = 420;
const searchMm = 1;
const strokesAKind = 40;
const placesAStroke = 6;

type Random = () => number;

const widthOf = (random: Random) => 3 + 17 * random() ** 1.3;
/** Every other one or so along the pixels or their diagonal, where edges tell least. */
const angleOf = (random: Random) => (random() < 0.4 ? 45 * Math.floor(8 * random()) : 360 * random());
const eitherHand = (random: Random) => (random() < 0.5 ? 1 : -1);
const straight = (lengthPx: number): StrokePiece => ({ lengthPx, turnDeg: 0 });
const corner = (turnDeg: number): StrokePiece => ({ lengthPx: 0, turnDeg });
const arc = (radiusPx: number, turnDeg: number): StrokePiece => ({
  lengthPx: (radiusPx * Math.abs(turnDeg) * Math.PI) / 180,
  turnDeg,
});

function laid(random: Random, pieces: readonly StrokePiece[], widthPx: number, endWidthPx = widthPx): BentStroke {
  return bentStroke(200 + random(), 200 + random(), angleOf(random), pieces, widthPx, endWidthPx);
}

const kinds: Record<string, (random: Random) => BentStroke> = {
  'short straight strokes': (random) => {
    const width = widthOf(random);
    return laid(random, [straight(width * (2.3 + 4 * random()) + 6)], width);
  },
  'arcs hardly wider than the stroke': (random) => {
    const width = widthOf(random);
    const turnDeg = eitherHand(random) * (90 + 200 * random());
    return laid(random, [arc(width * (0.6 + 2.5 * random()) + 1, turnDeg)], width);
  },
  hooks: (random) => {
    const width = widthOf(random);
    const turnDeg = eitherHand(random) * (60 + 140 * random());
    const radius = width * (0.55 + 1.2 * random()) + 0.5;
    return laid(
      random,
      [straight(width * (1 + 5 * random())), arc(radius, turnDeg), straight(1.5 * width * random())],
      width,
    );
  },
  'bends by 45° near an end': (random) => {
    const width = widthOf(random);
    const legs = [straight(width * (1 + 5 * random())), straight(width * (1 + 2.5 * random()))];
    return laid(random, [legs[0], corner(45 * eitherHand(random)), legs[1]], width);
  },
  'bends by 20° to 100° near an end': (random) => {
    const width = widthOf(random);
    const legs = [straight(width * (1 + 5 * random())), straight(width * (1 + 2.5 * random()))];
    return laid(random, [legs[0], corner((20 + 80 * random()) * eitherHand(random)), legs[1]], width);
  },
  'open rings': (random) => {
    const width = widthOf(random);
    const radius = width + 10 + 70 * random();
    return bentStroke(200 + random(), 200 - radius + random(), 0, [arc(radius, 350)], width);
  },
  'spirals with an inner end': (random) => {
    const width = 0.8 * widthOf(random);
    const hand = eitherHand(random);
    const inner = width * (0.6 + 0.8 * random());
    const growth = width * (0.45 + 0.6 * random());
    const quarters = 5 + Math.floor(4 * random());
    const pieces = Array.from({ length: quarters }, (_, k) => arc(inner + (growth * k) / 1.2, 90 * hand));
    return laid(random, pieces, width);
  },
  'strokes that narrow towards an end': (random) => {
    const width = widthOf(random);
    const length = width * (3 + 4 * random());
    const turnDeg = random() < 0.5 ? 0 : 60 * (random() - 0.5);
    const end = Math.max(2, width - length * (0.05 + 0.12 * random()));
    return laid(random, [{ lengthPx: length, turnDeg }], width, end);
  },
};

/** The least and the largest width that a stroke has round the place of its middle line nearest to a point. */
function trueWidths(stroke: BentStroke, x: number, y: number, nearEnds: boolean): readonly [number, number] {
  const along = stroke.nearest(x, y);
  const { widthPx } = stroke.at(along);
  // Hard by an end no larger disc fits than one that touches it.
  const toEnd = Math.min(along, stroke.lengthPx - along);
  let most = widthPx;
  for (const { along: at, turn } of stroke.bends) {
    // From the corner inside a bend to the round outside.
    if (Math.abs(along - at) < 0.75 * widthPx) most = Math.max(most, (widthPx * (1 + 1 / Math.cos(turn / 2))) / 2);
  }
  return [nearEnds ? Math.min(widthPx, 2 * toEnd) : widthPx, most];
}

interface Found {
  readonly what: string;
  readonly missPx: number;
  readonly plusMinusPx: number;
}

function found(
  what: string,
  width: { xMm: number; yMm: number; plusMinusMm: number },
  widthMm: number,
  [least, most]: readonly [number, number],
): Found {
  const widthPx = widthMm / pitchMm;
  const missPx = Math.max(least - widthPx, widthPx - most, 0);
  const plusMinusPx = width.plusMinusMm / pitchMm;
  const at = `${(width.xMm / pitchMm).toFixed(1)}, ${(width.yMm / pitchMm).toFixed(1)}`;
  const said = `${widthPx.toFixed(2)} ± ${plusMinusPx.toFixed(2)} px for ${least.toFixed(2)} … ${most.toFixed(2)}`;
  return { what: `${what} at ${at}: ${said}`, missPx, plusMinusPx };
}

function measureKind(make: (random: Random) => BentStroke, seed: number): { lines: Found[]; places: Found[] } {
  const random = seededRandom(seed);
  const lines: Found[] = [];
  const places: Found[] = [];
  for (let k = 0; k < strokesAKind; k++) {
    const stroke = make(random);
    const bits = drawShapes(sidePx, sidePx, [stroke]);
    for (const inverted of [false, true]) {
      const plate = plateOf(inverted ? reversed(bits) : bits, dpi);
      const what = `${inverted ? 'clear' : 'black'} stroke ${k}`;
      const detail = measureDetail(plate, { searchToMm: searchMm, refineBelowMm: 0.9 });
      for (const line of inverted ? detail.gaps : detail.lines) {
        if (line.kind !== 'line') continue;
        const [x, y] = [line.xMm / pitchMm, line.yMm / pitchMm];
        const middle = stroke.at(stroke.nearest(x, y));
        // Across the opening of a bend there may be a gap too.
        if (Math.hypot(middle.x - x, middle.y - y) > middle.widthPx) continue;
        lines.push(found(what, line, line.minWidthMm, trueWidths(stroke, x, y, false)));
      }
      for (let j = 0; j < placesAStroke; j++) {
        const share = j < 2 ? 0.15 * random() : j < 4 ? 1 - 0.15 * random() : random();
        const { x, y } = stroke.at(share * stroke.lengthPx);
        const at = widthsAt(plate, { xMm: x * pitchMm, yMm: y * pitchMm }, searchMm);
        const width = inverted ? at.clear : at.black;
        expect(width, `${what} at ${x}, ${y}`).not.toBeNull();
        const truth = trueWidths(stroke, width!.xMm / pitchMm, width!.yMm / pitchMm, true);
        places.push(found(what, width!, width!.widthMm, truth));
      }
    }
  }
  return { lines, places };
}

const outside = (all: readonly Found[]) =>
  all.filter(({ missPx, plusMinusPx }) => missPx > plusMinusPx).map(({ what }) => what);
const rms = (all: readonly Found[]) => Math.sqrt(all.reduce((sum, { missPx }) => sum + missPx ** 2, 0) / all.length);
const meanBar = (all: readonly Found[]) => all.reduce((sum, { plusMinusPx }) => sum + plusMinusPx, 0) / all.length;

describe('widths near ends and on tight bends', () => {
  it.each(Object.entries(kinds))('of %s lie within their error bars', (_, make) => {
    const { lines, places } = measureKind(make, 19);
    expect(lines.length).toBeGreaterThan(1.5 * strokesAKind);
    expect(outside(lines), 'narrowest spots').toEqual([]);
    expect(outside(places), 'widths at places').toEqual([]);
    expect(rms(lines)).toBeLessThan(0.35);
    expect(rms(places)).toBeLessThan(0.35);
    // A bar that holds anything says nothing.
    expect(meanBar(lines)).toBeLessThan(1.2);
    expect(meanBar(places)).toBeLessThan(1.25);
  });
});
