import type { HalftoneRegion } from '../../src/measurements/halftone.ts';
import type { Plate } from '../../src/plates/plate.ts';
import { bitCount } from '../../src/raster/bitCount.ts';
import type { BitPlane } from '../../src/raster/bitPlane.ts';
import { planeOf } from './screenedPlane.ts';

/** A plate of a plane without greys. */
export function plateOfBits(bits: BitPlane, pitchXMm: number, pitchYMm = pitchXMm): Plate {
  const toneHistogram = new Float64Array(256);
  toneHistogram[255] = bitCount(bits.words);
  toneHistogram[0] = bits.widthPx * bits.heightPx - toneHistogram[255];
  const grid = { widthPx: bits.widthPx, heightPx: bits.heightPx, pitchXMm, pitchYMm };
  return { id: 'p1', inkId: 'i1', filmId: 'f1', grid, bits, tone: null, toneHistogram, verified: true };
}

export interface Patch {
  readonly left: number;
  readonly top: number;
  readonly side: number;
}

/** Square patches side by side in rows, clear film between them, all in mm. */
export function layPatches(count: number, perRow: number, side: number, gap: number): Patch[] {
  return Array.from({ length: count }, (_, k) => ({
    left: gap + (k % perRow) * (side + gap),
    top: gap + Math.floor(k / perRow) * (side + gap),
    side,
  }));
}

/** A plate of patches; what is black in each is asked at places of the film, in mm. */
export function patchedPlate(
  patches: readonly Patch[],
  dpi: number,
  black: (patch: number, xMm: number, yMm: number) => boolean,
): Plate {
  const pitchMm = 25.4 / dpi;
  const right = Math.max(...patches.map(({ left, side }) => left + side));
  const bottom = Math.max(...patches.map(({ top, side }) => top + side));
  const widthPx = Math.ceil((right + patches[0].left) / pitchMm);
  const heightPx = Math.ceil((bottom + patches[0].top) / pitchMm);
  const bits = planeOf(widthPx, heightPx, pitchMm, pitchMm, (xMm, yMm) => {
    const index = patches.findIndex(
      ({ left, top, side }) => xMm >= left && xMm < left + side && yMm >= top && yMm < top + side,
    );
    return index >= 0 && black(index, xMm, yMm);
  });
  return plateOfBits(bits, pitchMm);
}

/** The regions whose boxes hold the middle of a patch. */
export function regionsAt(regions: readonly HalftoneRegion[], { left, top, side }: Patch): HalftoneRegion[] {
  const [x, y] = [left + side / 2, top + side / 2];
  return regions.filter(
    ({ boxMm }) =>
      x >= boxMm.xMm && x <= boxMm.xMm + boxMm.widthMm && y >= boxMm.yMm && y <= boxMm.yMm + boxMm.heightMm,
  );
}

/** How far two angles lie apart where a turn of `round` degrees changes nothing. */
export function apartDeg(a: number, b: number, round: number): number {
  const apart = Math.abs(a - b) % round;
  return Math.min(apart, round - apart);
}
