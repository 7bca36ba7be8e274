import { findRing, type Ring } from './marksRing.ts';
import { isSeen, type MarkWindow } from './marksWindow.ts';

/** A disc with a cross cut through it: by white lines of even width, or between four quadrants in turn black and white. */
export interface CrossedDisc {
  readonly ring: Ring;
  /** Width of the white lines, pixels; 0 between quadrants. */
  readonly whitePx: number;
}

const unequalSides = 0.1;
/** A star of wedges shows its outline in less than half of the directions. */
const fewestSeen = 0.33;
const axisMarginDeg = 7;
const shares = [0.45, 0.6, 0.75, 0.88];
/** Widest white line, as a share of the disc's radius. */
const widestWhite = 0.22;
/** Wedges of a star grow with the distance from its middle, the spokes of a wheel do not. */
const leastGrowth = 1.3;

/** The runs of ink and clear film around a circle: where each begins, and whether it is ink; angles in radians. */
interface Around {
  readonly radius: number;
  readonly starts: readonly number[];
  readonly inks: readonly number[];
  /** Whether a run begins only where looking did: at the start, or where the circle comes back onto the film. */
  readonly isFresh: readonly boolean[];
  /** How many of the four axes the circle crosses on the film. */
  readonly axesSeen: number;
}

/** The disc that a window holds if it is crossed on both axes, or null. */
export function findCrossedDisc(window: MarkWindow): CrossedDisc | null {
  const sizeX = window.width;
  const sizeY = window.height * window.aspect;
  if (Math.abs(sizeX - sizeY) > unequalSides * Math.max(sizeX, sizeY)) return null;
  if (!looksCrossed(window)) return null;
  const ring = findRing(window, window.width / 2, window.height / 2, 2, fewestSeen, axisMarginDeg);
  if (ring === null || ring.radiusPx < 0.45 * Math.min(sizeX, sizeY)) return null;
  if (ring.scatterPx > 0.6 + 0.002 * ring.radiusPx) return null;
  const circles = shares.map((share) => lookAround(window, ring, share * ring.radiusPx));
  if (circles.every((around) => isInQuadrants(around, ring))) return { ring, whitePx: 0 };
  const whitePx = whiteCrossOf(circles, ring);
  return whitePx === null ? null : { ring, whitePx };
}

/** Whether a disc is black and clear in turn between its two arms, which show beyond it. */
export function isQuartered(window: MarkWindow, ring: Ring, armPx: number): boolean {
  return shares.every((share) => isInQuadrants(lookAround(window, ring, share * ring.radiusPx), ring, armPx));
}

/** A quick look about the middle of the box, before a circle is fitted. */
function looksCrossed(window: MarkWindow): boolean {
  const { width, height, aspect } = window;
  const rough: Ring = {
    column: width / 2,
    row: height / 2,
    radiusPx: Math.max(width, height * aspect) / 2,
    scatterPx: 0,
    seenShare: 1,
  };
  const circles: Around[] = [];
  for (const share of shares) {
    const around = lookAround(window, rough, share * rough.radiusPx);
    // From the cross alone: four lines or four edges, and no more runs than a fine star has.
    if (around.starts.length < 4 || around.starts.length > mostRuns) return false;
    circles.push(around);
  }
  return circles.every((around) => isInQuadrants(around, rough)) || whiteCrossOf(circles, rough) !== null;
}

const mostRuns = 80;
/** The film's edge may cut one axis away. */
const fewestAxes = 3;

function lookAround(window: MarkWindow, ring: Ring, radius: number): Around {
  const count = Math.max(360, Math.ceil(6 * Math.PI * radius));
  const starts: number[] = [];
  const inks: number[] = [];
  const isFresh: boolean[] = [];
  let before = -1;
  // From between two axes on, so that no run on an axis is cut in two.
  for (let i = 0; i < count; i++) {
    const angle = ((i + 0.5) * 2 * Math.PI) / count - Math.PI / 4;
    const c = Math.floor(ring.column + radius * Math.cos(angle));
    const r = Math.floor(ring.row + (radius * Math.sin(angle)) / window.aspect);
    if (!isSeen(window, c, r)) {
      before = -1;
      continue;
    }
    const here = window.ink[r * window.width + c];
    if (here !== before) {
      starts.push(angle);
      inks.push(here);
      isFresh.push(before < 0);
    }
    before = here;
  }
  let axesSeen = 0;
  for (let axis = 0; axis < 4; axis++) {
    const x = ring.column + radius * Math.cos((axis * Math.PI) / 2);
    const y = ring.row + (radius * Math.sin((axis * Math.PI) / 2)) / window.aspect;
    if (isSeen(window, Math.floor(x), Math.floor(y))) axesSeen++;
  }
  return { radius, starts, inks, isFresh, axesSeen };
}

/** How far a line through the centre may stray from its axis at this distance, for turn and offset. */
function straySideways(radius: number, ring: Ring): number {
  return 0.05 * radius + 0.02 * ring.radiusPx + 1.5;
}

function isInQuadrants({ radius, starts, isFresh, axesSeen }: Around, ring: Ring, armPx = 0): boolean {
  const turns = starts.filter((_, i) => !isFresh[i]);
  if (axesSeen < fewestAxes || turns.length !== axesSeen) return false;
  return turns.every((angle) => offAxis(angle) * radius <= straySideways(radius, ring) + armPx / 2);
}

/** Width of the white lines if all four axes have one, the same at every distance; null otherwise. */
function whiteCrossOf(circles: readonly Around[], ring: Ring): number | null {
  const widths: number[] = [];
  const others: number[] = [];
  for (const around of circles) {
    const { radius, starts, inks, isFresh, axesSeen } = around;
    const ends = starts.map((_, i) => (i + 1 < starts.length ? starts[i + 1] : (7 * Math.PI) / 4));
    let found = 0;
    let narrowest = Infinity;
    starts.forEach((from, i) => {
      const isWhole = !isFresh[i] && i + 1 < starts.length && !isFresh[i + 1];
      const middle = (from + ends[i]) / 2;
      const off = offAxis(middle) * radius;
      const width = (ends[i] - from) * radius;
      if (isWhole && inks[i] === 0 && off <= straySideways(radius, ring) && width <= widestWhite * ring.radiusPx + 2) {
        found++;
        widths.push(width);
      } else if (isWhole && !isBesideAxis(from, ends[i])) narrowest = Math.min(narrowest, width);
    });
    if (axesSeen < fewestAxes || found !== axesSeen) return null;
    others.push(narrowest);
  }
  const sorted = [...widths].sort((a, b) => a - b);
  const middle = sorted[sorted.length >> 1];
  const slack = Math.max(2, 0.35 * middle);
  if (sorted[0] < middle - slack || sorted[sorted.length - 1] > middle + slack) return null;
  const [inner, outer] = [others[0], others[others.length - 1]];
  if (Number.isFinite(inner) !== Number.isFinite(outer)) return null;
  if (Number.isFinite(inner) && outer < leastGrowth * inner) return null;
  return middle;
}

/** Runs next to an axis lose to the white line what they gain from growing. */
function isBesideAxis(from: number, to: number): boolean {
  return Math.min(offAxis(from), offAxis(to)) < (12 * Math.PI) / 180;
}

/** How far a direction is from the nearest axis, in radians. */
function offAxis(angle: number): number {
  return Math.abs(angle - (Math.round(angle / (Math.PI / 2)) * Math.PI) / 2);
}
