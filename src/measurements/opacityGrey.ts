/** Tones up to this count as clear, from `opaqueFrom` on as opaque: 4 and 96 %, past what edge smoothing leaves over. */
const clearTo = 10;
const opaqueFrom = 245;
/** An edge, however soft, goes from clear to opaque over no more than this; what is broader is grey. */
const softestEdgeMm = 0.4;
/** But no more pixels of it are looked along. */
const mostEdgePx = 16;
/** A tone that changes by less a pixel is no part of an edge. */
const leastSlope = 3;
/** Along an edge the tones rise, but for so much noise. */
const noiseTones = 8;

/** Neither clear nor opaque. */
export function isBetween(tone: number): boolean {
  return tone > clearTo && tone < opaqueFrom;
}

/** So far round a pixel its surroundings have a say in what it is. */
export function edgeReachPx(pitchMm: number): number {
  return Math.max(2, Math.min(mostEdgePx, Math.ceil(softestEdgeMm / pitchMm)));
}

/**
 * Marks the pixels that are grey: neither clear nor opaque, and no part of an edge between both. An edge is told by both
 * being among the eight pixels round one, as a renderer's smoothing leaves it, or by both being met within 0.4 mm up
 * and down the slope, as a soft film or a scan has it. Answers whether there is any.
 * @param tones of a square of `side` pixels; those within `rimPx` of its sides are only looked at
 */
export function markGrey(tones: Uint8Array, grey: Uint8Array, side: number, rimPx: number, reachPx: number): boolean {
  grey.fill(0);
  let any = false;
  for (let row = rimPx; row < side - rimPx; row++) {
    for (let at = row * side + rimPx; at < (row + 1) * side - rimPx; at++) {
      const tone = tones[at];
      if (!isBetween(tone)) continue;
      const across = tones[at + 1] - tones[at - 1];
      const down = tones[at + side] - tones[at - side];
      const isEven = across * across + down * down < 4 * leastSlope * leastSlope;
      if (isSmoothed(tones, at, side) || (!isEven && isSlope(tones, at, side, across, down, reachPx))) continue;
      grey[at] = 1;
      any = true;
    }
  }
  return any;
}

/** Marks the pixels that are grey with all eight around them, leaving out those within `rimPx` of the sides. */
export function markMiddles(grey: Uint8Array, middle: Uint8Array, side: number, rimPx: number): void {
  middle.fill(0);
  for (let row = rimPx; row < side - rimPx; row++) {
    for (let at = row * side + rimPx; at < (row + 1) * side - rimPx; at++) {
      if (grey[at] === 0) continue;
      const above = at - side;
      const below = at + side;
      middle[at] =
        grey[at - 1] &
        grey[at + 1] &
        grey[above - 1] &
        grey[above] &
        grey[above + 1] &
        grey[below - 1] &
        grey[below] &
        grey[below + 1];
    }
  }
}

/** Marks what is marked and all that touches it, leaving out what lies within `rimPx` of the sides. */
export function widen(marked: Uint8Array, into: Uint8Array, side: number, rimPx: number): void {
  into.fill(0);
  for (let row = rimPx; row < side - rimPx; row++) {
    for (let at = row * side + rimPx; at < (row + 1) * side - rimPx; at++) {
      const above = at - side;
      const below = at + side;
      into[at] =
        marked[at] |
        marked[at - 1] |
        marked[at + 1] |
        marked[above - 1] |
        marked[above] |
        marked[above + 1] |
        marked[below - 1] |
        marked[below] |
        marked[below + 1];
    }
  }
}

function isSmoothed(tones: Uint8Array, at: number, side: number): boolean {
  let hasClear = false;
  let hasOpaque = false;
  for (let row = at - side; row <= at + side; row += side) {
    for (let k = row - 1; k <= row + 1; k++) {
      if (tones[k] <= clearTo) hasClear = true;
      else if (tones[k] >= opaqueFrom) hasOpaque = true;
    }
  }
  return hasClear && hasOpaque;
}

function isSlope(tones: Uint8Array, at: number, side: number, across: number, down: number, reachPx: number): boolean {
  const slope = Math.sqrt(across * across + down * down);
  const dx = across / slope;
  const dy = down / slope;
  const up = stepsUp(tones, at, side, dx, dy, reachPx);
  return up > 0 && stepsDown(tones, at, side, -dx, -dy, reachPx - up) > 0;
}

/** Steps up a slope to what is opaque; 0 when the way does not lead there. */
function stepsUp(tones: Uint8Array, at: number, side: number, dx: number, dy: number, most: number): number {
  let last = tones[at];
  for (let step = 1; step <= most; step++) {
    const tone = tones[at + Math.round(step * dy) * side + Math.round(step * dx)];
    if (tone < last - noiseTones) return 0;
    if (tone >= opaqueFrom) return step;
    last = tone;
  }
  return 0;
}

/** Steps down a slope to what is clear; 0 when the way does not lead there. */
function stepsDown(tones: Uint8Array, at: number, side: number, dx: number, dy: number, most: number): number {
  let last = tones[at];
  for (let step = 1; step <= most; step++) {
    const tone = tones[at + Math.round(step * dy) * side + Math.round(step * dx)];
    if (tone > last + noiseTones) return 0;
    if (tone <= clearTo) return step;
    last = tone;
  }
  return 0;
}
