import type { BoxMm } from '../geometry/box.ts';
import { type Rings, ringsMeeting } from '../geometry/rings.ts';
import { type ExactArt, numberToleranceMm } from './exactArt.ts';
import type { ExactRun } from './exactRun.ts';

/** A ring of no more corners, its first one given twice perhaps, has no step in its sides. */
const mostCorners = 5;

/**
 * Whether a stretch lies between the sides of one shape, or of two with bare film between them, that cannot change
 * along it: bars of four corners and strokes of one width. Nothing else has an edge near by.
 */
export function isSimple(art: ExactArt, box: BoxMm, run: ExactRun): boolean {
  let withEdges = 0;
  for (const number of art.layersIn(box)) {
    const layer = art.layers[number];
    const rings = art.ringsOf(layer);
    if (rings === null) return false;
    if (![rings.own, ...rings.clips].some((one) => hasEdgeIn(one, box))) continue;
    withEdges++;
    if (withEdges > (run.layer === null ? 2 : 1) || rings.clips.some((clip) => hasEdgeIn(clip, box))) return false;
    if (!hasPlainPen(art, number) && (rings.own.starts.length !== 2 || rings.own.starts[1] > mostCorners)) return false;
  }
  return true;
}

/** The layer is a stroke whose pen is as wide in every direction. */
export function hasPlainPen(art: ExactArt, layer: number): boolean {
  const { outline, strokeWidthMm } = art.layers[layer].object;
  return Boolean(outline?.pen && strokeWidthMm && strokeWidthMm.max - strokeWidthMm.min <= numberToleranceMm);
}

function hasEdgeIn(rings: Rings, { xMm, yMm, widthMm, heightMm }: BoxMm): boolean {
  const { points, starts } = rings;
  for (const ring of ringsMeeting(rings, { xMm, yMm, widthMm, heightMm })) {
    const last = starts[ring + 1] - 1;
    for (let from = last, to = starts[ring]; to <= last; from = to++) {
      const left = Math.min(points[2 * from], points[2 * to]);
      const right = Math.max(points[2 * from], points[2 * to]);
      const top = Math.min(points[2 * from + 1], points[2 * to + 1]);
      const bottom = Math.max(points[2 * from + 1], points[2 * to + 1]);
      if (left <= xMm + widthMm && right >= xMm && top <= yMm + heightMm && bottom >= yMm) return true;
    }
  }
  return false;
}
