/** What lies between the two passes; for functions that run to their end without a pause. */
let between = new Float32Array(0);
/** As much as the most cells of a map take is kept for the next call. */
const mostKept = 4_000_000;

/**
 * Sum of a square of values to `reach` each way around each; beyond the edges lies nothing.
 * @param isKept values that count, 1; the others are taken as 0
 * @param into may be `values` themselves
 */
export function boxSums(
  values: Float32Array,
  columns: number,
  rows: number,
  reach: number,
  into: Float32Array,
  isKept: Uint8Array | null = null,
): Float32Array {
  const { length } = values;
  const across = between.length >= length ? between : new Float32Array(length);
  if (length <= mostKept) between = across;
  for (let row = 0; row < rows; row++) sumAlong(values, row * columns, columns, reach, across, isKept);
  const sums = new Float64Array(columns);
  for (let row = -reach; row < rows; row++) {
    const entering = (row + reach) * columns;
    const leaving = (row - reach - 1) * columns;
    if (row + reach < rows) for (let column = 0; column < columns; column++) sums[column] += across[entering + column];
    if (leaving >= 0) for (let column = 0; column < columns; column++) sums[column] -= across[leaving + column];
    if (row >= 0) into.set(sums, row * columns);
  }
  return into;
}

function sumAlong(
  values: Float32Array,
  from: number,
  columns: number,
  reach: number,
  across: Float32Array,
  isKept: Uint8Array | null,
): void {
  const end = from + columns;
  let sum = 0;
  for (let at = from - reach; at < end; at++) {
    const entering = at + reach;
    if (entering < end && (isKept === null || isKept[entering] === 1)) sum += values[entering];
    const leaving = at - reach - 1;
    if (leaving >= from && (isKept === null || isKept[leaving] === 1)) sum -= values[leaving];
    if (at >= from) across[at] = sum;
  }
}

/** How many of each cell and its eight neighbours are 1; beyond the edges lies nothing. */
export function countAround(flags: Uint8Array, columns: number, rows: number): Uint8Array {
  const counts = new Uint8Array(flags.length);
  const last = columns - 1;
  for (let row = 0; row < rows; row++) {
    for (let other = Math.max(0, row - 1); other <= Math.min(rows - 1, row + 1); other++) {
      const from = other * columns;
      const to = row * columns;
      counts[to] += flags[from] + (last > 0 ? flags[from + 1] : 0);
      for (let k = 1; k < last; k++) counts[to + k] += flags[from + k - 1] + flags[from + k] + flags[from + k + 1];
      if (last > 0) counts[to + last] += flags[from + last - 1] + flags[from + last];
    }
  }
  return counts;
}
