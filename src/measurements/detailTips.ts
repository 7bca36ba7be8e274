import type { NarrowPlace, SpotPlace } from './detail.ts';

/** Specks beyond a tip, and the clear bits between them, are no larger than this, in pixels. */
const speckPx = 3;
const crackPx = 12;
/** How far beyond a tip such specks are sought at most, in pixels. */
const farthestPx = 60;

/**
 * Drops what only comes of a point drawn in pixels: where a taper gets thinner than a pixel it breaks up into specks,
 * with cracks between them.
 * @param places what to look through: spots, or stretches of black or clear
 * @param stretches where the tapers are
 * @param specks spots of the tapers' own kind, to know by which clear bits lie between a tip and its specks
 */
export function withoutTipSpecks<Place extends NarrowPlace | SpotPlace>(
  places: readonly Place[],
  stretches: readonly NarrowPlace[],
  pitchMm: number,
  specks: readonly SpotPlace[] = [],
): Place[] {
  const cellMm = farthestPx * pitchMm;
  const tips = new Map<string, NarrowPlace[]>();
  for (const stretch of stretches) {
    if (stretch.kind !== 'taper') continue;
    const key = `${Math.floor(stretch.xMm / cellMm)},${Math.floor(stretch.yMm / cellMm)}`;
    const list = tips.get(key);
    if (list === undefined) tips.set(key, [stretch]);
    else list.push(stretch);
  }
  if (tips.size === 0) return [...places];
  const small = specks.filter(({ equivalentDiameterMm }) => equivalentDiameterMm <= speckPx * pitchMm);
  return places.filter((place) => !isBeyondTip(place) || !(isSmall(place, pitchMm) || isCrack(place, small, pitchMm)));

  function isBeyondTip({ boxMm }: Place): boolean {
    const xMm = boxMm.xMm + boxMm.widthMm / 2;
    const yMm = boxMm.yMm + boxMm.heightMm / 2;
    const column = Math.floor(xMm / cellMm);
    const row = Math.floor(yMm / cellMm);
    for (let r = row - 1; r <= row + 1; r++) {
      for (let c = column - 1; c <= column + 1; c++) {
        for (const tip of tips.get(`${c},${r}`) ?? []) {
          if (Math.hypot(tip.xMm - xMm, tip.yMm - yMm) <= reachMm(tip, pitchMm)) return true;
        }
      }
    }
    return false;
  }
}

function isSmall(place: NarrowPlace | SpotPlace, pitchMm: number): boolean {
  if ('kind' in place) return place.kind === 'line' && place.lengthMm <= crackPx * pitchMm;
  return place.equivalentDiameterMm <= speckPx * pitchMm;
}

/** A clear bit hard by a speck, however long the way between them is taken to be. */
function isCrack(place: NarrowPlace | SpotPlace, specks: readonly SpotPlace[], pitchMm: number): boolean {
  const { xMm, yMm, widthMm, heightMm } = place.boxMm;
  if (!('kind' in place) || place.kind !== 'line') return false;
  if (Math.max(widthMm, heightMm) > 2 * crackPx * pitchMm || place.minWidthMm > crackPx * pitchMm) return false;
  return specks.some(
    ({ boxMm }) =>
      boxMm.xMm <= xMm + widthMm + pitchMm &&
      boxMm.xMm + boxMm.widthMm >= xMm - pitchMm &&
      boxMm.yMm <= yMm + heightMm + pitchMm &&
      boxMm.yMm + boxMm.heightMm >= yMm - pitchMm,
  );
}

/** A point that grows by s a pixel is thinner than two pixels over 2 / s of them. */
function reachMm(tip: NarrowPlace, pitchMm: number): number {
  const growth = Math.max(0.01, (2 * (tip.medianWidthMm - tip.minWidthMm)) / tip.lengthMm);
  return Math.min(farthestPx, 2 / growth + 4) * pitchMm;
}
