import { type ShapedMark, shapedMark } from './marksShaped.ts';
import { findStroke } from './marksStroke.ts';
import type { MarkWindow } from './marksWindow.ts';

const shortestTickMm = 2.6;
const heaviestTickMm = 0.8;
const leastSlenderness = 6;
const evenShare = 0.9;

/** A single straight stroke of even weight, upright or level, or null. Its place is the middle of it. */
export function shapeTick(window: MarkWindow): ShapedMark | null {
  const { width, height, ink, aspect, pitchMm } = window;
  const isUpright = height * aspect > width;
  const stroke = isUpright
    ? findStroke({
        ink,
        along: height,
        across: width,
        alongStride: width,
        acrossStride: 1,
        alongScale: aspect,
        acrossScale: 1,
      })
    : findStroke({
        ink,
        along: width,
        across: height,
        alongStride: 1,
        acrossStride: width,
        alongScale: 1,
        acrossScale: aspect,
      });
  if (stroke === null) return null;
  const along = isUpright ? height : width;
  const pitchXMm = pitchMm / Math.max(1, aspect);
  const lengthMm = along * (isUpright ? pitchXMm * aspect : pitchXMm);
  const weightMm = stroke.weightPx * (isUpright ? pitchXMm : pitchXMm * aspect);
  if (lengthMm < shortestTickMm || weightMm > heaviestTickMm || lengthMm < leastSlenderness * weightMm) return null;
  if (stroke.seen < evenShare * along || inkOff(window, isUpright, stroke) > 0.03) return null;
  const middle = along / 2;
  const across = stroke.offset + stroke.slope * middle;
  const about = { column: isUpright ? across : middle, row: isUpright ? middle : across, lineWeightMm: weightMm };
  return shapedMark(window, about, 'other', null, 0, 0, isUpright ? 'upright' : 'level');
}

/** Share of the ink that does not lie on the stroke. */
function inkOff(
  { width, height, ink }: MarkWindow,
  isUpright: boolean,
  stroke: { readonly offset: number; readonly slope: number; readonly weightPx: number },
): number {
  let count = 0;
  let off = 0;
  for (let r = 0; r < height; r++) {
    for (let c = 0; c < width; c++) {
      if (ink[r * width + c] === 0) continue;
      count++;
      const [a, b] = isUpright ? [r + 0.5, c + 0.5] : [c + 0.5, r + 0.5];
      if (Math.abs(b - stroke.offset - stroke.slope * a) > stroke.weightPx / 2 + 1) off++;
    }
  }
  return count === 0 ? 1 : off / count;
}
