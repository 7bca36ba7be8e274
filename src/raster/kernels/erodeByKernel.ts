import type { BitPlane } from '../bitPlane.ts';
import type { Disc } from '../disc.ts';
import { planRuns } from '../discRuns.ts';
import { bandRows, type Kernels, Layout } from './kernelModule.ts';

/** `erodePlain`, 128 pixels a step, into words that are there. */
export function erodeByKernel(
  kernels: Kernels,
  plane: BitPlane,
  disc: Disc,
  outsideBit: boolean,
  invertIn: boolean,
  invertOut: boolean,
  into: Uint32Array,
): BitPlane {
  const { widthPx, heightPx, wordsPerRow } = plane;
  const { steps, runOfRow, runCount } = planRuns(disc);
  const discRows = runOfRow.length;
  const reach = Math.max(1, ...disc.left.map((column) => -column), ...disc.right);
  const layout = new Layout(kernels);
  const stepsAt = layout.take(12 * steps.length);
  const runsAt = layout.take(4 * discRows);
  const scratch = layout.take(kernels.erosionScratchBytes(widthPx, reach, discRows, runCount));
  const source = layout.take(4 * bandRows * wordsPerRow);
  const target = layout.take(4 * bandRows * wordsPerRow);
  const memory = new Int32Array(kernels.memory.buffer);
  memory.set(
    steps.flatMap(({ left, right, run }) => [left, right, run]),
    stepsAt >> 2,
  );
  memory.set(runOfRow, runsAt >> 2);
  kernels.beginErosion(
    wordsPerRow,
    widthPx,
    heightPx,
    invertIn ? 1 : 0,
    outsideBit ? 1 : 0,
    invertOut ? 1 : 0,
    disc.topRow,
    discRows,
    stepsAt,
    steps.length,
    runsAt,
    runCount,
    reach,
    scratch,
  );
  const words = into.subarray(0, plane.words.length);
  const end = heightPx + disc.topRow + discRows - 1;
  let done = 0;
  for (let from = disc.topRow; from < end; from += bandRows) {
    const to = Math.min(end, from + bandRows);
    const first = Math.max(0, from);
    const rows = plane.words.subarray(first * wordsPerRow, Math.min(heightPx, Math.max(0, to)) * wordsPerRow);
    memory.set(rows, (source >> 2) + (first - from) * wordsPerRow);
    const count = kernels.erodeRows(from, to, source, target);
    const answer = new Uint32Array(kernels.memory.buffer, target, count * wordsPerRow);
    words.set(answer, done * wordsPerRow);
    done += count;
  }
  return { widthPx, heightPx, wordsPerRow, words };
}
