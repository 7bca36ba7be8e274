import type { ArtObject } from '../artwork/artObject.ts';
import type { Outline } from '../artwork/outline.ts';
import type { BoxMm, PointMm } from '../geometry/box.ts';
import { flattenedPath } from '../geometry/flattenedPath.ts';
import { closePath, lineTo, moveTo } from '../geometry/pathStore.ts';
import { type ExactArt, flatteningMm, type Layer, numberToleranceMm } from './exactArt.ts';
import { runAt } from './exactRun.ts';
import { black, clear } from './exactSection.ts';
import type { ExactWidth } from './exactWidth.ts';

/** A stroke or a bar too thin for the pixels to show for certain. */
export interface ThinObject extends ExactWidth {
  readonly objectId: string;
  readonly boxMm: BoxMm;
  /** Something whose outline is not known lies at it: what prints may be broader. */
  readonly isUncertain: boolean;
}

/** A bar is at least this many times as long as wide. */
const leastAspect = 3;
/** A bar has no more corners than this. */
const mostCorners = 8;
/** Along a line so many places are looked at. */
const mostProbes = 5;

/**
 * The lines of an ink (with `clear` the knocked-out ones) that are drawn thinner than `seenFromMm`, so that the pixels
 * may show nothing of them. Where something beside one makes what is seen broader, its width is that of both together,
 * and from `seenFromMm` on the pixels show it.
 */
export function thinObjects(art: ExactArt, state: typeof clear | typeof black, seenFromMm: number): ThinObject[] {
  return art.layers.flatMap((layer) => thinObject(art, layer, state, seenFromMm) ?? []);
}

function thinObject(
  art: ExactArt,
  layer: Layer,
  state: typeof clear | typeof black,
  seenFromMm: number,
): ThinObject | null {
  const { object } = layer;
  const { outline, boxMm } = object;
  const common = { objectId: object.id, boxMm };
  if (outline === undefined) {
    const widthMm = object.strokeWidthMm?.min ?? 0;
    const mayPrint = state === black && layer.become(clear) !== clear && object.inks.length > 0;
    if (!mayPrint || widthMm <= 0 || widthMm >= seenFromMm) return null;
    return { ...common, widthMm, plusMinusMm: numberToleranceMm, isUncertain: true };
  }
  if (layer.become(clear) !== state || layer.become(black) !== state) return null;
  const thin = outline.pen === null ? barOf(object, outline) : strokeOf(object, outline);
  if (thin === null || thin.widthMm >= seenFromMm) return null;
  const reachMm = 2 * seenFromMm;
  const runs = thin.probes.map(({ xMm, yMm }) => runAt(art, xMm, yMm, state, reachMm, numberToleranceMm));
  const known = runs.filter((run) => run !== null && typeof run !== 'string');
  if (known.length > 0) {
    const narrowest = known.reduce((least, run) => (run.lengthMm < least.lengthMm ? run : least));
    if (narrowest.lengthMm >= seenFromMm) return null;
    const plusMinusMm = numberToleranceMm + narrowest.toleranceMm;
    return { ...common, widthMm: narrowest.lengthMm, plusMinusMm, isUncertain: false };
  }
  // Nothing bounds it: it lies within what is as it is, or something unknown lies at every place of it.
  const isKnown = thin.probes.every(({ xMm, yMm }) =>
    art.isKnownIn({ xMm: xMm - reachMm, yMm: yMm - reachMm, widthMm: 2 * reachMm, heightMm: 2 * reachMm }),
  );
  if (isKnown || state === clear) return null;
  return { ...common, widthMm: thin.widthMm, plusMinusMm: numberToleranceMm, isUncertain: true };
}

interface Thin {
  readonly widthMm: number;
  /** Points on its middle line. */
  readonly probes: readonly PointMm[];
}

function strokeOf({ strokeWidthMm }: ArtObject, { paths, path }: Outline): Thin | null {
  if (strokeWidthMm === null || strokeWidthMm.min <= 0) return null;
  const pieces: { xMm: number; yMm: number; lengthMm: number }[] = [];
  for (const { points, closed } of flattenedPath(paths, path, flatteningMm)) {
    const count = points.length / 2;
    for (let k = 1; k < count + (closed ? 1 : 0); k++) {
      const [x0, y0] = [points[2 * k - 2], points[2 * k - 1]];
      const [x1, y1] = [points[2 * (k % count)], points[2 * (k % count) + 1]];
      pieces.push({ xMm: (x0 + x1) / 2, yMm: (y0 + y1) / 2, lengthMm: Math.hypot(x1 - x0, y1 - y0) });
    }
  }
  pieces.sort((a, b) => b.lengthMm - a.lengthMm);
  return { widthMm: strokeWidthMm.min, probes: pieces.slice(0, mostProbes) };
}

/** A filled shape of few straight edges, much longer than wide; null for any other. */
function barOf({ boxMm }: ArtObject, { paths, path }: Outline): Thin | null {
  const { verbs, coords } = paths;
  const corners = (path.coordEnd - path.coordStart) / 2;
  if (corners < 3 || corners > mostCorners + 1) return null;
  for (let v = path.verbStart; v < path.verbEnd; v++) {
    const isFirst = v === path.verbStart;
    if (isFirst ? verbs[v] !== moveTo : verbs[v] !== lineTo && verbs[v] !== closePath) return null;
  }
  let twiceMm2 = 0;
  let longest = { lengthMm: 0, dx: 0, dy: 0 };
  let [sumX, sumY] = [0, 0];
  for (let k = 0; k < corners; k++) {
    const next = (k + 1) % corners;
    const [x0, y0] = coords.subarray(path.coordStart + 2 * k, path.coordStart + 2 * k + 2);
    const [x1, y1] = coords.subarray(path.coordStart + 2 * next, path.coordStart + 2 * next + 2);
    const lengthMm = Math.hypot(x1 - x0, y1 - y0);
    const cross = (x0 - boxMm.xMm) * (y1 - boxMm.yMm) - (x1 - boxMm.xMm) * (y0 - boxMm.yMm);
    twiceMm2 += cross;
    sumX += cross * (x0 + x1 - 2 * boxMm.xMm);
    sumY += cross * (y0 + y1 - 2 * boxMm.yMm);
    if (lengthMm > longest.lengthMm) longest = { lengthMm, dx: x1 - x0, dy: y1 - y0 };
  }
  if (twiceMm2 === 0 || longest.lengthMm === 0) return null;
  const widthMm = Math.abs(twiceMm2) / 2 / longest.lengthMm;
  if (longest.lengthMm < leastAspect * widthMm) return null;
  const xMm = boxMm.xMm + sumX / (3 * twiceMm2);
  const yMm = boxMm.yMm + sumY / (3 * twiceMm2);
  const probes = [0, -0.3, 0.3, -0.15, 0.15].map((share) => ({
    xMm: xMm + share * longest.dx,
    yMm: yMm + share * longest.dy,
  }));
  return { widthMm, probes };
}
