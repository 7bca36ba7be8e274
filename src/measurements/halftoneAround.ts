/** How many of each cell and its eight neighbours are 1; beyond the edges lies nothing. */
export function countAround(flags: Uint8Array, columns: number, rows: number): Uint8Array {
  const counts = new Uint8Array(flags.length);
  const sums = new Uint8Array(columns + 2);
  for (let row = 0; row < rows; row++) {
    const from = row * columns;
    for (let k = 0; k < columns; k++) sums[k + 1] = flags[from + k];
    if (row > 0) for (let k = 0; k < columns; k++) sums[k + 1] += flags[from - columns + k];
    if (row + 1 < rows) for (let k = 0; k < columns; k++) sums[k + 1] += flags[from + columns + k];
    for (let k = 0; k < columns; k++) counts[from + k] = sums[k] + sums[k + 1] + sums[k + 2];
  }
  return counts;
}
