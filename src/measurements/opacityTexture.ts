/** Dots differ from what lies between them by much of the tone; a picture seldom does so from place to place. */
const leastDeviation = 32;
/** Along a row or a column the tones turn from light to dark and back: so often at 25 lines an inch. */
const leastTurnsPerMm = 1.6;

/** The look of a part of a plate: how its tones are spread, and how often they turn from light to dark. */
export interface Texture {
  pixels: number;
  sum: number;
  sumOfSquares: number;
  turnsAcross: number;
  turnsDown: number;
  /** Rows and columns looked along, all told. */
  acrossMm: number;
  downMm: number;
}

export function emptyTexture(): Texture {
  return { pixels: 0, sum: 0, sumOfSquares: 0, turnsAcross: 0, turnsDown: 0, acrossMm: 0, downMm: 0 };
}

/** Adds another part to a texture. */
export function addTexture(to: Texture, more: Texture): void {
  to.pixels += more.pixels;
  to.sum += more.sum;
  to.sumOfSquares += more.sumOfSquares;
  to.turnsAcross += more.turnsAcross;
  to.turnsDown += more.turnsDown;
  to.acrossMm += more.acrossMm;
  to.downMm += more.downMm;
}

/** Whether a part is made of dots, or of film between them, with soft edges: a halftone rather than a grey. */
export function isScreened({ pixels, sum, sumOfSquares, turnsAcross, turnsDown, acrossMm, downMm }: Texture): boolean {
  const deviation = Math.sqrt(Math.max(0, sumOfSquares / pixels - (sum / pixels) ** 2));
  return (
    deviation >= leastDeviation && turnsAcross >= leastTurnsPerMm * acrossMm && turnsDown >= leastTurnsPerMm * downMm
  );
}

/** The texture of a rectangle within a square of tones. */
export function textureOf(
  tones: Uint8Array,
  side: number,
  left: number,
  top: number,
  columns: number,
  rows: number,
  pitchXMm: number,
  pitchYMm: number,
): Texture {
  const texture = emptyTexture();
  texture.pixels = columns * rows;
  for (let row = top; row < top + rows; row++) {
    for (let at = row * side + left; at < row * side + left + columns; at++) {
      texture.sum += tones[at];
      texture.sumOfSquares += tones[at] * tones[at];
    }
  }
  const mean = texture.sum / texture.pixels;
  const spread = Math.sqrt(Math.max(0, texture.sumOfSquares / texture.pixels - mean * mean)) / 2;
  texture.acrossMm = rows * columns * pitchXMm;
  texture.downMm = columns * rows * pitchYMm;
  // A part as even as that turns nowhere worth a look.
  if (spread < leastDeviation / 8) return texture;
  for (let row = top; row < top + rows; row++) {
    texture.turnsAcross += turnsAlong(tones, row * side + left, 1, columns, spread);
  }
  for (let column = left; column < left + columns; column++) {
    texture.turnsDown += turnsAlong(tones, top * side + column, side, rows, spread);
  }
  return texture;
}

/** How often the tones of a row or a column pass from clearly lighter than its mean to clearly darker, or back. */
function turnsAlong(tones: Uint8Array, from: number, step: number, count: number, spread: number): number {
  let sum = 0;
  for (let k = 0, at = from; k < count; k++, at += step) sum += tones[at];
  const mean = sum / count;
  let turns = 0;
  let side = 0;
  for (let k = 0, at = from; k < count; k++, at += step) {
    const now = tones[at] > mean + spread ? 1 : tones[at] < mean - spread ? -1 : 0;
    if (now === 0 || now === side) continue;
    if (side !== 0) turns++;
    side = now;
  }
  return turns;
}
