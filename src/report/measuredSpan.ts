import type { Place } from '../findings/finding.ts';
import { type BoxMm, grownBox } from '../geometry/box.ts';
import type { Crop } from './pictures.ts';

/** Where the measured span lies: its two ends in film space. */
export interface Span {
  readonly x1Mm: number;
  readonly y1Mm: number;
  readonly x2Mm: number;
  readonly y2Mm: number;
}

const directions = 16;
const samplesPerSide = 11;

/**
 * Finds in a crop the span a place was measured over, so that a dimension line can be drawn across it. The plates of
 * the crop part it into regions of like ink; at points spread over the place the shortest way across the region is
 * taken, and the one whose length is nearest to the place's value is the span. Null when none comes within two pixels
 * or a sixth of the value: then the place is marked by its box alone.
 */
export function spanOfPlace(crop: Crop, place: Place): Span | null {
  const image = crop.layers[0]?.image;
  if (!image || !(Math.abs(place.value) > 0)) return null;
  const wantedMm = Math.abs(place.value);
  const stepMm = Math.min(image.pitchXMm, image.pitchYMm) / 2;
  const ink = inkOf(crop);
  const box = sampledBox(place, wantedMm);
  let best: { span: Span; missMm: number; offMm: number } | null = null;
  for (let i = 0; i < samplesPerSide; i += 1) {
    for (let j = 0; j < samplesPerSide; j += 1) {
      const xMm = box.xMm + (box.widthMm * (i + 0.5)) / samplesPerSide;
      const yMm = box.yMm + (box.heightMm * (j + 0.5)) / samplesPerSide;
      const span = shortestAcross(ink, xMm, yMm, wantedMm, stepMm);
      if (!span) continue;
      const missMm = Math.abs(Math.hypot(span.x2Mm - span.x1Mm, span.y2Mm - span.y1Mm) - wantedMm);
      const offMm = Math.hypot(i + 0.5 - samplesPerSide / 2, j + 0.5 - samplesPerSide / 2);
      const isBetter = !best || missMm < best.missMm - stepMm || (missMm < best.missMm + stepMm && offMm < best.offMm);
      if (isBetter) best = { span, missMm, offMm };
    }
  }
  if (!best || best.missMm > Math.max(4 * stepMm, wantedMm / 6)) return null;
  return best.span;
}

/** Where to try: close around the spot the place names as its narrowest, else all of its box. */
function sampledBox(place: Place, wantedMm: number): BoxMm {
  const { focusXMm, focusYMm } = place;
  if (focusXMm === undefined || focusYMm === undefined) return grownBox(place, wantedMm / 2);
  return grownBox({ xMm: focusXMm, yMm: focusYMm, widthMm: 0, heightMm: 0 }, wantedMm);
}

/** What the plates of a crop print, pixel by pixel. */
interface Ink {
  readonly tones: readonly Uint8Array[];
  readonly widthPx: number;
  readonly heightPx: number;
  readonly pitchXMm: number;
  readonly pitchYMm: number;
  readonly leftMm: number;
  readonly topMm: number;
}

function inkOf({ layers, xMm, yMm }: Crop): Ink {
  const { widthPx, heightPx, pitchXMm, pitchYMm } = layers[0].image;
  const tones = layers.map(({ image }) => image.tones);
  return { tones, widthPx, heightPx, pitchXMm, pitchYMm, leftMm: xMm, topMm: yMm };
}

/** Which plates print at a point, one bit each; -1 outside the crop. */
function inkAt(ink: Ink, xMm: number, yMm: number): number {
  const column = Math.floor((xMm - ink.leftMm) / ink.pitchXMm);
  const row = Math.floor((yMm - ink.topMm) / ink.pitchYMm);
  if (column < 0 || row < 0 || column >= ink.widthPx || row >= ink.heightPx) return -1;
  let bits = 0;
  for (let layer = 0; layer < ink.tones.length; layer += 1) {
    if (ink.tones[layer][row * ink.widthPx + column] >= 128) bits |= 1 << layer;
  }
  return bits;
}

/**
 * The shortest way across the region at a point. Near the square the length hardly changes, so of the directions that
 * are as short as the shortest within a pixel the middle one is taken.
 */
function shortestAcross(ink: Ink, xMm: number, yMm: number, wantedMm: number, stepMm: number): Span | null {
  const here = inkAt(ink, xMm, yMm);
  if (here < 0) return null;
  const reachMm = wantedMm * 1.5 + 4 * stepMm;
  const across = (index: number, withinMm: number) => {
    const angle = (Math.PI * index) / directions;
    const [dx, dy] = [Math.cos(angle), Math.sin(angle)];
    const ahead = wayToEdge(ink, here, xMm, yMm, dx, dy, stepMm, withinMm);
    const back = ahead < 0 ? noEdge : wayToEdge(ink, here, xMm, yMm, -dx, -dy, stepMm, withinMm - ahead);
    return back < 0 ? null : { ahead, back, dx, dy };
  };
  // A way that is longer than the shortest so far by more than a pixel decides nothing.
  let withinMm = reachMm;
  const ways = Array.from({ length: directions }, (_, index) => {
    const way = across(index, withinMm);
    if (way) withinMm = Math.min(withinMm, way.ahead + way.back + 4 * stepMm);
    return way;
  });
  const lengths = ways.map((way) => (way ? way.ahead + way.back : Number.POSITIVE_INFINITY));
  const shortestMm = Math.min(...lengths);
  if (!Number.isFinite(shortestMm)) return null;
  const isShort = (index: number) => lengths[(index + directions) % directions] <= shortestMm + 2 * stepMm;
  let first = lengths.indexOf(shortestMm);
  let last = first;
  while (last - first < directions - 1 && isShort(first - 1)) first -= 1;
  while (last - first < directions - 1 && isShort(last + 1)) last += 1;
  const way = across((first + last) / 2, reachMm) ?? ways[lengths.indexOf(shortestMm)]!;
  return {
    x1Mm: xMm - way.back * way.dx,
    y1Mm: yMm - way.back * way.dy,
    x2Mm: xMm + way.ahead * way.dx,
    y2Mm: yMm + way.ahead * way.dy,
  };
}

const noEdge = -1;

/** Way from a point to where the ink changes; below 0 when it does not within reach or the crop ends first. */
function wayToEdge(
  ink: Ink,
  here: number,
  xMm: number,
  yMm: number,
  dx: number,
  dy: number,
  stepMm: number,
  reachMm: number,
): number {
  for (let wayMm = stepMm; wayMm <= reachMm; wayMm += stepMm) {
    const found = inkAt(ink, xMm + wayMm * dx, yMm + wayMm * dy);
    if (found < 0) return noEdge;
    if (found !== here) return wayMm - stepMm / 2;
  }
  return noEdge;
}
