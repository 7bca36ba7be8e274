import type { Disc } from './disc.ts';

export interface RunStep {
  /** Shifts, in pixels, that widen the last run to the next one: to the left and to the right. */
  readonly left: number;
  readonly right: number;
  /** Number of the run this step completes, or -1 for a step on the way. */
  readonly run: number;
}

/** The different runs of a disc, narrowest first, and the shifts that make each out of the one before. */
export function planRuns(disc: Disc): { steps: RunStep[]; runOfRow: Int32Array; runCount: number } {
  const rows = Array.from(disc.left, (left, index) => ({ left: -left, right: disc.right[index] }));
  const different = [...new Map(rows.map((run) => [`${run.left},${run.right}`, run])).values()];
  different.sort((a, b) => a.left + a.right - (b.left + b.right));
  const steps: RunStep[] = [];
  let left = 0;
  let right = 0;
  different.forEach((run, index) => {
    if (run.left < left || run.right < right) throw new RangeError('disc: expected runs that lie one in the other');
    // A run can grow by no more than its own length at each end, else the union has holes.
    while (true) {
      const most = Math.min(31, left + right + 1);
      const stepLeft = Math.min(most, run.left - left);
      const stepRight = Math.min(most, run.right - right);
      left += stepLeft;
      right += stepRight;
      const done = left === run.left && right === run.right;
      steps.push({ left: stepLeft, right: stepRight, run: done ? index : -1 });
      if (done) break;
    }
  });
  const runOfRow = Int32Array.from(rows, (row) =>
    different.findIndex((run) => run.left === row.left && run.right === row.right),
  );
  return { steps, runOfRow, runCount: different.length };
}
