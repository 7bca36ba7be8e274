import type { BoxMm } from '../geometry/box.ts';
import type { Plate } from '../plates/plate.ts';
import type { BitPlane } from '../raster/bitPlane.ts';

/** Places where outlines of a plate cross straight lines over the film: one list a line. */
export interface CrossedLine {
  /** Where along the line, in mm, ascending. */
  readonly atMm: readonly number[];
  /** 1 where ink begins, -1 where it ends. */
  readonly turns: readonly number[];
  /** How the outline leans: mm along the line for each mm across it. */
  readonly leans: readonly number[];
}

/** How far apart the lines lie over films of this size, at whole multiples, so that those of all plates fall together. */
export function lineEveryMm({ grid }: Plate): number {
  return Math.max(2, Math.round(Math.min(grid.widthPx * grid.pitchXMm, grid.heightPx * grid.pitchYMm) / mostLines));
}

const mostLines = 80;
/** Ink and clear film on either side of an outline; narrower is lines, lettering and dots. */
const leastRunMm = 0.5;
/** The outline is followed so far to both sides of the line. */
const followMm = 0.25;
const steepest = 1;

/** Outlines of a plate along level lines (`down` false) or upright ones so far apart; those within the boxes are left out. */
export function crossedLines(plate: Plate, everyMm: number, down: boolean, leaveOut: readonly BoxMm[]): CrossedLine[] {
  const { bits, grid } = plate;
  const alongMm = down ? grid.pitchYMm : grid.pitchXMm;
  const acrossMm = down ? grid.pitchXMm : grid.pitchYMm;
  const acrossCount = down ? grid.widthPx : grid.heightPx;
  const lines: CrossedLine[] = [];
  const reachPx = Math.max(2, Math.round(followMm / acrossMm));
  const places: number[] = [];
  for (let k = 1; k * everyMm < acrossCount * acrossMm; k++) {
    const at = Math.floor((k * everyMm) / acrossMm);
    if (at - reachPx >= 0 && at + reachPx < acrossCount) places.push(at - reachPx, at, at + reachPx);
  }
  // A walk down the film per column would wait for memory at every row.
  const downward = down ? changesDown(bits, places) : null;
  const changesAt = (at: number) => downward?.get(at) ?? changesAlong(bits, at);
  for (let k = 1; k * everyMm < acrossCount * acrossMm; k++) {
    const at = Math.floor((k * everyMm) / acrossMm);
    const found = { atMm: [] as number[], turns: [] as number[], leans: [] as number[] };
    lines.push(found);
    if (at - reachPx < 0 || at + reachPx >= acrossCount) continue;
    const own = changesAt(at);
    let before: number[] | null = null;
    let after: number[] = [];
    for (let i = 0; i < own.length; i++) {
      const pixel = own[i];
      const since = pixel - (i === 0 ? -Infinity : own[i - 1]);
      const until = (i + 1 < own.length ? own[i + 1] : Infinity) - pixel;
      if (Math.min(since, until) * alongMm < leastRunMm) continue;
      if (before === null) {
        before = changesAt(at - reachPx);
        after = changesAt(at + reachPx);
      }
      const parity = i & 1;
      const slack = steepest * ((reachPx * acrossMm) / alongMm) + 1;
      const low = nearest(before, pixel, parity, slack);
      const high = nearest(after, pixel, parity, slack);
      if (low === null || high === null || Math.abs(low + high - 2 * pixel) > 2 + 0.2 * slack) continue;
      const placeMm = pixel * alongMm;
      const crossMm = k * everyMm;
      if (isIn(leaveOut, down ? crossMm : placeMm, down ? placeMm : crossMm)) continue;
      const lean = ((high - low) * alongMm) / (2 * reachPx * acrossMm);
      found.atMm.push(placeMm + lean * (crossMm - (at + 0.5) * acrossMm));
      found.turns.push(parity === 0 ? 1 : -1);
      found.leans.push(lean);
    }
  }
  return lines;
}

function isIn(boxes: readonly BoxMm[], xMm: number, yMm: number): boolean {
  return boxes.some(
    (box) => xMm >= box.xMm && yMm >= box.yMm && xMm <= box.xMm + box.widthMm && yMm <= box.yMm + box.heightMm,
  );
}

/** Pixels at which ink begins (even places of the list) and ends (odd ones) along a row. */
function changesAlong({ words, wordsPerRow }: BitPlane, at: number): number[] {
  const changes: number[] = [];
  let last = 0;
  for (let w = 0; w < wordsPerRow; w++) {
    const word = words[at * wordsPerRow + w];
    let turned = word ^ ((word << 1) | last);
    while (turned !== 0) {
      changes.push(32 * w + 31 - Math.clz32(turned & -turned));
      turned &= turned - 1;
    }
    last = word >>> 31;
  }
  return changes;
}

/** The same down each of some columns. */
function changesDown({ words, wordsPerRow, heightPx }: BitPlane, columns: readonly number[]): Map<number, number[]> {
  const changes = new Map(columns.map((column): [number, number[]] => [column, []]));
  const maskOf = new Map<number, number>();
  for (const column of changes.keys()) maskOf.set(column >> 5, (maskOf.get(column >> 5) ?? 0) | (1 << (column & 31)));
  const wordOf = Int32Array.from(maskOf.keys());
  const masks = Int32Array.from(maskOf.values());
  const listOf = Array.from(wordOf, (word) =>
    Array.from({ length: 32 }, (_, bit) => changes.get(32 * word + bit) ?? []),
  );
  const last = new Int32Array(wordOf.length);
  // Signed words stay whole numbers where unsigned ones become floating point.
  const signed = new Int32Array(words.buffer, words.byteOffset, words.length);
  for (let row = 0, from = 0; row < heightPx; row++, from += wordsPerRow) {
    for (let k = 0; k < wordOf.length; k++) {
      const here = signed[from + wordOf[k]] & masks[k];
      const turned = here ^ last[k];
      if (turned === 0) continue;
      last[k] = here;
      for (let rest = turned; rest !== 0; rest &= rest - 1) {
        listOf[k][31 - Math.clz32(rest & -rest)].push(row);
      }
    }
  }
  return changes;
}

/** The change of the same kind nearest to a pixel, or null when none lies within the slack. */
function nearest(changes: readonly number[], pixel: number, parity: number, slack: number): number | null {
  let low = 0;
  let high = changes.length;
  while (low < high) {
    const middle = (low + high) >> 1;
    if (changes[middle] < pixel - slack) low = middle + 1;
    else high = middle;
  }
  let best: number | null = null;
  for (let i = low; i < changes.length && changes[i] <= pixel + slack; i++) {
    if ((i & 1) !== parity) continue;
    if (best === null || Math.abs(changes[i] - pixel) < Math.abs(best - pixel)) best = changes[i];
  }
  return best;
}
