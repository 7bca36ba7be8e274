import type { CellMap } from './halftoneCells.ts';

/** A stretch of cells of one row, the last not included. */
interface CellRun {
  readonly from: number;
  readonly to: number;
  /** The run of its part that was met first, or one met before it that leads there. */
  leader: number;
}

/** Cells of a connected part, in order, and how many columns and rows it reaches over. */
export interface ConnectedCells {
  readonly cells: Int32Array;
  readonly columns: number;
  readonly rows: number;
}

/** The parts of cells that hang together, at corners too. @param belongs cells that count, 1 */
export function connectCells(
  { columns, rows }: Pick<CellMap, 'columns' | 'rows'>,
  belongs: Uint8Array,
): ConnectedCells[] {
  const runs: CellRun[] = [];
  let above = 0;
  for (let row = 0; row < rows; row++) {
    const first = runs.length;
    const end = (row + 1) * columns;
    for (let from = row * columns; from < end; from++) {
      if (belongs[from] !== 1) continue;
      let to = from + 1;
      while (to < end && belongs[to] === 1) to++;
      const index = runs.length;
      runs.push({ from, to, leader: index });
      while (above < first && runs[above].to + columns < from) above++;
      for (let other = above; other < first && runs[other].from + columns <= to; other++) join(runs, other, index);
      from = to;
    }
    above = first;
  }
  return partsOf(runs, columns);
}

function leaderOf(runs: readonly CellRun[], index: number): number {
  let leader = index;
  while (runs[leader].leader !== leader) leader = runs[leader].leader;
  // The way is shorter next time.
  for (let at = index; at !== leader; ) {
    const next = runs[at].leader;
    runs[at].leader = leader;
    at = next;
  }
  return leader;
}

function join(runs: readonly CellRun[], a: number, b: number): void {
  const first = leaderOf(runs, a);
  const second = leaderOf(runs, b);
  if (first < second) runs[second].leader = first;
  else runs[first].leader = second;
}

function partsOf(runs: readonly CellRun[], columns: number): ConnectedCells[] {
  const byLeader = new Map<number, CellRun[]>();
  for (const [index, run] of runs.entries()) {
    const leader = leaderOf(runs, index);
    const own = byLeader.get(leader);
    if (own === undefined) byLeader.set(leader, [run]);
    else own.push(run);
  }
  return [...byLeader.values()].map((own) => {
    const cells = new Int32Array(own.reduce((sum, { from, to }) => sum + to - from, 0));
    let [length, left, right] = [0, columns, 0];
    for (const { from, to } of own) {
      const column = from % columns;
      left = Math.min(left, column);
      right = Math.max(right, column + to - from);
      for (let cell = from; cell < to; cell++) cells[length++] = cell;
    }
    const rowOf = (run: CellRun) => Math.floor(run.from / columns);
    return { cells, columns: right - left, rows: rowOf(own[own.length - 1]) - rowOf(own[0]) + 1 };
  });
}
